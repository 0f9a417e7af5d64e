package climate

import "math"

// Constants of the Magnus form over water, Sonntag (1990), WMO-No. 8 Annex 4.B.
const (
	magnusHPa = 6.112  // saturation pressure at 0 °C
	magnusA   = 17.62  // no unit
	magnusC   = 243.12 // °C
)

// The range of the Magnus form over water, WMO-No. 8 Annex 4.B.
const minAirC, maxAirC = -45, 60

// SaturationHPa is the pressure of water vapour, in hPa, over water at t °C.
// It holds from −45 to 60 °C and does not judge its input.
func SaturationHPa(t float64) float64 {
	return magnusHPa * math.Exp(magnusA*t/(magnusC+t))
}

// temperatureAt is SaturationHPa turned round: °C at which air with that vapour
// pressure is saturated.
func temperatureAt(vapourHPa float64) float64 {
	l := math.Log(vapourHPa / magnusHPa)
	return magnusC * l / (magnusA - l)
}

// DewPoint is the temperature in °C at which air of airC °C and humidityPct %
// relative humidity begins to condense. It fails with *InputError.
func DewPoint(airC, humidityPct float64) (float64, error) {
	if err := checkAir(airC, humidityPct); err != nil {
		return 0, err
	}
	return temperatureAt(SaturationHPa(airC) * humidityPct / 100), nil
}

func checkAir(airC, humidityPct float64) error {
	if err := within("air_c", airC, minAirC, maxAirC, "an air temperature in °C"); err != nil {
		return err
	}
	// No workshop is drier than 1 %: 0.65 is a fraction where a percentage belongs.
	return within("humidity_pct", humidityPct, 1, 100, "a relative humidity in percent")
}

// HumidityFromWetBulb is the relative humidity in % from a ventilated pair of
// thermometers, °C, at an air pressure in hPa. It fails with *InputError.
//
// Source: the psychrometer formula of WMO-No. 8 Annex 4.B after Sonntag (1990),
// e = es(tw) − 6.53·10⁻⁴·(1 + 0.000944·tw)·p·(t − tw).
func HumidityFromWetBulb(dryC, wetC, pressureHPa float64) (float64, error) {
	if err := within("air_c", dryC, 0, maxAirC, "a dry-bulb temperature in °C"); err != nil {
		return 0, err
	}
	if err := within("wet_c", wetC, 0, dryC, "a wet-bulb temperature in °C, not above the dry one,"); err != nil {
		return 0, err
	}
	if err := within("pressure_hpa", pressureHPa, 500, 1100, "an air pressure in hPa"); err != nil {
		return 0, err
	}
	vapour := SaturationHPa(wetC) - 6.53e-4*(1+0.000944*wetC)*pressureHPa*(dryC-wetC)
	pct := 100 * vapour / SaturationHPa(dryC)
	if pct < 1 {
		return 0, within("wet_c", wetC, dryC, dryC, "a wet-bulb temperature nearer the dry one, at most")
	}
	return pct, nil
}
