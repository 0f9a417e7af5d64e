package climate

import (
	"fmt"
	"math"
)

// InputError says which input cannot be used, what it was, and what can.
type InputError struct {
	Field    string // air_c, humidity_pct, surface_c, humidity_limit_pct, wet_c or pressure_hpa
	Value    string // as given
	Accepted string // what would work
}

func (e *InputError) Error() string {
	return fmt.Sprintf("%s %s cannot be used: %s", e.Field, e.Value, e.Accepted)
}

// within refuses a value outside lo to hi, and one that is no number.
func within(field string, v, lo, hi float64, what string) error {
	if math.IsNaN(v) || v < lo || v > hi {
		return &InputError{Field: field, Value: fmt.Sprintf("%g", v), Accepted: fmt.Sprintf("give %s from %g to %g", what, lo, hi)}
	}
	return nil
}
