package reorder

import "math"

// Quantile is the standard normal quantile z of a probability: a share p of all
// values lies below z. It fails with *InputError unless p is 0.0001 to 0.9999.
func Quantile(p float64) (float64, error) {
	if err := within("service", p, 0.0001, 0.9999, "a share"); err != nil {
		return 0, err
	}
	return math.Sqrt2 * math.Erfinv(2*p-1), nil
}

// studentT is the quantile of Student's t with ν degrees of freedom at the normal
// quantile z: the expansion of Abramowitz and Stegun, 26.7.5. From ν = 3 on, at
// z up to 1.3, it is within 1 %.
func studentT(z, nu float64) float64 {
	z2 := z * z
	return z * (1 +
		(z2+1)/(4*nu) +
		((5*z2+16)*z2+3)/(96*nu*nu) +
		(((3*z2+19)*z2+17)*z2-15)/(384*nu*nu*nu))
}
