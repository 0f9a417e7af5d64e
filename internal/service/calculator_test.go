package service_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/anypb"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

func calculator(t *testing.T) (*bench, pb.CalculatorServiceClient) {
	t.Helper()
	b := newBench(t, ledger.NewMemory())
	return b, pb.NewCalculatorServiceClient(b.conn)
}

// whole holds that a figure that can hurt says what it rests on.
func whole(t *testing.T, b *pb.Basis, cautious bool) {
	t.Helper()
	assert.NotEmpty(t, b.GetInputs())
	assert.NotEmpty(t, b.GetSteps())
	assert.NotEmpty(t, b.GetSources())
	assert.Equal(t, cautious, b.GetCaution() != "")
	if cautious {
		assert.NotEmpty(t, b.GetAssumptions())
	}
}

// The settings are those of setting = torque·L/(L + E·cos θ), by hand.
func TestAdjustWrench(t *testing.T) {
	t.Parallel()
	_, calc := calculator(t)
	for _, c := range []struct {
		torque, wrench, extension float64
		angle                     *float64
		want                      float64
	}{
		{40, 400, 75, nil, 33.68},
		{60, 300, 50, nil, 51.43},
		{45, 350, 70, num(90.0), 45},
		{45, 350, 70, num(0.0), 37.5},
		{88, 400, 80, num(45.0), 77.1},
	} {
		r, err := calc.AdjustWrench(t.Context(), &pb.AdjustWrenchRequest{TorqueNm: &c.torque, WrenchMm: &c.wrench, ExtensionMm: &c.extension, AngleDeg: c.angle})
		require.NoError(t, err)
		assert.InDelta(t, c.want, r.SettingNm, 0.01)
		assert.Less(t, r.TorqueLowNm, c.torque)
		assert.Greater(t, r.TorqueHighNm, c.torque)
		whole(t, r.Basis, true)
		assert.Equal(t, c.angle == nil, strings.Contains(strings.Join(r.Basis.Assumptions, "\n"), "no angle was said"))
	}
}

// Dew points are the Magnus form's with Sonntag's constants (WMO-No. 8).
func TestCheckClimate(t *testing.T) {
	t.Parallel()
	_, calc := calculator(t)
	for name, c := range map[string]struct {
		air, humidity float64
		metal         *float64
		dew           float64
		verdict       pb.ClimateVerdict
		assumed       bool
	}{
		"dry":             {21, 55, num(20.0), 11.6, pb.ClimateVerdict_CLIMATE_VERDICT_OK, false},
		"nobody measured": {16, 85, nil, 13.5, pb.ClimateVerdict_CLIMATE_VERDICT_NO, true},
		"metal too cold":  {12, 88, num(11.0), 10.1, pb.ClimateVerdict_CLIMATE_VERDICT_NO, false},
		"warm metal, wet": {12, 88, num(20.0), 10.1, pb.ClimateVerdict_CLIMATE_VERDICT_WAIT, false},
	} {
		r, err := calc.CheckClimate(t.Context(), &pb.CheckClimateRequest{AirC: &c.air, HumidityPct: &c.humidity, SurfaceC: c.metal})
		require.NoError(t, err, name)
		assert.InDelta(t, c.dew, r.DewPointC, 0.05, name)
		assert.Equal(t, c.verdict, r.Verdict, name)
		assert.Equal(t, c.assumed, r.SurfaceAssumed, name)
		assert.InDelta(t, r.SurfaceC-r.DewPointC, r.MarginC, 1e-9, name)
		assert.InDelta(t, r.DewPointC+3, r.SurfaceNeededC, 1e-9, name)
		assert.InDelta(t, max(c.humidity-85, 0), r.HumidityOverPct, 1e-9, name)
		whole(t, r.Basis, true)
	}
}

func TestSizeCable(t *testing.T) {
	t.Parallel()
	_, calc := calculator(t)
	size := func(amps, length float64, volts, drop *float64) *pb.SizeCableResponse {
		r, err := calc.SizeCable(t.Context(), &pb.SizeCableRequest{Amps: &amps, LengthM: &length, Volts: volts, DropPct: drop})
		require.NoError(t, err)
		assert.LessOrEqual(t, r.DropPct, 3.0)
		assert.Less(t, r.NextDropV, r.DropV)
		assert.GreaterOrEqual(t, r.RatingA, r.FuseA)
		assert.GreaterOrEqual(t, r.TwoWireMm2, r.AreaMm2)
		assert.NotEmpty(t, r.Awg)
		assert.NotEmpty(t, r.LimitedBy)
		whole(t, r.Basis, true)
		return r
	}
	pump := size(12, 4.5, nil, nil)
	said := size(12, 4.5, num(12.0), num(3.0))
	assert.InDelta(t, pump.AreaMm2, said.AreaMm2, 0, "12 V and 3 % are what is taken when they are not said")
	assert.Less(t, len(said.Basis.Assumptions), len(pump.Basis.Assumptions))
	// IEC 60228 class 5, 4 mm²: 4.95 mΩ/m at most.
	assert.InDelta(t, 4, pump.AreaMm2, 0)
	assert.InDelta(t, 12*4.5*4.95/1000, pump.DropV, 1e-9)
	assert.Greater(t, pump.TwoWireMm2, pump.AreaMm2)
	long := size(30, 40, num(48.0), nil)
	assert.Positive(t, long.TwoWireMm2)
}

// 175/65R14 is 583.1 mm across (ISO 4000-1) and rolls 3.05 diameters a turn.
func TestRoadSpeed(t *testing.T) {
	t.Parallel()
	_, calc := calculator(t)
	ask := func(r *pb.RoadSpeedRequest) *pb.RoadSpeedResponse {
		r.Tyre, r.FinalDrive = "175/65r14", num(4.1)
		resp, err := calc.RoadSpeed(t.Context(), r)
		require.NoError(t, err)
		whole(t, resp.Basis, true)
		return resp
	}
	top := ask(&pb.RoadSpeedRequest{SpeedMph: num(60.0), GearRatio: num(0.8)})
	assert.InDelta(t, 60*1609.344/60*4.1*0.8/(0.5831*3.05), top.Rpm, 0.5)
	assert.Less(t, top.RpmLow, top.Rpm)
	assert.Greater(t, top.RpmHigh, top.Rpm)
	assert.InDelta(t, 60, top.SpeedMph, 1e-9)
	assert.InDelta(t, 96.56064, top.SpeedKph, 1e-9)
	assert.InDelta(t, 60/top.Rpm*1000, top.MphPer_1000, 1e-6)

	back := ask(&pb.RoadSpeedRequest{Rpm: &top.Rpm, GearRatio: num(0.8)})
	assert.InDelta(t, 60, back.SpeedMph, 1e-9, "the way back")
	assert.Less(t, back.SpeedLowMph, 60.0)
	assert.Greater(t, back.SpeedHighMph, 60.0)
	metric := ask(&pb.RoadSpeedRequest{SpeedKph: num(96.56064), GearRatio: num(0.8)})
	assert.InDelta(t, top.Rpm, metric.Rpm, 1e-6)
	direct := ask(&pb.RoadSpeedRequest{SpeedMph: num(60.0)})
	assert.InDelta(t, top.Rpm/0.8, direct.Rpm, 1e-6, "no gear said is direct top")
}

// Factors are NIST SP 811's.
func TestConvert(t *testing.T) {
	t.Parallel()
	_, calc := calculator(t)
	for _, c := range []struct {
		value    float64
		from, to string
		want     float64
	}{
		{57, "lbf_ft", "nm", 77.2816},
		{2, "pint_uk", "l", 1.13652},
		{60, "thou", "mm", 1.524},
		{28, "psi", "bar", 1.93053},
		{64, "f", "c", 17.7778},
	} {
		r, err := calc.Convert(t.Context(), &pb.ConvertRequest{Value: &c.value, From: c.from, To: c.to})
		require.NoError(t, err)
		assert.InDelta(t, c.want, r.Value, 1e-4, c.from)
		whole(t, r.Basis, false)
	}
}

func TestCalculatorRefusals(t *testing.T) {
	t.Parallel()
	_, calc := calculator(t)
	ten, nan, hole := num(10.0), num(math.NaN()), num(0.0)
	for name, c := range map[string]struct {
		ask                     func() error
		reason, field, accepted string
	}{
		"no torque":     {wrenching(t, calc, nil, ten, ten), "MISSING_FIELD", "torque_nm", ""},
		"no wrench":     {wrenching(t, calc, ten, nil, ten), "MISSING_FIELD", "wrench_mm", ""},
		"no extension":  {wrenching(t, calc, ten, ten, nil), "MISSING_FIELD", "extension_mm", ""},
		"short wrench":  {wrenching(t, calc, ten, ten, ten), "OUT_OF_RANGE", "wrench_mm", "50 to 2000"},
		"no number":     {wrenching(t, calc, nan, ten, ten), "OUT_OF_RANGE", "torque_nm", "0.5 to 2000"},
		"no air":        {spraying(t, calc, nil, ten), "MISSING_FIELD", "air_c", ""},
		"no humidity":   {spraying(t, calc, ten, nil), "MISSING_FIELD", "humidity_pct", ""},
		"no such air":   {spraying(t, calc, num(900.0), ten), "OUT_OF_RANGE", "air_c", "60"},
		"bone dry":      {spraying(t, calc, ten, hole), "OUT_OF_RANGE", "humidity_pct", "100"},
		"no amps":       {wiringUp(t, calc, &pb.SizeCableRequest{LengthM: ten}), "MISSING_FIELD", "amps", ""},
		"no length":     {wiringUp(t, calc, &pb.SizeCableRequest{Amps: ten}), "MISSING_FIELD", "length_m", ""},
		"no volts":      {wiringUp(t, calc, &pb.SizeCableRequest{Amps: ten, LengthM: ten, Volts: hole}), "OUT_OF_RANGE", "volts", "6 to 48"},
		"no drop":       {wiringUp(t, calc, &pb.SizeCableRequest{Amps: ten, LengthM: ten, DropPct: hole}), "OUT_OF_RANGE", "drop_pct", "0.5 to 10"},
		"miles of it":   {wiringUp(t, calc, &pb.SizeCableRequest{Amps: ten, LengthM: num(5000.0)}), "OUT_OF_RANGE", "length_m", "50 m"},
		"no tyre":       {driving(t, calc, &pb.RoadSpeedRequest{FinalDrive: ten, Rpm: ten}), "MISSING_FIELD", "tyre", ""},
		"no axle":       {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "155r13", Rpm: ten}), "MISSING_FIELD", "final_drive", ""},
		"nothing asked": {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "155r13", FinalDrive: ten}), "MISSING_FIELD", "rpm", ""},
		"both given":    {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "155r13", FinalDrive: ten, Rpm: ten, SpeedMph: ten}), "OUT_OF_RANGE", "rpm", "one of"},
		"odd tyre":      {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "round", FinalDrive: ten, SpeedMph: ten}), "OUT_OF_RANGE", "tyre", "175/65"},
		"no gear":       {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "155r13", FinalDrive: ten, SpeedMph: ten, GearRatio: hole}), "OUT_OF_RANGE", "gear_ratio", "0.3 to 20"},
		"standing":      {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "155r13", FinalDrive: ten, SpeedMph: hole}), "OUT_OF_RANGE", "speed_mph", "mph"},
		"flying":        {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "155r13", FinalDrive: ten, SpeedMph: num(400.0)}), "OUT_OF_RANGE", "speed_mph", "mph"},
		"flying, in km": {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "155r13", FinalDrive: ten, SpeedKph: num(900.0)}), "OUT_OF_RANGE", "speed_kph", "500"},
		"idling":        {driving(t, calc, &pb.RoadSpeedRequest{Tyre: "155r13", FinalDrive: ten, Rpm: hole}), "OUT_OF_RANGE", "rpm", "100 to 20000"},
		"no value":      {converting(t, calc, nil, "nm", "lbf_ft"), "MISSING_FIELD", "value", ""},
		"no from":       {converting(t, calc, ten, "", "lbf_ft"), "MISSING_FIELD", "from", ""},
		"no to":         {converting(t, calc, ten, "nm", ""), "MISSING_FIELD", "to", ""},
		"odd from":      {converting(t, calc, ten, "cubits", "mm"), "OUT_OF_RANGE", "from", "thou"},
		"odd to":        {converting(t, calc, ten, "mm", "cubits"), "OUT_OF_RANGE", "to", "mm, in, thou, cm, m, ft"},
		"unlike":        {converting(t, calc, ten, "nm", "mm"), "OUT_OF_RANGE", "to", "nm, lbf_ft, lbf_in, kgf_m"},
		"too cold":      {converting(t, calc, num(-300.0), "c", "f"), "OUT_OF_RANGE", "value", ""},
	} {
		err := c.ask()
		i := info(t, err)
		assert.Equal(t, codes.InvalidArgument, status.Code(err), name)
		assert.Equal(t, c.reason, i.Reason, name)
		assert.Equal(t, c.field, i.Metadata["field"], name)
		assert.Contains(t, i.Metadata["accepted"], c.accepted, name)
		if c.reason == "OUT_OF_RANGE" {
			assert.NotEmpty(t, i.Metadata["value"], name)
			assert.NotEmpty(t, i.Metadata["accepted"], name)
		}
	}
}

func wrenching(t *testing.T, calc pb.CalculatorServiceClient, torque, wrench, extension *float64) func() error {
	return func() error {
		_, err := calc.AdjustWrench(t.Context(), &pb.AdjustWrenchRequest{TorqueNm: torque, WrenchMm: wrench, ExtensionMm: extension})
		return err
	}
}

func spraying(t *testing.T, calc pb.CalculatorServiceClient, air, humidity *float64) func() error {
	return func() error {
		_, err := calc.CheckClimate(t.Context(), &pb.CheckClimateRequest{AirC: air, HumidityPct: humidity})
		return err
	}
}

func wiringUp(t *testing.T, calc pb.CalculatorServiceClient, r *pb.SizeCableRequest) func() error {
	return func() error {
		_, err := calc.SizeCable(t.Context(), r)
		return err
	}
}

func driving(t *testing.T, calc pb.CalculatorServiceClient, r *pb.RoadSpeedRequest) func() error {
	return func() error {
		_, err := calc.RoadSpeed(t.Context(), r)
		return err
	}
}

func converting(t *testing.T, calc pb.CalculatorServiceClient, value *float64, from, to string) func() error {
	return func() error {
		_, err := calc.Convert(t.Context(), &pb.ConvertRequest{Value: value, From: from, To: to})
		return err
	}
}

func TestExplainAFigure(t *testing.T) {
	t.Parallel()
	b, calc := calculator(t)
	fits := pb.NewFitServiceClient(b.conn)
	wrench := &pb.AdjustWrenchRequest{TorqueNm: num(40.0), WrenchMm: num(400.0), ExtensionMm: num(75.0)}
	air := &pb.CheckClimateRequest{AirC: num(15.0), HumidityPct: num(72.0), SurfaceC: num(14.0)}
	cable := &pb.SizeCableRequest{Amps: num(20.0), LengthM: num(3.0)}
	road := &pb.RoadSpeedRequest{Rpm: num(3000.0), Tyre: "185/70r14", FinalDrive: num(4.3)}
	units := &pb.ConvertRequest{Value: num(80.0), From: "nm", To: "lbf_ft"}
	door := &pb.SolveFitRequest{Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT}
	first := func(b *pb.Basis, err error) *pb.Basis {
		require.NoError(t, err)
		return b
	}
	basis := map[proto.Message]*pb.Basis{}
	r1, err := calc.AdjustWrench(t.Context(), wrench)
	basis[wrench] = first(r1.GetBasis(), err)
	r2, err := calc.CheckClimate(t.Context(), air)
	basis[air] = first(r2.GetBasis(), err)
	r3, err := calc.SizeCable(t.Context(), cable)
	basis[cable] = first(r3.GetBasis(), err)
	r4, err := calc.RoadSpeed(t.Context(), road)
	basis[road] = first(r4.GetBasis(), err)
	r5, err := calc.Convert(t.Context(), units)
	basis[units] = first(r5.GetBasis(), err)
	r6, err := fits.SolveFit(t.Context(), door)
	basis[door] = first(r6.GetBasis(), err)
	for question, want := range basis {
		asked, err := anypb.New(question)
		require.NoError(t, err)
		why, err := b.help.ExplainAnswer(t.Context(), &pb.ExplainAnswerRequest{Question: asked})
		require.NoError(t, err)
		assert.True(t, proto.Equal(want, why.Basis), why.Kind)
	}
}
