package reorder

import (
	"fmt"
	"math"
)

// InputError says which input cannot be used, what it was, and what can.
type InputError struct {
	Field    string // amount, at, since, lead_days, lead_sd_days, service, on_hand, …
	Value    string // as given
	Accepted string // what would work
}

func (e *InputError) Error() string {
	return fmt.Sprintf("%s %s cannot be used: %s", e.Field, e.Value, e.Accepted)
}

func refuse(field string, value any, accepted string, args ...any) *InputError {
	return &InputError{Field: field, Value: fmt.Sprint(value), Accepted: fmt.Sprintf(accepted, args...)}
}

// within refuses a value outside lo to hi, and one that is no number.
func within(field string, v, lo, hi float64, what string) error {
	if math.IsNaN(v) || v < lo || v > hi {
		return refuse(field, v, "give %s from %g to %g", what, lo, hi)
	}
	return nil
}
