package shop

import (
	"slices"
	"strings"
)

// fastenerSynonyms are other names of a fastener, normalised. Common practice,
// no source.
var fastenerSynonyms = map[string]string{
	"lug nut":               "wheel nut",
	"lugnut":                "wheel nut",
	"wheelnut":              "wheel nut",
	"road wheel nut":        "wheel nut",
	"lug bolt":              "wheel bolt",
	"drain plug":            "sump plug",
	"oil drain plug":        "sump plug",
	"oil plug":              "sump plug",
	"sump drain plug":       "sump plug",
	"sump bung":             "sump plug",
	"oil pan plug":          "sump plug",
	"head nut":              "cylinder head nut",
	"head bolt":             "cylinder head nut",
	"cylinder head bolt":    "cylinder head nut",
	"head stud nut":         "cylinder head nut",
	"brake calliper bolt":   "brake caliper bolt",
	"calliper bolt":         "caliper bolt",
	"sparkplug":             "spark plug",
	"seatbelt anchor":       "seat belt anchor",
	"belt anchor":           "seat belt anchor",
	"seat belt bolt":        "seat belt anchor",
	"seat belt anchor bolt": "seat belt anchor",
	"seat belt mount":       "seat belt anchor",
	"seatbelt bolt":         "seat belt anchor",
	"belt anchorage":        "seat belt anchor",
	"seat belt anchorage":   "seat belt anchor",
	"bell housing bolt":     "bellhousing bolt",
}

// positions are words that say which one of several; they are overlooked when
// nothing fits otherwise.
var positions = []string{"front", "rear", "left", "right", "nearside", "offside", "upper", "lower", "the"}

// normalFastener is a fastener's name for comparing: lower case, singular, one
// space between words, the common one of its names.
func normalFastener(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == ' ' || r == '-' || r == '_' || r == '\t' || r == '\n' })
	for i, w := range words {
		words[i] = singular(w)
	}
	n := strings.Join(words, " ")
	if common, ok := fastenerSynonyms[n]; ok {
		return common
	}
	return n
}

func singular(word string) string {
	switch {
	case len(word) < 4, strings.HasSuffix(word, "ss"), strings.HasSuffix(word, "us"):
		return word
	case strings.HasSuffix(word, "ches"), strings.HasSuffix(word, "xes"), strings.HasSuffix(word, "shes"):
		return strings.TrimSuffix(word, "es")
	}
	return strings.TrimSuffix(word, "s")
}

// fits tells how well a normalised name on record fits one asked for: 0 is the
// same, then one for each word more on record; -1 does not fit. A name with
// fewer words than asked fits only when what is missing says a position.
func fits(asked, on string) int {
	if asked == on {
		return 0
	}
	want, have := strings.Fields(asked), strings.Fields(on)
	if len(want) == 0 {
		return -1
	}
	overlooked := 0
	for _, w := range want {
		if slices.Contains(have, w) {
			continue
		}
		if !slices.Contains(positions, w) {
			return -1
		}
		overlooked++
	}
	if overlooked == len(want) {
		return -1
	}
	return len(have) - len(want) + 2*overlooked
}
