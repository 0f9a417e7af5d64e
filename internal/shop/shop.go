// Package shop is the workshop's state and its rules, pure: events fold into a
// State, and a request is decided on a State and a moment into one event or a
// Refusal. It does no I/O, reads no clock and knows neither the API's messages
// nor the stored ones. Of the module it may import only internal/calc/fastener.
//
// A record is an event that a person can mend: it is known by the sequence
// number of its first entry for good. Amended replaces what a record says and
// leaves it where it stands in time; Undone takes it out. All derived figures
// come from the records that stand, so they are the same whatever the order in
// which corrections arrive.
package shop

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// Micro is an amount or a number of hours in millionths, so that sums are exact.
type Micro int64

// MicroOf rounds to a millionth.
func MicroOf(f float64) Micro { return Micro(math.Round(f * 1e6)) }

// Float is the number of whole units.
func (m Micro) Float() float64 { return float64(m) / 1e6 }

func (m Micro) String() string { return number(m.Float()) }

// number writes f without needless digits.
func number(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// Side of the vehicle as seen sitting in it.
type Side uint8

// Sides; the zero value is «not said».
const (
	Left Side = iota + 1
	Right
	Centre
)

func (s Side) String() string { return nameOf(sideNames[:], s) }

// End says which door, or which end of a sill.
type End uint8

// Ends; the zero value is «not said».
const (
	FrontEnd End = iota + 1
	RearEnd
)

func (e End) String() string { return nameOf(endNames[:], e) }

// Edge of a hung panel.
type Edge uint8

// Edges; the zero value is «not said» or «all round».
const (
	FrontEdge Edge = iota + 1
	RearEdge
	TopEdge
	BottomEdge
)

func (e Edge) String() string { return nameOf(edgeNames[:], e) }

// FindKind says what was found.
type FindKind uint8

// Kinds of find; the zero value is «not said».
const (
	Hole FindKind = iota + 1
	Rust
	Pitting
	Dent
	Filler
	OldRepair
	Crack
	Missing
	PaintFault
)

func (k FindKind) String() string { return nameOf(findKindNames[:], k) }

// Role says what a person may do.
type Role uint8

// Roles; the zero value is a person the shop does not know.
const (
	Lead Role = iota + 1
	Tradesperson
	Apprentice
)

func (r Role) String() string { return nameOf(roleNames[:], r) }

// Stage of the work on a vehicle.
type Stage uint8

// Stages in the order of the work; the zero value is «not said».
const (
	Strip Stage = iota + 1
	Metal
	Paint
	Mechanical
	Trim
	Assembly
	stages = iota + 1 // how many, with the zero value
)

func (s Stage) String() string { return nameOf(stageNames[:], s) }

// MoveKind says what happened to the shelf.
type MoveKind uint8

// Kinds of stock movement.
const (
	Use MoveKind = iota + 1
	Delivery
	Count
	Waste
)

func (k MoveKind) String() string { return nameOf(moveNames[:], k) }

var (
	sideNames     = [...]string{"", "left", "right", "centre"}
	endNames      = [...]string{"", "front", "rear"}
	edgeNames     = [...]string{"", "front", "rear", "top", "bottom"}
	findKindNames = [...]string{"", "hole", "rust", "pitting", "dent", "filler", "old_repair", "crack", "missing", "paint"}
	roleNames     = [...]string{"", "lead", "tradesperson", "apprentice"}
	stageNames    = [...]string{"", "strip", "metal", "paint", "mechanical", "trim", "assembly"}
	moveNames     = [...]string{"", "use", "delivery", "count", "waste"}
	unitNames     = [...]string{"L", "kg", "m2", "each"}
)

func nameOf[T ~uint8](names []string, v T) string {
	if int(v) < len(names) {
		return names[v]
	}
	return ""
}

func parseName[T ~uint8](names []string, s string) (T, bool) {
	for i, n := range names {
		if n == s && s != "" {
			return T(i), true
		}
	}
	return 0, false
}

// ParseSide, ParseEdge, ParseFindKind, ParseRole and ParseStage read the names
// that String writes; false for any other text.
func ParseSide(s string) (Side, bool)         { return parseName[Side](sideNames[:], s) }
func ParseEdge(s string) (Edge, bool)         { return parseName[Edge](edgeNames[:], s) }         //nolint:revive // see ParseSide
func ParseFindKind(s string) (FindKind, bool) { return parseName[FindKind](findKindNames[:], s) } //nolint:revive // see ParseSide
func ParseRole(s string) (Role, bool)         { return parseName[Role](roleNames[:], s) }         //nolint:revive // see ParseSide
func ParseStage(s string) (Stage, bool)       { return parseName[Stage](stageNames[:], s) }       //nolint:revive // see ParseSide

// Units, Stages and FindKinds list what is accepted, for messages.
func Units() []string     { return append([]string(nil), unitNames[:]...) }
func Stages() []string    { return append([]string(nil), stageNames[1:]...) }    //nolint:revive // see Units
func FindKinds() []string { return append([]string(nil), findKindNames[1:]...) } //nolint:revive // see Units

// Day is a calendar day as days since 2000-01-01; the zero value is that day, or
// «not said» where a day may be missing.
type Day uint16

const dayLayout = "2006-01-02"

var firstDay = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// ParseDay reads 2026-03-10; false for any other text and for days before
// 2000-01-02 or after 2179.
func ParseDay(s string) (Day, bool) {
	t, err := time.Parse(dayLayout, s)
	if err != nil {
		return 0, false
	}
	return dayOf(t)
}

func dayOf(t time.Time) (Day, bool) {
	y, m, d := t.Date()
	n := time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(firstDay) / (24 * time.Hour)
	if n <= 0 || n > math.MaxUint16 {
		return 0, false
	}
	return Day(n), true
}

func (d Day) String() string {
	if d == 0 {
		return ""
	}
	return firstDay.AddDate(0, 0, int(d)).Format(dayLayout)
}

// Slug makes an id of a name: lower case, digits and hyphens.
func Slug(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-")
}
