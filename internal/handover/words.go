package handover

import (
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"google.golang.org/protobuf/types/known/timestamppb"

	"bayword/internal/unit"
	pb "bayword/proto/bayword/v1"
)

// clean makes a text from outside safe to print, whole: no control or direction
// marks that could dress it up as something else. Its lines stay.
func clean(s string) string {
	s = strings.ToValidUTF8(s, "?")
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\u200d': // emoji are joined by the latter
			return r
		case unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.C, r):
			return -1
		}
		return r
	}, strings.ReplaceAll(s, "\r\n", "\n"))
	return strings.TrimSpace(s)
}

// short is a text in one line of at most limit characters.
func short(s string, limit int) string {
	s = strings.Join(strings.Fields(clean(s)), " ")
	if utf8.RuneCountInString(s) <= limit {
		return s
	}
	return strings.TrimSpace(string([]rune(s)[:limit-1])) + "…"
}

// upper makes the first letter a capital.
func upper(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}

// comma joins what is not empty by commas.
func comma(parts ...string) string { return filled(", ", parts) }

// spaced joins what is not empty by spaces.
func spaced(parts ...string) string { return filled(" ", parts) }

// lines joins what is not empty by line ends.
func lines(parts ...string) string { return filled("\n", parts) }

func filled(sep string, parts []string) string {
	kept := make([]string, 0, len(parts))
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, sep)
}

// figureOf prints a number as it was recorded: up to three decimals, no trailing
// zeros.
func figureOf(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) >= 1e9 || (v != 0 && math.Abs(v) < 0.0005) {
		return unit.Number(v)
	}
	s := strconv.FormatFloat(v, 'f', 3, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// figures joins numbers by commas, signed where asked.
func figures(values []float64, signed bool) string {
	parts := make([]string, len(values))
	for i, v := range values {
		parts[i] = figureOf(v)
		if signed && v > 0 {
			parts[i] = "+" + parts[i]
		}
	}
	return strings.Join(parts, ", ")
}

// hours is «3.5 h», empty for none.
func hours(v float64) string {
	if v == 0 {
		return ""
	}
	return figureOf(v) + " h"
}

// counted is «2 ×», empty for none.
func counted(n uint32) string {
	if n == 0 {
		return ""
	}
	return strconv.FormatUint(uint64(n), 10) + " ×"
}

// numbered is «find 3».
func numbered(noun string, n uint32) string { return noun + " " + strconv.FormatUint(uint64(n), 10) }

var symbols = map[string]string{"GBP": "£", "EUR": "€", "USD": "$"}

// money is «£410.00», or «NOK 410.00» for a currency with no sign of its own here.
func money(currency string, v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) >= 1e12 {
		return unit.Number(v)
	}
	sign := ""
	if v < 0 {
		sign = "-"
	}
	digits := strconv.FormatFloat(math.Abs(v), 'f', 2, 64)
	whole, rest := digits[:len(digits)-3], digits[len(digits)-3:]
	for at := len(whole) - 3; at > 0; at -= 3 {
		whole = whole[:at] + "," + whole[at:]
	}
	if s := symbols[currency]; s != "" {
		return sign + s + whole + rest
	}
	return spaced(clean(currency), sign+whole+rest)
}

// price is money, empty when none was said.
func price(currency string, v float64) string {
	if v == 0 {
		return ""
	}
	return money(currency, v)
}

// place is «left sill», «left rear door», «left sill, front end», «roof».
func place(panel string, side pb.Side, end pb.End) string {
	out := clean(panel)
	if out == "" {
		out = "whole vehicle"
	}
	e := ends[end]
	if e != "" && panel == "door" {
		out, e = e+" "+out, ""
	}
	if e != "" {
		out += ", " + e + " end"
	}
	return spaced(sides[side], out)
}

var (
	sides = map[pb.Side]string{pb.Side_SIDE_LEFT: "left", pb.Side_SIDE_RIGHT: "right"} // a centre panel is just itself
	ends  = map[pb.End]string{pb.End_END_FRONT: "front", pb.End_END_REAR: "rear"}
	edges = map[pb.Edge]string{
		pb.Edge_EDGE_FRONT: "front edge", pb.Edge_EDGE_REAR: "rear edge", pb.Edge_EDGE_TOP: "top edge", pb.Edge_EDGE_BOTTOM: "bottom edge",
	}
	drives = map[string]string{"rhd": "right-hand drive", "lhd": "left-hand drive"}
)

// person shows who it was: ids are the shop's own, in small letters.
func person(id string) string { return upper(clean(id)) }

const (
	dayLayout    = "2 Jan 2006"
	momentLayout = "2 Jan 2006 15:04"
)

// moment writes a time in the shop's zone; empty when there is none.
func (w *writer) moment(at *timestamppb.Timestamp, layout string) string {
	if at == nil || at.CheckValid() != nil {
		return ""
	}
	return at.AsTime().In(w.zone).Format(layout)
}

// by is «Idris, 10 Mar 2026»; what came with the job says so.
func (w *writer) by(who string, at *timestamppb.Timestamp) string {
	if who == "" {
		return "brought in with the job"
	}
	return comma(person(who), w.moment(at, dayLayout))
}

// done is «by» after a word, empty when nobody did.
func (w *writer) done(word, who string, at *timestamppb.Timestamp) string {
	if who == "" && at == nil {
		return ""
	}
	return word + " " + comma(person(who), w.moment(at, dayLayout))
}

// dated writes a day given as 2026-03-10, or a local time given as
// 2026-03-10T14:00; any other text stays as it is.
func dated(s string) string {
	if t, err := time.Parse(time.DateOnly, s); err == nil {
		return t.Format(dayLayout)
	}
	if t, err := time.Parse("2006-01-02T15:04", s); err == nil {
		return t.Format(momentLayout)
	}
	return clean(s)
}
