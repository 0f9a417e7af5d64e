package wiring

import "fmt"

// InputError says which input cannot be used, what it was, and what can.
type InputError struct {
	Field    string // amps, length_m, volts, drop_pct, conductor_c, area_mm2, awg, circuit or cable
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
