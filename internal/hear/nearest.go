package hear

import "slices"

// Concerns reports that a message names things of the shop, so that it may have
// been meant for the bot.
func (v *Vocabulary) Concerns(text string, c Context) bool {
	if text = clean(text); len(text) > longest {
		return false
	}
	r := v.read(text, c.Now)
	return slices.ContainsFunc(r.spans, func(s span) bool {
		return !s.weak && (s.kind == spanMaterial || s.kind == spanFastener || s.kind == spanPanel || s.kind == spanFind)
	})
}

// Nearest returns the kinds that a message came closest to, best first, at
// most three: what to offer when nothing was clear enough.
func (v *Vocabulary) Nearest(text string, c Context) []string {
	var out []string
	add := func(kind string) {
		if v.kinds[kind] && !slices.Contains(out, kind) && len(out) < 3 {
			out = append(out, kind)
		}
	}
	if text = clean(text); len(text) <= longest {
		r := v.read(text, c.Now)
		type scored struct {
			name  string
			score float64
		}
		var list []scored
		for _, k := range kinds {
			if s := k.score(r, c); s > 0 {
				list = append(list, scored{k.name, s})
			}
		}
		slices.SortStableFunc(list, func(a, b scored) int { return int(100*b.score) - int(100*a.score) })
		for _, s := range list {
			add(s.name)
		}
		for _, about := range []struct {
			span spanKind
			kind string
		}{{spanMaterial, "GetStock"}, {spanFastener, "LookUpTorque"}, {spanPanel, "RecordFind"}} {
			if _, ok := r.weakest(about.span); ok {
				add(about.kind)
			}
		}
	}
	for _, k := range []string{"GetStock", "LookUpTorque", "RecordFind"} {
		add(k)
	}
	return out
}
