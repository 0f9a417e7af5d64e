package metal

import "fmt"

// InputError says which input cannot be used, what it was, and what can.
type InputError struct {
	Field    string // metal, gauge, thickness_mm, area_m2, length_m, leg_mm, wire_mm, efficiency, flow_l_min, travel_mm_min, flange_mm, sheet_mm, pitch_mm, hole_mm, original_spots or feed_m_min
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
