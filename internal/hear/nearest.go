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
		}{{spanMaterial, "GetStock"}, {spanFastener, "LookUpTorque"}, {spanFind, "RecordFind"}, {spanEdge, "LookUpGap"}, {spanPanel, "ListFinds"}, {spanSupplier, "ListParts"}, {spanStage, "ReportHours"}, {spanJob, "GetStatus"}, {spanPerson, "ListNext"}} {
			if _, ok := r.weakest(about.span); ok {
				add(about.kind)
			}
		}
		for _, about := range []struct{ words, kind string }{
			{"snag snags", "ListSnags"}, {"extra extras price quote", "ListExtras"}, {"part parts order ordered supplier late", "ListParts"}, {"hour hours time", "ReportHours"},
			{"task tasks start next plan", "ListNext"}, {"brief customer", "GetBrief"}, {"coat coats paint spray dry sand flat recoat", "ListWindows"}, {"mix ratio", "PlanMix"},
			{"gap gaps shut", "LookUpGap"}, {"torque tighten nut bolt", "LookUpTorque"}, {"stock left shelf tin", "GetStock"}, {"money cost spent bill", "ReportMoney"}, {"done ready finish date", "Forecast"},
			{"remind reminder", "Remind"}, {"hold waiting stuck", "ListHolds"}, {"patch weld repair panel", "AdviseRepair"}, {"job jobs car vehicle", "ListJobs"},
		} {
			if r.hasAny(about.words) {
				add(about.kind)
			}
		}
	}
	return out
}
