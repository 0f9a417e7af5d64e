package hear

import "slices"

// adviseRepair hears the question whether to patch or to replace.
var adviseRepair = kind{
	name:     "AdviseRepair",
	examples: []string{"patch or panel on the ns rear wing", "is the left sill worth patching"},
	needs:    []string{"job", "panel", "side"},
	score: func(r *reading, c Context) float64 {
		spoken := c.panelSpokenOf()
		_, place := r.first(spanPanel)
		plain := r.without(spanPanel) // the rear panel is no new panel
		repair := plain.hasAny("patch patching patched repair repairing repairable repaired mend mending save saving saved savable saveable salvage salvaging weld welding plate plating plated fix fixing chop") || plain.has("let in", "let a", "letting in", "letting a", "get away with", "cut out", "cut the rot", "cut it out", "come off", "a piece in")
		instead := plain.hasAny("panel replace replacing replacement renew renewing reskin reskinning new whole full another bin scrap section skin lot buy buying order beyond knackered half") || plain.has("too far gone", "past it", "come off") || place && r.has("patch or", "plate or", "weld or", "repair or")
		asks := r.asking() || r.hasAny("advise advice reckon recommend") || r.has("or what", "can that", "can this", "can it", "could that", "do i", "do we", "would you", "would we", "should we", "should i", "are we", "does it", "is it", "is that", "is the", "can we", "can i", "could we", "whats best", "better to", "best to")
		or := r.has("or", "versus", "vs", "instead of", "rather than", "or what")
		if r.has("torque", "extra", "coat", "coats", "hours", "ordered", "snag") || len(r.all(spanMaterial)) > 0 {
			return 0
		}
		if place && asks && r.has("patch over", "go over the rust", "fill the hole", "fill it", "braze", "fibreglass", "glass over", "rivet") || place && r.starts("can i just", "can i weld", "can i fill", "can i patch", "can we patch", "can we fill", "can i braze") && !r.has("paint", "spray") {
			return 1.2 // the answer carries its caution
		}
		switch {
		case len(r.findsCalled(c)) > 0 && asks && r.has("what would you do", "what do you reckon", "what do we do", "what should we do", "whats best") && r.has("about", "with"):
			return 1
		case spoken.hasPanel() && c.Last.isFind() && r.has("what would you do with it", "what would you do with that", "what do i do with it", "what do we do with it"):
			return 1
		case spoken.hasPanel() && r.has("pull that or", "pull it or", "beat it out or", "dress it or", "dress that or", "knock it out or") && r.hasAny("new skin panel replace bin"):
			return 1.1
		case place && r.has("beat it out or", "dress it or", "knock it out or", "pull it or") && (instead || r.has("cut it")):
			return 1.1
		case place && asks && r.has("be welded or", "weld or", "welded or"):
			return 1.2
		case spoken.hasPanel() && r.has("patch it", "patch that", "weld it up", "plate it") && (r.asking() && r.hi-r.lo <= 4 || r.has("reckon") && r.hi-r.lo <= 6), spoken.hasPanel() && r.has("a patch or what", "a patch or a panel", "patch that or", "patch it or", "plate it or", "leave it or patch"):
			return 1.1
		case place && asks && r.has("or patch", "patch or", "or repair", "repair or", "patch it or"):
			return 1.25
		case place && repair && instead && (or || asks):
			return 1.25
		case place && asks && plain.hasAny("savable saveable saving repairable salvage patching"):
			return 1.2
		case place && plain.hasAny("worth past beyond") && repair:
			return 1.15
		case place && repair && asks && (plain.hasAny("advise advice how best bother recommend reckon any") || plain.has("would you", "should we", "what would you", "whats the best")):
			return 1.1
		case place && asks && plain.hasAny("replace replacing replacement") && !r.has("did", "when", "who"):
			return 1.05
		case place && r.has("what would you do", "what do you reckon", "what should we do", "what do we do", "what shall we do", "whats your advice", "advise") && r.has("with", "about", "on"):
			return 0.95
		case repair && instead && or && (spoken.hasPanel() || c.Addressed || r.panelWord()):
			return 1.1
		}
		return 0
	},
	fill: func(r *reading, c Context, in *Intent) {
		spoken := c.panelSpokenOf()
		fillJob(r, in)
		fillPlace(r, in)
		if spoken.hasPanel() && in.text("panel") == "front wing" && spoken.Intent.text("panel") == "rear wing" && !r.has("front") {
			in.set("panel", "rear wing") // «the wing» just spoken of
		}
		if ids, _ := in.Fields["panel_choice"].([]string); spoken.hasPanel() && slices.Contains(ids, spoken.Intent.text("panel")) {
			in.set("panel", spoken.Intent.text("panel")) // «the wing» just spoken of
			delete(in.Fields, "panel_choice")
		}
		called := r.findsCalled(c)
		if panel := in.text("panel"); panel != "" {
			called = slices.DeleteFunc(called, func(d Done) bool { return d.Intent.text("panel") != panel || in.has("side") })
		}
		if len(called) > 0 {
			placeOf(called, in)
			return
		}
		for _, d := range c.findsHere() {
			if panel := in.text("panel"); panel != "" && !in.has("side") && d.Intent.text("panel") == panel && d.Intent.has("side") {
				in.set("side", d.Intent.text("side"))
			}
		}
		if in.has("panel") && !in.has("side") && spoken.hasPanel() && spoken.Intent.text("panel") == in.text("panel") && spoken.Intent.text("side") != "" {
			in.set("side", spoken.Intent.text("side")) // «… patch it or new sill?»
		}
		// «panel» and «skin» may be what is bought, not where it is.
		if !in.has("panel") && spoken.hasPanel() {
			in.set("panel", spoken.Intent.text("panel"))
			if side := spoken.Intent.text("side"); side != "" && !in.has("side") {
				in.set("side", side)
			}
			if job := spoken.Intent.text("job"); job != "" && !in.has("job") {
				in.set("job", job)
			}
		}
	},
}

// placeOf sets the place of a find recorded before, or the panels to choose from
// when several are meant.
func placeOf(finds []Done, in *Intent) {
	var panels []string
	for _, d := range finds {
		if p := d.Intent.text("panel"); !slices.Contains(panels, p) {
			panels = append(panels, p)
		}
	}
	if len(panels) > 1 {
		in.set("panel_choice", panels)
		return
	}
	for _, f := range []string{"job", "panel", "side", "end"} {
		if finds[0].Intent.has(f) && !in.has(f) {
			in.set(f, finds[0].Intent.Fields[f])
		}
	}
}

// panelWord reports that a panel is plainly meant, though none is named.
func (r *reading) panelWord() bool { return r.has("panel", "panels", "rust", "rot", "metal") }

func (d *Done) hasPanel() bool { return d != nil && d.Intent.text("panel") != "" }
