package shop

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
)

// Reason is why a request is refused.
type Reason uint8

// Reasons of refusal; the metadata of each is said where the API names it.
const (
	NotAllowed Reason = iota + 1
	UnknownPerson
	MissingField
	OutOfRange
	UnknownName
	NotEnoughStock
	AlreadyExists
	NotFound
	AlreadyDone
	Ambiguous
	NothingToChange
	CannotAmend
	SafetyCritical
	InUse
)

// Refusal says why a request is not carried out, for a program to render.
type Refusal struct {
	Reason   Reason
	Metadata map[string]string
}

func (r *Refusal) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "refused (%d)", r.Reason)
	for _, k := range slices.Sorted(maps.Keys(r.Metadata)) {
		fmt.Fprintf(&b, " %s=%q", k, r.Metadata[k])
	}
	return b.String()
}

// refuse makes a refusal of keys and values in turn.
func refuse(reason Reason, kv ...string) *Refusal {
	m := make(map[string]string, len(kv)/2)
	for i := 0; i+1 < len(kv); i += 2 {
		m[kv[i]] = kv[i+1]
	}
	return &Refusal{reason, m}
}

// need is a field that must be there.
type need struct {
	field string
	there bool
}

// missing refuses for the first need that is not met.
func missing(needs ...need) error {
	for _, n := range needs {
		if !n.there {
			return refuse(MissingField, "field", n.field)
		}
	}
	return nil
}

func outOfRange(field, value, accepted string) error {
	return refuse(OutOfRange, "field", field, "value", value, "accepted", accepted)
}

// span is an accepted range of numbers, in a unit for messages.
type span struct {
	field     string
	low, high float64
	unit      string
}

// check refuses a value outside; NaN is outside too.
func (s span) check(v float64) error {
	if v >= s.low && v <= s.high {
		return nil
	}
	accepted := number(s.low) + " to " + number(s.high)
	if s.unit != "" {
		accepted += " " + s.unit
	}
	return outOfRange(s.field, number(v), accepted)
}

// checkIf checks a value that may be missing.
func (s span) checkIf(v *float64) error {
	if v == nil {
		return nil
	}
	return s.check(*v)
}

// What is accepted. Common practice, no source: wide enough for any vehicle,
// narrow enough to catch a slip of a digit or of a unit.
var (
	torqueSpan    = span{"torque_nm", 0.5, 1500, "N·m"}
	gapSpan       = span{"gap_mm", 0, 40, "mm"}
	flushSpan     = span{"flush_mm", -20, 20, "mm"}
	targetSpan    = span{"target_mm", 0, 40, "mm"}
	toleranceSpan = span{"tolerance_mm", 0, 20, "mm"}
	widthSpan     = span{"width_mm", 0.5, 6000, "mm"}
	heightSpan    = span{"height_mm", 0.5, 6000, "mm"}
	diameterSpan  = span{"diameter_mm", 0.5, 6000, "mm"}
	depthSpan     = span{"depth_mm", 0.05, 200, "mm"}
	countSpan     = span{"count", 1, 500, ""}
	coatsSpan     = span{"coats", 1, 15, ""}
	// Nobody paints in frost; 0 on record is not said.
	coatTemperatureSpan = span{"temperature_c", 1, 60, "°C"}
)

const (
	maxAmount     = 10_000 // units of a material, exclusive
	maxReadings   = 50     // along one edge
	maxHours      = 16     // a person in one entry
	maxDayHours   = 24     // a person a day
	bookTolerance = 0.05   // a sign-off further off the book value is warned about
	impossible    = 2      // a sign-off so many times over or under it is a slip of a digit or a unit
)

func checkAmount(field string, v float64, zeroToo bool) error {
	if v > 0 && v < maxAmount && MicroOf(v) > 0 || zeroToo && v == 0 {
		return nil
	}
	accepted := "more than 0, less than 10000"
	if zeroToo {
		accepted = "0 or more, less than 10000"
	}
	return outOfRange(field, number(v), accepted)
}

func optional(v *float64) float64 {
	if v == nil {
		return 0
	}
	return *v
}

func checkDay(text string, now time.Time) (Day, error) {
	today, _ := dayOf(now)
	d, ok := ParseDay(text)
	oldest := max(today, 366) - 366
	if !ok || d > today || d < oldest {
		return 0, outOfRange("day", text, oldest.String()+" to "+today.String())
	}
	return d, nil
}
