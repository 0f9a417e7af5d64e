package fastener

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	metricName = regexp.MustCompile(`^M ?(\d{1,2}(?:\.\d)?)(?: ?[X×*-] ?(\d(?:\.\d{1,3})?))?$`)
	inchName   = regexp.MustCompile(`^(#?\d{1,2}|\d{1,2}/\d{1,2})(?:(?: ?- ?| )(\d{2}|8|9))? ?(UNC|UNF|BSW|BSF|)$`)
	baName     = regexp.MustCompile(`^(?:(\d{1,2}) ?BA|BA ?(\d{1,2}))$`)
)

const threadForms = "write it like M10x1.5, M10, 7/16-20 UNF, 3/8 UNC, 1/4-26 BSF, 1/4 BSW or 2BA"

// ParseThread reads a thread's name: canonical ("M10x1.5", "7/16-20 UNF",
// "2BA") or without the pitch where the series settles it ("M10" is coarse,
// "3/8 UNC"). Only standard sizes and pitches are accepted. It fails with
// *InputError.
func ParseThread(name string) (Thread, error) {
	// Longer than any thread's name, however spaced.
	if len(name) > 64 {
		return Thread{}, refuse("thread", name, threadForms)
	}
	s := strings.ToUpper(strings.Join(strings.Fields(name), " "))
	if m := metricName.FindStringSubmatch(s); m != nil {
		return parseMetric(name, m[1], m[2])
	}
	if m := baName.FindStringSubmatch(s); m != nil {
		n, err := strconv.Atoi(m[1] + m[2])
		if all := Standard(BA); err == nil && n < len(all) {
			return all[n], nil
		}
		return Thread{}, refuse("thread", name, "BA goes from 0BA to 10BA")
	}
	if m := inchName.FindStringSubmatch(s); m != nil {
		return parseInch(name, m[1], m[2], Series(m[3]))
	}
	return Thread{}, refuse("thread", name, threadForms)
}

// parseMetric finds a metric thread; without a pitch the coarse one is meant.
func parseMetric(name, diameter, pitch string) (Thread, error) {
	d, err := strconv.ParseFloat(diameter, 64)
	if err != nil {
		return Thread{}, refuse("thread", name, threadForms)
	}
	p := 0.0
	if pitch != "" {
		if p, err = strconv.ParseFloat(pitch, 64); err != nil {
			return Thread{}, refuse("thread", name, threadForms)
		}
	}
	var known []Thread
	for _, series := range []Series{MetricCoarse, MetricFine} {
		for _, t := range Standard(series) {
			if t.majorMM != d {
				continue
			}
			if (pitch == "" && series == MetricCoarse) || math.Abs(t.pitchMM-p) < 1e-9 {
				return t, nil
			}
			known = append(known, t)
		}
	}
	if len(known) == 0 {
		return Thread{}, refuse("thread", name, "the metric sizes are %s, and fine pitches of these", names(Standard(MetricCoarse)))
	}
	return Thread{}, refuse("thread", name, "of this size there are %s", names(known))
}

// parseInch finds a thread of an inch series; what is left out, pitch or series,
// must follow from the rest.
func parseInch(name, size, pitch string, series Series) (Thread, error) {
	among := []Series{series}
	if series == "" {
		among = []Series{UNC, UNF, BSW, BSF}
	}
	var fit, known []Thread
	for _, s := range among {
		for _, t := range Standard(s) {
			// A number size may be written without its #.
			if t.size != size && t.size != "#"+size {
				continue
			}
			known = append(known, t)
			if pitch == "" || pitch == strconv.Itoa(t.tpi) {
				fit = append(fit, t)
			}
		}
	}
	switch {
	case len(fit) == 1:
		return fit[0], nil
	case len(fit) > 1:
		return Thread{}, refuse("thread", name, "say which: %s", names(fit))
	case len(known) > 0:
		return Thread{}, refuse("thread", name, "of this size there are %s", names(known))
	case series != "":
		return Thread{}, refuse("thread", name, "the %s threads are %s", series, names(Standard(series)))
	}
	return Thread{}, refuse("thread", name, threadForms)
}
