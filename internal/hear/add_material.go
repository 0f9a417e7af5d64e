package hear

import (
	"regexp"
	"strings"
)

// addMaterial hears a new material for the list.
var addMaterial = kind{
	name:     "AddMaterial",
	write:    true,
	examples: []string{"new material: etch primer, litres, 1 litre tins, reorder at 2"},
	needs:    []string{"name", "unit"},
	score: func(r *reading, _ Context) float64 {
		if r.has("new material", "new stock item", "add a stock item", "add a material", "add material", "materials list", "add to materials", "list of materials", "stock list") && (r.has("new", "add", "put", "create")) {
			return 1.2
		}
		return 0
	},
	fill: func(r *reading, _ Context, in *Intent) {
		text := r.afterCue("materials list", "new material", "stock item", "add a material", "add material", "add to materials", "list of materials", "stock list")
		if text == "" && !r.has("material", "materials", "stock item") {
			text = r.after(r.lo) // the answer to what was missing
		}
		text = keyWord.ReplaceAllString(text, ", $1 ")
		parts := strings.FieldsFunc(text, func(c rune) bool { return c == ',' || c == ';' || c == '\n' })
		for i, p := range parts {
			p = strings.TrimSpace(strings.Trim(p, ".: "))
			low := " " + strings.ToLower(p) + " "
			switch {
			case p == "", strings.HasPrefix(low, " for the "), strings.HasPrefix(low, " please "), strings.HasPrefix(low, " to the "):
			case strings.HasPrefix(low, " id "):
				in.set("id", strings.TrimSpace(strings.ToLower(p[3:])))
			case strings.HasPrefix(low, " name "):
				in.set("name", strings.TrimSpace(p[5:]))
			case strings.Contains(low, "reorder") || strings.Contains(low, "re-order"):
				if v, ok := lastNumber(p); ok {
					in.set("reorder_at", v)
				}
			case strings.HasPrefix(low, " we have ") || strings.Contains(low, "on hand") || strings.Contains(low, "in stock") || strings.Contains(low, " got "):
				if v, ok := lastNumber(p); ok {
					in.set("on_hand", v)
				}
			case i == 0 && idLike.MatchString(p) && strings.Contains(strings.ToLower(text), "name "):
				in.set("id", strings.ToLower(p)) // «add material stone-chip, name stone chip»
			case isPackPart.MatchString(low):
				if v, ok := lastNumber(p); ok {
					in.set("pack", v)
				}
				fillUnit(low, in)
			case unitOfPart(low) != "" && (i > 0 || in.has("name")):
				fillUnit(low, in)
			case !in.has("name") && !isDigit(p[0]):
				in.set("name", strings.TrimPrefix(strings.TrimPrefix(p, "called "), "a "))
			}
		}
	},
}

var (
	idLike     = regexp.MustCompile(`^[\p{L}0-9]+(-[\p{L}0-9]+)+$`)
	isPackPart = regexp.MustCompile(` (pack|packs|bag|bags|box|boxes|tin|tins|tub|tubs|reel|reels|tube|tubes|drum|drums|bottle|bottles|roll|rolls|can|cans)( of)? `)
	keyWord    = regexp.MustCompile(`(?i)\s+(id|name|unit|pack|reorder|we have)\s+`)
	digits     = regexp.MustCompile(`\d+(?:\.\d+)?`)
)

func lastNumber(s string) (float64, bool) {
	all := digits.FindAllString(s, -1)
	if len(all) == 0 {
		return 0, false
	}
	return parseDigits(all[len(all)-1])
}

// unitOfPart returns the unit a part of the message names, or "".
func unitOfPart(low string) string {
	switch {
	case strings.Contains(low, "litre") || strings.Contains(low, " l ") || strings.Contains(low, "liter") || strings.Contains(low, " ml "):
		return "L"
	case strings.Contains(low, "kilo") || strings.Contains(low, " kg ") || strings.Contains(low, "gram"):
		return "kg"
	case strings.Contains(low, "square met") || strings.Contains(low, " m2 ") || strings.Contains(low, "sqm"):
		return "m2"
	case strings.Contains(low, "each") || strings.Contains(low, "piece") || strings.Contains(low, "counted") || strings.Contains(low, "by number"):
		return "each"
	}
	return ""
}

func fillUnit(low string, in *Intent) {
	if u := unitOfPart(low); u != "" && !in.has("unit") {
		in.set("unit", u)
	}
}

// afterCue returns the message's own text behind the first of the cues.
func (r *reading) afterCue(cues ...string) string {
	for _, cue := range cues {
		words := strings.Fields(cue)
		for i := r.lo; i+len(words) <= r.hi; i++ {
			match := true
			for k, w := range words {
				if r.word(i+k) != w {
					match = false
					break
				}
			}
			if match {
				return r.after(i + len(words))
			}
		}
	}
	return ""
}
