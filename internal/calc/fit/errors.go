package fit

import "fmt"

// InputError says which input cannot be used, what it was, and what can.
type InputError struct {
	Field    string // panel, plane, hinge_edge, height_mm, gap_mm, …
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

// within refuses a number outside low to high, NaN included.
func within(field string, v, low, high float64) error {
	if !(v >= low && v <= high) {
		return refuse(field, v, "give %g to %g mm", low, high)
	}
	return nil
}
