package gearing

// Change is a change of tyre, and a reading of the speedometer.
type Change struct {
	From, To     Tyre    // the tyre the speedometer was right for, and the one fitted
	IndicatedKPH float64 // 100 when 0
}

// Reading is what the speedometer's reading is worth after a change of tyre.
type Reading struct {
	Change  Change // as understood: IndicatedKPH is filled in
	TrueKPH float64
	// TrueLowKPH and TrueHighKPH are the range an aspect that is not printed leaves;
	// they equal TrueKPH when both are.
	TrueLowKPH, TrueHighKPH float64
	ErrorPct                float64 // (indicated − true)/true, below 0 when it reads low
	ReadsLow                bool    // the vehicle is faster than it says

	Assumptions []string
	Source      string
	Caution     string
}

// Speedometer computes the true speed of a reading: true = indicated·D_to/D_from.
// The speedometer is taken to have been right before. It fails with *InputError.
func Speedometer(c Change) (Reading, error) {
	if c.IndicatedKPH == 0 {
		c.IndicatedKPH = 100
	} else if !(c.IndicatedKPH >= 1 && c.IndicatedKPH <= 500) {
		return Reading{}, refuse("speed_kph", c.IndicatedKPH, "give 1 to 500 km/h, or leave it out for 100")
	}
	r := Reading{Change: c}
	r.Assumptions = append(r.Assumptions, "the speedometer was right on the old tyre; both tyres loaded, inflated and worn alike")
	for _, t := range []Tyre{c.From, c.To} {
		_, as, err := wheel(t, 0)
		if err != nil {
			return Reading{}, err
		}
		r.Assumptions = append(r.Assumptions, as...)
	}
	_, fromLow, fromHigh, _ := c.From.Aspect()
	_, toLow, toHigh, _ := c.To.Aspect()
	r.TrueKPH = c.IndicatedKPH * c.To.DiameterMM() / c.From.DiameterMM()
	r.TrueLowKPH = c.IndicatedKPH * c.To.diameter(toLow) / c.From.diameter(fromHigh)
	r.TrueHighKPH = c.IndicatedKPH * c.To.diameter(toHigh) / c.From.diameter(fromLow)
	r.ErrorPct = (c.IndicatedKPH/r.TrueKPH - 1) * 100
	r.ReadsLow = r.TrueKPH > c.IndicatedKPH*(1+1e-9)
	r.Source = "true = indicated·D_new/D_old; diameter ISO 4000-1; limits UN Regulation No. 39, 5.3"
	r.Caution = "A tyre must also fit the rim, the body, the load and the speed: the maker's list of sizes comes first."
	if r.ReadsLow {
		r.Caution = "The speedometer reads low: UN Regulation No. 39 allows it to read high by up to 10 % and 4 km/h, never low. Have it recalibrated. " + r.Caution
	}
	return r, nil
}
