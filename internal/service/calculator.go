package service

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"bayword/internal/calc/climate"
	"bayword/internal/calc/gearing"
	"bayword/internal/calc/wiring"
	"bayword/internal/calc/wrench"
	"bayword/internal/shop"
	"bayword/internal/unit"
	pb "bayword/proto/bayword/v1"
)

// AdjustWrench says what to set behind an extension.
func (s *Service) AdjustWrench(_ context.Context, req *pb.AdjustWrenchRequest) (*pb.AdjustWrenchResponse, error) {
	err := needs(needed{"torque_nm", req.TorqueNm != nil}, needed{"wrench_mm", req.WrenchMm != nil}, needed{"extension_mm", req.ExtensionMm != nil})
	if err != nil {
		return nil, s.failure(err)
	}
	in := wrench.Input{TorqueNM: *req.TorqueNm, WrenchMM: *req.WrenchMm, ExtensionMM: *req.ExtensionMm, AngleDeg: req.GetAngleDeg()}
	r, err := wrench.Adjust(in)
	if err != nil {
		return nil, s.failure(inputRefusal(err))
	}
	basis := &pb.Basis{
		Inputs: []string{
			"torque at the fastener " + unit.Format(in.TorqueNM, unit.NM), "wrench " + unit.Format(in.WrenchMM, unit.MM),
			"extension " + unit.Format(in.ExtensionMM, unit.MM), "angle " + trimmed(in.AngleDeg) + "°",
		},
		Steps: []string{
			fmt.Sprintf("the arm grows by %s × cos %s°: the wrench shows %.3g of what the fastener gets", unit.Format(in.ExtensionMM, unit.MM), trimmed(in.AngleDeg), r.Factor),
			"set " + unit.Format(r.SettingNM, unit.NM),
		},
		Assumptions: r.Assumptions, Sources: []string{r.Source}, Caution: r.Caution,
	}
	if req.AngleDeg == nil {
		basis.Assumptions = append([]string{"no angle was said: straight ahead"}, basis.Assumptions...)
	}
	return &pb.AdjustWrenchResponse{SettingNm: r.SettingNM, TorqueLowNm: r.LowNM, TorqueHighNm: r.HighNM, Basis: basis}, nil
}

var verdicts = map[climate.Verdict]pb.ClimateVerdict{
	climate.OK:   pb.ClimateVerdict_CLIMATE_VERDICT_OK,
	climate.Wait: pb.ClimateVerdict_CLIMATE_VERDICT_WAIT,
	climate.No:   pb.ClimateVerdict_CLIMATE_VERDICT_NO,
}

// CheckClimate says whether to paint.
func (s *Service) CheckClimate(_ context.Context, req *pb.CheckClimateRequest) (*pb.CheckClimateResponse, error) {
	if err := needs(needed{"air_c", req.AirC != nil}, needed{"humidity_pct", req.HumidityPct != nil}); err != nil {
		return nil, s.failure(err)
	}
	r, err := climate.Check(climate.Input{AirC: *req.AirC, HumidityPct: *req.HumidityPct, SurfaceC: req.SurfaceC})
	if err != nil {
		return nil, s.failure(inputRefusal(err))
	}
	basis := &pb.Basis{
		Inputs: []string{"air " + unit.Format(*req.AirC, unit.Celsius), "relative humidity " + unit.Number(*req.HumidityPct) + " %"},
		Steps: []string{
			"dew point " + unit.Format(r.DewPointC, unit.Celsius),
			fmt.Sprintf("metal %s, %.1f °C above the dew point; at least %g °C are needed", unit.Format(r.SurfaceC, unit.Celsius), r.MarginC, climate.MarginC),
			fmt.Sprintf("humidity %s %%, at most %s %%", unit.Number(*req.HumidityPct), unit.Number(r.Input.LimitPct)),
		},
		Assumptions: r.Assumptions, Sources: []string{r.Source}, Caution: r.Caution,
	}
	if req.SurfaceC != nil {
		basis.Inputs = append(basis.Inputs, "metal "+unit.Format(*req.SurfaceC, unit.Celsius))
	}
	return &pb.CheckClimateResponse{
		Verdict: verdicts[r.Verdict], DewPointC: r.DewPointC, MarginC: r.MarginC, SurfaceNeededC: r.SurfaceNeededC, HumidityOverPct: r.HumidityOverPct,
		SurfaceC: r.SurfaceC, SurfaceAssumed: r.SurfaceIsAssumed, WithinMeterError: r.WithinMeterError, Basis: basis,
	}, nil
}

// limits tells in words what set the size of a cable.
var limits = map[wiring.Limit]string{
	wiring.ByDrop:     "the voltage drop",
	wiring.ByRating:   "the current",
	wiring.ByFuse:     "the fuse that the load needs",
	wiring.BySmallest: "nothing: it is the thinnest in the table",
}

// SizeCable says which cable and fuse a load needs.
func (s *Service) SizeCable(_ context.Context, req *pb.SizeCableRequest) (*pb.SizeCableResponse, error) {
	if err := needs(needed{"amps", req.Amps != nil}, needed{"length_m", req.LengthM != nil}); err != nil {
		return nil, s.failure(err)
	}
	// The calculation takes zero for «not said».
	for _, f := range []struct {
		name, accepted string
		v              *float64
	}{{"volts", "6 to 48 V", req.Volts}, {"drop_pct", "0.5 to 10 %", req.DropPct}} {
		if f.v != nil && *f.v == 0 {
			return nil, s.failure(refusal(shop.OutOfRange, "field", f.name, "value", "0", "accepted", f.accepted))
		}
	}
	in := wiring.Input{Amps: *req.Amps, LengthM: *req.LengthM, Volts: req.GetVolts(), DropPct: req.GetDropPct()}
	r, err := wiring.Size(in)
	if err != nil {
		return nil, s.failure(inputRefusal(err))
	}
	resp := &pb.SizeCableResponse{
		AreaMm2: r.AreaMM2, Awg: r.AWG.String(), DropV: r.DropV, DropPct: r.DropPct, NextMm2: r.NextMM2, NextDropV: r.NextDropV,
		FuseA: r.FuseA, RatingA: r.RatingA, LimitedBy: limits[r.LimitedBy],
		Basis: &pb.Basis{
			Inputs: []string{
				"load " + unit.Number(in.Amps) + " A", "length one way " + unit.Format(in.LengthM, unit.Metre),
				"system " + unit.Number(r.Input.Volts) + " V", "drop allowed " + unit.Number(r.Input.DropPct) + " %",
			},
			Steps: []string{
				fmt.Sprintf("%s mm² drops %.2g V, %.2g %%; %.2g V are allowed", unit.Number(r.AreaMM2), r.DropV, r.DropPct, r.LimitV),
				"what sets the size: " + limits[r.LimitedBy],
				fmt.Sprintf("it carries %s A; a fuse of %s A protects it", unit.Number(r.RatingA), unit.Number(r.FuseA)),
			},
			Assumptions: r.Assumptions, Sources: []string{r.Source}, Caution: r.Caution,
		},
	}
	in.TwoWire = true
	back, err := wiring.Size(in)
	var over *wiring.InputError
	switch {
	case err == nil:
		resp.TwoWireMm2 = back.AreaMM2
		resp.Basis.Steps = append(resp.Basis.Steps, "with a wire back instead of the body: "+unit.Number(back.AreaMM2)+" mm²")
	case errors.As(err, &over): // a run that is too long only when counted twice
		resp.Basis.Steps = append(resp.Basis.Steps, "with a wire back instead of the body no cable in the table serves")
	default:
		return nil, s.failure(err)
	}
	return resp, nil
}

// RoadSpeed turns revs into road speed or road speed into revs.
func (s *Service) RoadSpeed(_ context.Context, req *pb.RoadSpeedRequest) (*pb.RoadSpeedResponse, error) {
	given := 0
	for _, v := range []*float64{req.Rpm, req.SpeedMph, req.SpeedKph} {
		if v != nil {
			given++
		}
	}
	if err := needs(needed{"tyre", req.Tyre != ""}, needed{"final_drive", req.FinalDrive != nil}, needed{"rpm", given > 0}); err != nil {
		return nil, s.failure(err)
	}
	if given > 1 {
		return nil, s.failure(refusal(shop.OutOfRange, "field", "rpm", "value", "revs and a speed", "accepted", "one of rpm, speed_mph, speed_kph"))
	}
	in, err := roadInput(req)
	if err != nil {
		return nil, s.failure(err)
	}
	r, err := gearing.Road(in)
	if err != nil {
		return nil, s.failure(roadRefusal(req, err))
	}
	basis := &pb.Basis{
		Inputs: []string{"tyre " + r.Input.Tyre.String(), "final drive " + trimmed(in.FinalDrive), "gear ratio " + trimmed(r.Input.GearRatio)},
		Steps: []string{
			fmt.Sprintf("the tyre rolls %.0f mm a turn, %.0f to %.0f", r.Circumference.TypicalMM, r.Circumference.LowMM, r.Circumference.HighMM),
			fmt.Sprintf("%.3g mph at 1000 revs", mph(r.SpeedPer1000KPH)),
		},
		Assumptions: r.Assumptions, Sources: []string{r.Source}, Caution: r.Caution,
	}
	if req.Rpm != nil {
		basis.Inputs = append(basis.Inputs, "revs "+unit.Number(*req.Rpm)+" a minute")
		basis.Steps = append(basis.Steps, fmt.Sprintf("%s mph (%s km/h), %s to %s mph", unit.Number(mph(r.SpeedKPH)), unit.Number(r.SpeedKPH), unit.Number(mph(r.SpeedLowKPH)), unit.Number(mph(r.SpeedHighKPH))))
	} else {
		basis.Inputs = append(basis.Inputs, fmt.Sprintf("speed %s mph (%s km/h)", unit.Number(mph(r.SpeedKPH)), unit.Number(r.SpeedKPH)))
		basis.Steps = append(basis.Steps, fmt.Sprintf("%.0f revs a minute, %.0f to %.0f", r.RPM, r.RPMLow, r.RPMHigh))
	}
	return &pb.RoadSpeedResponse{
		Rpm: r.RPM, RpmLow: r.RPMLow, RpmHigh: r.RPMHigh,
		SpeedMph: mph(r.SpeedKPH), SpeedLowMph: mph(r.SpeedLowKPH), SpeedHighMph: mph(r.SpeedHighKPH), SpeedKph: r.SpeedKPH,
		MphPer_1000: mph(r.SpeedPer1000KPH), Basis: basis,
	}, nil
}

// mileKM is an international mile in km, exactly.
const mileKM = 63360 * unit.InchMM / 1e6

func mph(kph float64) float64 { return kph / mileKM }

func roadInput(req *pb.RoadSpeedRequest) (gearing.Input, error) {
	tyre, err := gearing.ParseTyre(req.Tyre)
	if err != nil {
		return gearing.Input{}, inputRefusal(err)
	}
	in := gearing.Input{Tyre: tyre, FinalDrive: *req.FinalDrive, GearRatio: req.GetGearRatio(), RPM: req.GetRpm(), SpeedKPH: req.GetSpeedKph()}
	if req.SpeedMph != nil {
		in.SpeedKPH = *req.SpeedMph * mileKM
	}
	// The calculation takes zero for «not said».
	if req.GearRatio != nil && in.GearRatio == 0 {
		return in, refusal(shop.OutOfRange, "field", "gear_ratio", "value", "0", "accepted", "0.3 to 20")
	}
	if req.Rpm == nil && in.SpeedKPH == 0 {
		return in, speedRefusal(req)
	}
	return in, nil
}

// roadRefusal refuses a speed in the unit it was given in.
func roadRefusal(req *pb.RoadSpeedRequest, err error) error {
	if field, _, _, _ := rejected(err); field == "speed_kph" {
		return speedRefusal(req)
	}
	return inputRefusal(err)
}

// speedRefusal refuses a speed; the range is the calculation's 1 to 500 km/h.
func speedRefusal(req *pb.RoadSpeedRequest) error {
	if req.SpeedMph != nil {
		return refusal(shop.OutOfRange, "field", "speed_mph", "value", fmt.Sprint(*req.SpeedMph), "accepted", "0.7 to 310 mph")
	}
	return refusal(shop.OutOfRange, "field", "speed_kph", "value", fmt.Sprint(req.GetSpeedKph()), "accepted", "1 to 500 km/h")
}

// Convert turns a value into another unit.
func (s *Service) Convert(_ context.Context, req *pb.ConvertRequest) (*pb.ConvertResponse, error) {
	if err := needs(needed{"value", req.Value != nil}, needed{"from", req.From != ""}, needed{"to", req.To != ""}); err != nil {
		return nil, s.failure(err)
	}
	from, err := unit.Parse(req.From)
	if err != nil {
		return nil, s.failure(refusal(shop.OutOfRange, "field", "from", "value", req.From, "accepted", strings.Join(unit.Symbols(), ", ")))
	}
	alike := strings.Join(likeUnits(from), ", ")
	to, err := unit.Parse(req.To)
	if err != nil {
		return nil, s.failure(refusal(shop.OutOfRange, "field", "to", "value", req.To, "accepted", alike))
	}
	v, err := from.To(*req.Value, to)
	var bad *unit.ValueError
	var unlike *unit.MismatchError
	switch {
	case errors.As(err, &unlike):
		return nil, s.failure(refusal(shop.OutOfRange, "field", "to", "value", to.Symbol(), "accepted", alike))
	case errors.As(err, &bad):
		return nil, s.failure(refusal(shop.OutOfRange, "field", "value", "value", fmt.Sprint(*req.Value), "accepted", bad.Accepted))
	case err != nil:
		return nil, s.failure(err)
	}
	return &pb.ConvertResponse{Value: v, Basis: &pb.Basis{
		Inputs:  []string{fmt.Sprintf("value %.10g", *req.Value), "from " + from.String(), "to " + to.String()},
		Steps:   []string{fmt.Sprintf("%.10g %s is %.6g %s", *req.Value, from, v, to)},
		Sources: []string{"NIST SP 811 (2008) Appendix B and the BIPM SI Brochure (9th edition, 2019): exact factors"},
	}}, nil
}

// likeUnits lists the symbols of the units that measure the same as u.
func likeUnits(u unit.Unit) []string {
	var alike []string
	for _, symbol := range unit.Symbols() {
		if other, err := unit.Parse(symbol); err == nil && other.Dimension() == u.Dimension() {
			alike = append(alike, symbol)
		}
	}
	return alike
}
