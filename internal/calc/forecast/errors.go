package forecast

import (
	"fmt"
	"math"
	"strings"
)

// InputError says which input cannot be used, what it was, and what can.
type InputError struct {
	Field    string // id, low_hours, likely_hours, high_hours, done_hours, trade, person, hours_a_day, due_days, slip_days, runs, bac, pv, ev, ac, …
	Value    string // as given, shortened if long
	Accepted string // what would work
}

func (e *InputError) Error() string {
	return fmt.Sprintf("%s %q cannot be used: %s", e.Field, e.Value, e.Accepted)
}

// UnknownError says that a task waits for one that is not in the network.
type UnknownError struct{ Task, After string }

func (e *UnknownError) Error() string {
	return fmt.Sprintf("task %q waits for %q, which is not in the network: add it, or leave it out", e.Task, e.After)
}

// CycleError names tasks that wait for each other in a circle, each for the one
// before it and the first for the last.
type CycleError struct{ Tasks []string }

func (e *CycleError) Error() string {
	return fmt.Sprintf("tasks %s wait for each other: take one of these waits out", strings.Join(e.Tasks, ", "))
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
