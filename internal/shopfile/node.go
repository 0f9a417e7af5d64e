package shopfile

import (
	"crypto/sha256"
	"encoding/hex"
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
	file string // the one being read
	errs []error
}

// wrong notes an error at a node: what it is, its value, what is accepted.
func (r *reader) wrong(n *yaml.Node, what, value, accepted string) {
	r.fail(fmt.Errorf("%s:%d: %s: %q: %s", r.file, n.Line, what, clip(value), accepted))
}

func (r *reader) fail(err error) {
	if len(r.errs) < maxErrors {
		r.errs = append(r.errs, err)
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

// maxText is how many characters a text may have: an extra may say the words of
// twenty finds.
const maxText = 50_000

func (o object) clean(n *yaml.Node, key string, needed bool) string {
	s := strings.TrimSpace(n.Value)
	switch {
	case needed && s == "":
		o.wrong(n, o.what+" "+key, s, "must not be empty")
	case utf8.RuneCountInString(s) > maxText:
		o.wrong(n, o.what+" "+key, s, fmt.Sprintf("at most %d characters", maxText))
		return ""
	case !utf8.ValidString(s) || strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }):
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

func (o object) figures(key string, low, high float64) []float64 {
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
	return o.wholeAt(n, key, low, high)
}

func (o object) wholeAt(n *yaml.Node, key string, low, high int) int {
	v, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || err != nil || v < low || v > high {
		o.wrong(n, o.what+" "+key, value(n), fmt.Sprintf("must be a whole number from %d to %d", low, high))
		return 0
	}
	return v
}

const maxNumber = 60_000

// numbered reads the id of something numbered and notes it with the job it is on;
// it must be new.
func (o object) numbered(known numbers, job string) int {
	v := o.whole("id", true, 1, maxNumber)
	if _, twice := known[v]; v > 0 && twice {
		o.wrong(o.at["id"], o.what+" id", strconv.Itoa(v), "is there already")
	}
	known[v] = job
	return v
}

// about reads the number of a thing that is there.
func (o object) about(key string, known numbers) int {
	v := o.whole(key, true, 1, maxNumber)
	if _, ok := known[v]; v > 0 && !ok {
		o.wrong(o.at[key], o.what+" "+key, strconv.Itoa(v), "must be the number of one that is there")
	}
	return v
}

// numbers are the numbers of things of one noun, each with the job it is on.
type numbers map[int]string

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
	return o.dayAt(n, key)
}

func (o object) dayAt(n *yaml.Node, key string) shop.Day {
	d, ok := shop.ParseDay(n.Value)
	if !ok {
		o.wrong(n, o.what+" "+key, value(n), "must be a day such as 2026-03-10")
	}
	return d
}

func (o object) days(key string) []shop.Day {
	var all []shop.Day
	for _, n := range o.list(key) {
		all = append(all, o.dayAt(n, key))
	}
	return all
}

// minute is a moment as people in the shop say it.
const minute = "2006-01-02T15:04"

// moment reads a moment: local, or with its offset from UTC.
func (o object) moment(key string, needed bool, zone *time.Location) time.Time {
	n, ok := o.scalar(key, needed)
	if !ok {
		return time.Time{}
	}
	t, err := time.ParseInLocation(minute, n.Value, zone)
	if err != nil {
		t, err = time.Parse(time.RFC3339, n.Value)
	}
	if err != nil {
		o.wrong(n, o.what+" "+key, n.Value, "must be a moment such as 2026-03-10T14:00, local, or 2026-03-10T14:00:00Z")
	}
	return t.UTC().Truncate(time.Millisecond)
}

func (o object) side() shop.Side {
	s, _ := shop.ParseSide(o.oneOf("side", false, "left", "right", "centre"))
	return s
}

func (o object) end() shop.End {
	return shop.End(slices.Index([]string{"", "front", "rear"}, o.oneOf("end", false, "front", "rear")))
}

func (o object) edge(key string) shop.Edge {
	e, _ := shop.ParseEdge(o.oneOf(key, false, "front", "rear", "top", "bottom"))
	return e
}

func (o object) panel() string { return o.oneOf("panel", true, shop.Panels()...) }

// photo reads a photograph: its hash, or a hyphen when the content was not kept, and
// its name.
func (o object) photo(text string) shop.Photo {
	sum, name, _ := strings.Cut(text, " ")
	hash, err := hex.DecodeString(sum)
	if sum != noHash && (err != nil || len(hash) != sha256.Size || sum != strings.ToLower(sum)) {
		o.wrong(o.at["photos"], o.what+" photos", text, "must be the SHA-256 of its content in lower case, or -, then a space and its name")
	}
	return shop.Photo{Name: strings.TrimSpace(name), SHA256: strings.TrimPrefix(sum, noHash)}
}

const noHash = "-"

// scalar and mapping make nodes of what a file does not write as YAML does.
func scalar(line int, text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text, Line: line}
}

func mapping(line int, content ...*yaml.Node) *yaml.Node {
	return &yaml.Node{Kind: yaml.MappingNode, Line: line, Content: content}
}

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
