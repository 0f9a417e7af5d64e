package forecast

// Budget is where a job stands, in one unit: hours or money.
type Budget struct {
	BAC float64 // budget at completion
	PV  float64 // of it, planned to be done by now; 0 when there is no such plan
	EV  float64 // of it, done
	AC  float64 // spent on that
}

// Earned is what the budget says, in its unit.
type Earned struct {
	CV, SV   float64 // EV − AC; EV − PV, 0 without a plan
	CPI, SPI float64 // EV/AC; EV/PV, 0 without a plan

	EAC       float64 // at completion, when the rest goes as it went: BAC/CPI
	EACAsPlan float64 // at completion, when the rest goes as planned: AC + BAC − EV
	ETC, VAC  float64 // EAC − AC; BAC − EAC

	Source string
}

// EarnedValue computes the figures of earned value. It fails with *InputError.
func EarnedValue(b Budget) (Earned, error) {
	const least, most = 1e-6, 1e9
	if err := within("bac", b.BAC, least, most, "a budget"); err != nil {
		return Earned{}, err
	}
	if err := within("pv", b.PV, 0, b.BAC, "what of the budget was planned"); err != nil {
		return Earned{}, err
	}
	if err := within("ev", b.EV, least, b.BAC, "what of the budget is done: with nothing done there is no rate to go on"); err != nil {
		return Earned{}, err
	}
	if err := within("ac", b.AC, least, most, "what was spent"); err != nil {
		return Earned{}, err
	}
	e := Earned{CV: b.EV - b.AC, CPI: b.EV / b.AC, EAC: b.BAC * b.AC / b.EV, EACAsPlan: b.AC + b.BAC - b.EV, Source: "earned value, ANSI/EIA-748"}
	if b.PV > 0 {
		e.SV, e.SPI = b.EV-b.PV, b.EV/b.PV
	}
	e.ETC, e.VAC = e.EAC-b.AC, b.BAC-e.EAC
	return e, nil
}
