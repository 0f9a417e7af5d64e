package repair

import (
	"fmt"
	"math"
)

// InputError says which input cannot be used, what it was, and what can.
type InputError struct {
	Field    string // kind, width_mm, height_mm, diameter_mm, depth_mm, count, area_m2, length_mm, sheet_mm, labour_rate, price, predicted_hours, actual_hours, runs, …
	Value    string // as given, shortened if long
	Accepted string // what would work
}

func (e *InputError) Error() string {
	return fmt.Sprintf("%s %q cannot be used: %s", e.Field, e.Value, e.Accepted)
}

// refuse makes an InputError; a hostile value is cut short.
func refuse(field string, value any, accepted string, args ...any) *InputError {
	const most = 40
	v := []rune(fmt.Sprint(value))
	if len(v) > most {
		v = append(v[:most], '…')
	}
	return &InputError{Field: field, Value: string(v), Accepted: fmt.Sprintf(accepted, args...)}
}

// within refuses a value outside lo to hi, and one that is no number.
func within(field string, v, lo, hi float64, what string) error {
	if math.IsNaN(v) || v < lo || v > hi {
		return refuse(field, v, "give %s from %g to %g", what, lo, hi)
	}
	return nil
}
