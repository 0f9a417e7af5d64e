package say

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	pb "bayword/proto/bayword/v1"
)

// Lengths in characters.
const (
	maxText   = 2900 // of a whole reply, with room below the 3,000 promised
	maxList   = 2400 // of the lines of a list, leaving room for what stands around it
	maxSaid   = 300  // of a text from a person
	maxNote   = 80   // of such a text inside a list
	maxLabel  = 75   // of a choice
	maxChoice = 5    // choices offered at once
)

// plain makes a text from outside safe to print: one line, no control or
// direction marks that could dress it up as something else, at most 300
// characters.
func plain(s string) string { return cut(clean(s, false), maxSaid) }

// short is plain for a text inside a list.
func short(s string) string { return cut(clean(s, false), maxNote) }

// clean keeps what can be seen. Zero-width joiners stay: emoji need them.
func clean(s string, newlines bool) string {
	s = strings.ToValidUTF8(s, "?")
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n' && newlines, r == '\u200d':
			return r
		case unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.C, r):
			return -1
		}
		return r
	}, s)
	if newlines {
		return s
	}
	return strings.Join(strings.Fields(s), " ")
}

// cut shortens to at most limit characters, the last a «…», at the end of a word
// where there is one in the second half.
func cut(s string, limit int) string {
	if utf8.RuneCountInString(s) <= limit {
		return s
	}
	kept := string([]rune(s)[:limit-1])
	if end := strings.LastIndexByte(string([]rune(s)[:limit]), ' '); end > len(kept)/2 {
		kept = kept[:min(end, len(kept))]
	}
	return strings.TrimRight(kept, " ,;:") + "…"
}

// text is a reply of these lines; empty ones are left out.
func text(lines ...string) Reply { return Reply{Text: fitted(maxText, lines)} }

// careful is text with a caution as its last line, which is never what gets cut.
func careful(caution string, lines ...string) Reply {
	if caution == "" {
		return text(lines...)
	}
	return Reply{Text: fitted(maxText-utf8.RuneCountInString(caution)-1, lines) + "\n" + caution}
}

// fitted joins lines to at most limit characters, and says how many lines were
// left out; the few characters that takes are part of maxText's room.
func fitted(limit int, lines []string) string {
	kept := make([]string, 0, len(lines))
	for _, l := range lines {
		if strings.TrimSpace(l) != "" {
			kept = append(kept, l)
		}
	}
	all := strings.Split(clean(strings.Join(kept, "\n"), true), "\n")
	shown, size := 0, 0
	for shown < len(all) && size+utf8.RuneCountInString(all[shown])+1 <= limit {
		size += utf8.RuneCountInString(all[shown]) + 1
		shown++
	}
	if shown == len(all) {
		return strings.Join(all, "\n")
	}
	if shown == 0 {
		return cut(all[0], limit)
	}
	return strings.Join(all[:shown], "\n") + "\n… and " + plural(len(all)-shown, "more line", "more lines")
}

// receipt is the reply to a write: what was recorded, then a line a warning. It
// is quiet unless there is something to be warned of.
func receipt(r *pb.Receipt, lines ...string) Reply {
	for _, w := range r.GetWarnings() {
		lines = append(lines, sentence(w))
	}
	reply := text(lines...)
	reply.Quiet = len(r.GetWarnings()) == 0
	return reply
}

// minded is receipt with a caution after it, which is not said quietly.
func minded(r *pb.Receipt, minding string, lines ...string) Reply {
	reply := receipt(r, append(lines, caution(minding))...)
	reply.Quiet = reply.Quiet && minding == ""
	return reply
}

// listed keeps as many items as fit and says how many more there are. Total
// counts those on later pages too; more says that there are some, uncounted.
func listed(items []string, total int, more bool) []string {
	shown, size := 0, 0
	for shown < len(items) && size+utf8.RuneCountInString(items[shown])+1 <= maxList {
		size += utf8.RuneCountInString(items[shown]) + 1
		shown++
	}
	out := append([]string(nil), items[:shown]...)
	switch left := max(total, len(items)) - shown; {
	case left > 0 && (total > 0 || !more):
		out = append(out, fmt.Sprintf("… and %d more", left))
	case left > 0 || more:
		out = append(out, "… and more")
	}
	return out
}

// place is «left sill», «left rear door», «left sill, front end», «roof».
func place(panel string, side pb.Side, end pb.End) string {
	out := plain(panel)
	if out == "" {
		out = "whole vehicle"
	}
	e := ends[end]
	if e != "" && panel == "door" {
		out, e = e+" "+out, ""
	}
	if s := sides[side]; s != "" {
		out = s + " " + out
	}
	if e != "" {
		out += ", " + e + " end"
	}
	return out
}

// sides names the sides worth saying: a centre panel is just itself.
var sides = map[pb.Side]string{pb.Side_SIDE_LEFT: "left", pb.Side_SIDE_RIGHT: "right"}

var ends = map[pb.End]string{pb.End_END_FRONT: "front", pb.End_END_REAR: "rear"}

var edges = map[pb.Edge]string{
	pb.Edge_EDGE_FRONT: "front", pb.Edge_EDGE_REAR: "rear", pb.Edge_EDGE_TOP: "top", pb.Edge_EDGE_BOTTOM: "bottom",
}

// upper makes the first letter a capital.
func upper(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}

// sentence is a plain text with a full stop; empty stays empty.
func sentence(s string) string {
	s = plain(s)
	if s == "" || strings.HasSuffix(s, "…") || strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return upper(s)
	}
	return upper(s) + "."
}

// stopped is a text from outside with a full stop, its first letter left alone.
func stopped(s string) string {
	s = plain(s)
	if s == "" || strings.HasSuffix(s, "…") || strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

// about is «head: a, b», or the head alone when nothing more is known.
func about(head string, rest ...string) string {
	if more := comma(rest...); more != "" {
		return head + ": " + more
	}
	return head
}

// comma joins what is not empty by commas.
func comma(parts ...string) string { return filled(", ", parts) }

// spaced joins what is not empty by spaces.
func spaced(parts ...string) string { return filled(" ", parts) }

func filled(sep string, parts []string) string {
	kept := make([]string, 0, len(parts))
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, sep)
}

// and is «a, b and c»; or is «a, b or c».
func and(parts []string) string { return series(parts, " and ") }
func or(parts []string) string  { return series(parts, " or ") }

func series(parts []string, last string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:len(parts)-1], ", ") + last + parts[len(parts)-1]
}

// plural is «1 find», «3 finds».
func plural(count int, one, many string) string {
	if count == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", count, many)
}
