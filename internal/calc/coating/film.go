package coating

// SpreadingRate is the theoretical spreading rate in m²/L of a material of
// solidsPct % solids by volume at dftUM µm dry: 10·VS/DFT (ISO 23811; paint
// makers' tables). It fails with *InputError.
func SpreadingRate(solidsPct, dftUM float64) (float64, error) {
	if err := checkFilm(solidsPct, dftUM); err != nil {
		return 0, err
	}
	return 10 * solidsPct / dftUM, nil
}

// PracticalRate is the rate in m²/L when lossPct % of the material misses the
// panel: TSR·(1 − loss). It fails with *InputError.
func PracticalRate(theoretical, lossPct float64) (float64, error) {
	if err := within("rate_m2_per_l", theoretical, 0.01, 1000, "a spreading rate in m²/L"); err != nil {
		return 0, err
	}
	if err := checkLoss(lossPct); err != nil {
		return 0, err
	}
	return theoretical * (1 - lossPct/100), nil
}

// WetFilm is the wet film in µm that dries to dftUM µm, when thinnerPct % by volume
// of thinner is added to a material of solidsPct % solids by volume:
// DFT·(100 + thinner)/VS (paint makers' formula). It fails with *InputError.
func WetFilm(dftUM, solidsPct, thinnerPct float64) (float64, error) {
	if err := checkFilm(solidsPct, dftUM); err != nil {
		return 0, err
	}
	if err := within("thinner_pct", thinnerPct, 0, 300, "added thinner in percent of the volume"); err != nil {
		return 0, err
	}
	return dftUM * (100 + thinnerPct) / solidsPct, nil
}

// DryFilm is the dry film in µm left by a wet one; WetFilm turned round.
// It fails with *InputError.
func DryFilm(wetUM, solidsPct, thinnerPct float64) (float64, error) {
	if err := within("wet_um", wetUM, 1, 50_000, "a wet film in µm"); err != nil {
		return 0, err
	}
	perDry, err := WetFilm(1, solidsPct, thinnerPct)
	if err != nil {
		return 0, err
	}
	return wetUM / perDry, nil
}

// WetFilmAtRate is the wet film in µm of material spread at m²/L: a litre on a
// square metre stands 1 mm high. It fails with *InputError.
func WetFilmAtRate(rate float64) (float64, error) {
	if err := within("rate_m2_per_l", rate, 0.01, 1000, "a spreading rate in m²/L"); err != nil {
		return 0, err
	}
	return 1000 / rate, nil
}

// Litres is what areaM2 m² take, as litres of material: A·DFT·coats/(10·VS)/(1 − loss).
// It fails with *InputError.
func Litres(areaM2, solidsPct, dftUMPerCoat float64, coats int, lossPct float64) (float64, error) {
	if err := checkFilm(solidsPct, dftUMPerCoat); err != nil {
		return 0, err
	}
	if err := within("area_m2", areaM2, 0.001, 1000, "an area in m²"); err != nil {
		return 0, err
	}
	if coats < 1 || coats > maxCoats {
		return 0, refuse("coats", coats, "give 1 to %d coats", maxCoats)
	}
	if err := checkLoss(lossPct); err != nil {
		return 0, err
	}
	return litres(areaM2, solidsPct, dftUMPerCoat, coats, lossPct), nil
}

func litres(areaM2, solidsPct, dftUM float64, coats int, lossPct float64) float64 {
	return areaM2 * dftUM * float64(coats) / (10 * solidsPct) / (1 - lossPct/100)
}

const maxCoats = 20

func checkFilm(solidsPct, dftUM float64) error {
	if err := within("solids_pct", solidsPct, 1, 100, "solids by volume in percent"); err != nil {
		return err
	}
	return within("dft_um_per_coat", dftUM, 1, 5000, "a dry film in µm")
}

func checkLoss(lossPct float64) error {
	return within("loss_pct", lossPct, 0, 95, "a loss in percent")
}
