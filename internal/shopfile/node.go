package shopfile

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"bayword/internal/shop"
)

// maxErrors is how many errors are told at once.
const maxErrors = 20

// reader collects what is wrong with a file.
type reader struct {
	file string
	errs []error
}

// wrong notes an error at a node: what it is, its value, what is accepted.
func (r *reader) wrong(n *yaml.Node, what, value, accepted string) {
	if len(r.errs) < maxErrors {
		r.errs = append(r.errs, fmt.Errorf("%s:%d: %s: %q: %s", r.file, n.Line, what, clip(value), accepted))
	}
}

func (r *reader) err() error { return errors.Join(r.errs...) }

func clip(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

// value shows a node in an error.
func value(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "{…}"
	case yaml.SequenceNode:
		return "[…]"
	case yaml.AliasNode:
		return "*" + n.Value
	}
	return n.Value
}

// object is a mapping whose keys are known.
type object struct {
	*reader
	node *yaml.Node
	what string
	at   map[string]*yaml.Node
}

// object reads a mapping; keys that are not known, or come twice, are errors.
func (r *reader) object(n *yaml.Node, what string, known ...string) object {
	o := object{r, n, what, map[string]*yaml.Node{}}
	if n.Kind != yaml.MappingNode {
		r.wrong(n, what, value(n), "must be a mapping of keys to values")
		return o
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		switch _, twice := o.at[key.Value]; {
		case len(known) > 0 && !slices.Contains(known, key.Value):
			r.wrong(key, "unknown key of "+what, key.Value, "accepted are "+strings.Join(known, ", "))
		case twice:
			r.wrong(key, "key of "+what, key.Value, "must come once")
		default:
			o.at[key.Value] = n.Content[i+1]
		}
	}
	return o
}

// list gives the items of a sequence; nothing when the key is not there.
func (o object) list(key string) []*yaml.Node {
	n, ok := o.at[key]
	if !ok {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		o.wrong(n, o.what+" "+key, value(n), "must be a list")
		return nil
	}
	return n.Content
}

// need notes that a key is not there.
func (o object) need(key string) {
	o.wrong(o.node, o.what, key, "this key must be there")
}

func (o object) scalar(key string, needed bool) (*yaml.Node, bool) {
	n, ok := o.at[key]
	switch {
	case !ok:
		if needed && o.node.Kind == yaml.MappingNode {
			o.need(key)
		}
		return o.node, false
	case n.Kind != yaml.ScalarNode || n.Tag == "!!null":
		o.wrong(n, o.what+" "+key, value(n), "must be one value")
		return n, false
	}
	return n, true
}

// text reads a text; an empty one counts as not there.
func (o object) text(key string, needed bool) string {
	n, ok := o.scalar(key, needed)
	if !ok {
		return ""
	}
	return o.clean(n, key, needed)
}

func (o object) clean(n *yaml.Node, key string, needed bool) string {
	const most = 2000
	s := strings.TrimSpace(n.Value)
	switch {
	case needed && s == "":
		o.wrong(n, o.what+" "+key, s, "must not be empty")
	case utf8.RuneCountInString(s) > most:
		o.wrong(n, o.what+" "+key, s, fmt.Sprintf("at most %d characters", most))
		return ""
	case !utf8.ValidString(s) || strings.ContainsFunc(s, unicode.IsControl):
		o.wrong(n, o.what+" "+key, s, "must be plain text")
		return ""
	}
	return s
}

// texts reads a list of texts.
func (o object) texts(key string) []string {
	var all []string
	for _, n := range o.list(key) {
		if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
			o.wrong(n, o.what+" "+key, value(n), "must be a text")
			continue
		}
		all = append(all, o.clean(n, key, true))
	}
	return all
}

// id reads an id and notes it in a set; it must be new.
func (o object) id(known set) string {
	n, ok := o.scalar("id", true)
	if !ok {
		return ""
	}
	const most = 40
	switch {
	case n.Value == "" || n.Value != shop.Slug(n.Value) || len(n.Value) > most:
		o.wrong(n, o.what+" id", n.Value, "must be 1 to 40 lower-case letters, digits and hyphens")
	case known.has(n.Value):
		o.wrong(n, o.what+" id", n.Value, "is there already")
	default:
		known.add(n.Value)
	}
	return n.Value
}

// number reads a number from low to high.
func (o object) number(key string, needed bool, low, high float64) float64 {
	n, ok := o.scalar(key, needed)
	if !ok {
		return 0
	}
	return o.numberAt(n, key, low, high)
}

func (o object) numberAt(n *yaml.Node, key string, low, high float64) float64 {
	v, err := strconv.ParseFloat(n.Value, 64)
	if n.Kind != yaml.ScalarNode || n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 || err != nil || math.IsNaN(v) || v < low || v > high {
		o.wrong(n, o.what+" "+key, value(n), fmt.Sprintf("must be a number from %v to %v", low, high))
		return 0
	}
	return v
}

func (o object) numbers(key string, low, high float64) []float64 {
	var all []float64
	for _, n := range o.list(key) {
		all = append(all, o.numberAt(n, key, low, high))
	}
	return all
}

func (o object) micro(key string, needed bool) shop.Micro {
	return shop.MicroOf(o.number(key, needed, 0, 100_000))
}

// whole reads a whole number from low to high.
func (o object) whole(key string, needed bool, low, high int) int {
	n, ok := o.scalar(key, needed)
	if !ok {
		return 0
	}
	v, err := strconv.Atoi(n.Value)
	if err != nil || v < low || v > high {
		o.wrong(n, o.what+" "+key, n.Value, fmt.Sprintf("must be a whole number from %d to %d", low, high))
		return 0
	}
	return v
}

const maxNumber = 60_000

// numbered reads the id of something numbered and notes it; it must be new.
func (o object) numbered(known set) int {
	v := o.whole("id", true, 1, maxNumber)
	id := strconv.Itoa(v)
	if v > 0 && known.has(id) {
		o.wrong(o.at["id"], o.what+" id", id, "is there already")
	}
	known.add(id)
	return v
}

func (o object) truth(key string) bool {
	n, ok := o.scalar(key, false)
	if ok && n.Value != "true" && n.Value != "false" {
		o.wrong(n, o.what+" "+key, n.Value, "must be true or false")
	}
	return ok && n.Value == "true"
}

// oneOf reads a text that must be one of a few.
func (o object) oneOf(key string, needed bool, names ...string) string {
	n, ok := o.scalar(key, needed)
	if !ok || n.Value == "" && !needed {
		return ""
	}
	if !slices.Contains(names, n.Value) {
		o.wrong(n, o.what+" "+key, n.Value, "accepted are "+strings.Join(names, ", "))
		return ""
	}
	return n.Value
}

// of reads a text that must be in a set.
func (o object) of(key string, needed bool, known set) string {
	return o.oneOf(key, needed, known.names()...)
}

func (o object) day(key string) shop.Day {
	n, ok := o.scalar(key, false)
	if !ok {
		return 0
	}
	d, ok := shop.ParseDay(n.Value)
	if !ok {
		o.wrong(n, o.what+" "+key, n.Value, "must be a day such as 2026-03-10")
	}
	return d
}

func (o object) moment(key string, zone *time.Location) time.Time {
	n, ok := o.scalar(key, true)
	if !ok {
		return time.Time{}
	}
	t, err := time.ParseInLocation("2006-01-02T15:04", n.Value, zone)
	if err != nil {
		o.wrong(n, o.what+" "+key, n.Value, "must be a moment such as 2026-03-10T14:00")
	}
	return t.UTC()
}

func (o object) side() shop.Side {
	s, _ := shop.ParseSide(o.oneOf("side", false, "left", "right", "centre"))
	return s
}

func (o object) edge(key string) shop.Edge {
	e, _ := shop.ParseEdge(o.oneOf(key, false, "front", "rear", "top", "bottom"))
	return e
}

func (o object) panel(key string) string { return o.oneOf(key, true, shop.Panels()...) }

// set is names in the order they came.
type set struct {
	at   map[string]bool
	list *[]string
}

func newSet() set { return set{map[string]bool{}, new([]string)} }

func (s set) has(name string) bool { return s.at[name] }

func (s set) add(name string) {
	if !s.at[name] {
		s.at[name] = true
		*s.list = append(*s.list, name)
	}
}

func (s set) names() []string { return *s.list }
