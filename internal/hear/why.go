package hear

import (
	"fmt"
	"slices"
	"strings"
)

// Why tells how a message was understood: its tokens and spans, the kinds that
// competed with their scores for each part, and what was missing.
func (v *Vocabulary) Why(text string, c Context) string {
	var b strings.Builder
	text = clean(text)
	if len(text) > longest {
		return fmt.Sprintf("%d bytes: longer than the %d that are listened to\n", len(text), longest)
	}
	r := v.read(text, c.Now)
	b.WriteString("words:")
	for _, t := range r.toks {
		fmt.Fprintf(&b, " %s", t.text)
	}
	b.WriteString("\nspans:\n")
	for _, s := range r.spans {
		words := strings.TrimSpace(joinTokens(r.toks[s.from:s.to]))
		fmt.Fprintf(&b, "  %-12s %q", s.kind, words)
		switch {
		case s.kind == spanQuantity:
			fmt.Fprintf(&b, " = %v %s", s.value, s.unit)
		case s.kind == spanSize:
			fmt.Fprintf(&b, " = %v × %v mm", s.value, s.second)
		case s.kind == spanNumbered:
			fmt.Fprintf(&b, " = %s %v", s.id, s.value)
		case s.id != "":
			fmt.Fprintf(&b, " = %s", s.id)
		default:
			fmt.Fprintf(&b, " = one of %s", strings.Join(s.ids, ", "))
		}
		if s.weak {
			b.WriteString(" (weak)")
		}
		if s.landmark {
			b.WriteString(" (landmark)")
		}
		b.WriteString("\n")
	}
	for n, g := range v.split(r, c) {
		fmt.Fprintf(&b, "part %d:%s\n", n+1, g.r.text)
		type scored struct {
			name  string
			score float64
		}
		var list []scored
		for _, k := range kinds {
			if s := k.score(g.r, c); s > 0 {
				list = append(list, scored{k.name, s})
			}
		}
		slices.SortStableFunc(list, func(a, b scored) int {
			switch {
			case a.score > b.score:
				return -1
			case a.score < b.score:
				return 1
			}
			return 0
		})
		for _, s := range list {
			fmt.Fprintf(&b, "  %.2f %s\n", s.score, s.name)
		}
		if g.kind == nil {
			b.WriteString("  nothing clear enough\n")
		}
	}
	heard := v.Hear(text, c)
	for _, in := range heard.Intents {
		fmt.Fprintf(&b, "heard: %s", in.Kind)
		for _, f := range sortedKeys(in.Fields) {
			fmt.Fprintf(&b, " %s=%v", f, in.Fields[f])
		}
		if len(in.Missing) > 0 {
			fmt.Fprintf(&b, "; missing %s", strings.Join(in.Missing, ", "))
		}
		b.WriteString("\n")
	}
	if len(heard.Intents) == 0 {
		b.WriteString("heard: nothing for the bot\n")
	}
	return b.String()
}

func sortedKeys(f Fields) []string {
	out := make([]string, 0, len(f))
	for k := range f {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
