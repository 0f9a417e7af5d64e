package hear

import "slices"

// findsHere returns the finds that anybody recorded here not long ago, newest first;
// the speaker's own when nobody else did.
func (c Context) findsHere() []Done {
	var out []Done
	for _, d := range append(slices.Clone(c.Here), c.Records...) {
		if d.Intent.Kind == "RecordFind" && d.Number > 0 && !slices.ContainsFunc(out, func(o Done) bool { return o.Number == d.Number }) {
			out = append(out, d)
		}
	}
	slices.SortStableFunc(out, func(a, b Done) int { return b.At.Compare(a.At) })
	return out
}

// panelSpokenOf is the newest thing with a panel that was spoken of here: the
// speaker's own last one, or a find of somebody else's.
func (c Context) panelSpokenOf() *Done {
	if c.Last.hasPanel() {
		return c.Last
	}
	for i := range c.Here {
		if d := &c.Here[i]; d.hasPanel() && (d.Intent.Kind == "RecordFind" || d.Intent.Kind == "AdviseRepair") {
			return d
		}
	}
	return nil
}

// lastExtraHere is the number of the extra that was proposed or decided about last,
// or 0.
func (c Context) lastExtraHere() int {
	for _, d := range append(slices.Clone(c.Here), c.Records...) {
		if (d.Intent.Kind == "ProposeExtra" || d.Intent.Kind == "DecideExtra") && d.Number > 0 {
			return d.Number
		}
	}
	return 0
}

// spokenOf reports that a kind was the last that anybody asked or recorded here.
func (c Context) spokenOf(kinds ...string) bool {
	return len(c.Here) > 0 && slices.Contains(kinds, c.Here[0].Intent.Kind) || c.Last != nil && slices.Contains(kinds, c.Last.Intent.Kind)
}

// preferSpoken takes «that wing» for the wing just spoken of.
func (c Context) preferSpoken(r *reading, in *Intent) {
	spoken := c.panelSpokenOf()
	if spoken == nil || !r.has("that", "the") || r.has("front", "rear", "back") {
		return
	}
	panel := spoken.Intent.text("panel")
	ids, _ := in.Fields["panel_choice"].([]string)
	if !(in.text("panel") == "front wing" && panel == "rear wing") && !slices.Contains(ids, panel) {
		return
	}
	in.set("panel", panel)
	delete(in.Fields, "panel_choice")
	if side := spoken.Intent.text("side"); side != "" && !in.has("side") {
		in.set("side", side)
	}
}
