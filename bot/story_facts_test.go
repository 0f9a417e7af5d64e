package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc"

	pb "bayword/proto/bayword/v1"
)

// What must be on record when the story ends, counted by hand from what its
// people say, and never written by -update.
var (
	storyBrief = []string{
		"1 met: sills, rear arches and boot floor made properly sound",
		"2 met: it back in harbour blue, flat enough to shave in",
		"3 met: brakes gone right through, no corners cut",
		"4 open: the heater to blow hot on both sides",
		"5 met: a heated rear screen",
	}
	storyFinds = []string{
		"5 boot floor, hole, repaired by jonah, 1 photographs",
		"6 left sill, hole, repaired by idris, 2 photographs",
		"7 right sill, hole, repaired by idris, 0 photographs",
		"8 right rear arch, rust, repaired by idris, 3 photographs",
		"9 left a-post, crack, repaired by idris, 1 photographs",
		"10 bonnet, dent, repaired by mabel, 0 photographs",
		"11 front valance, filler, repaired by idris, 0 photographs",
		"12 left jacking point, rust, repaired by idris, 0 photographs",
	}
	storyGaps = []string{ // first readings, last readings
		"bonnet rear [5.2 5 5.1] [5 5 5.1]",
		"left door bottom [4 4.5 5] [4.5 4.5 4.6]",
		"left door front [6 5.5 5] [4.6 4.5 4.5]",
		"left door rear [3 3.5 4] [4.4 4.5 4.6]",
		"right door rear [4.5 4.5 5] [4.5 4.5 4.6]",
	}
	storyTorques = []string{ // torque, book
		"brake caliper bolt 62 62 tomasz",
		"wheel nut 76 76 tomasz",
		"seat belt anchor 38 38 priya",
	}
	storyCoats = []string{
		"2 epoxy-primer on whole body [EP2207]",
		"3 high-build on whole body [HB5503]",
		"1 high-build on bonnet [HB5503]",
		"3 basecoat-blue on whole body [BL1904]",
		"3 clearcoat on whole body [CL88]",
	}
	storyParts = []string{
		"5 outer sill x2 fitted, reproduction",
		"6 rear arch panel x1 returned, new_old_stock",
		"7 caliper seal kit x1 fitted, unspecified",
		"8 set of front pads and hoses x1 fitted, unspecified",
		"9 heated rear screen x1 fitted, used",
		"10 door seal set x1 fitted, unspecified",
		"11 rear arch panel x1 fitted, unspecified",
		"12 heater matrix x1 ordered, unspecified",
	}
	storyExtras = []string{
		"3 agreed for 364, finds [9 11]", // 7 h at £52
		"4 declined for 397, finds []",   // 6 h at £52, and £85
	}
	storySnags = []string{
		"2 closed: run in the clear on the os rear wing",
		"3 closed: dust nib on the bonnet",
		"4 closed: os window winder is stiff",
		"5 open: heated screen switch doesnt light up",
	}
	storyHours = map[string]float64{
		"strip":      23,   // 2 x 4.5 + 6 + 3 + 5
		"metal":      56.5, // 7 + 8 + 6 + 7.5 + 4 + 6 + 4 + 2 x 7
		"mechanical": 12,   // 5 + 5 + 2
		"paint":      37.5, // 5.5 + 5 + 7 + 6 + 8 + 6
		"trim":       16.5, // 3 + 6.5 + 7
		"assembly":   7,    // 2 + 2 + 3
	}
	// opening count, deliveries, uses, waste, as shop.yaml and the story have them
	storyStock = map[string]float64{
		"epoxy-primer":    3.2 + 4 - 2.4 - 0.2,
		"epoxy-hardener":  1.4 + 2 - 1.2,
		"high-build":      1.1 + 8 - 5.2 - 0.25,
		"primer-hardener": 0.9 + 2 - 1.3 - 0.06,
		"thinner":         7.5 - 0.65 - 0.03 - 2.6,
		"basecoat-blue":   4 + 2 - 2.6,
		"clearcoat":       6 + 5 - 2,
		"clear-hardener":  2.6 - 1,
		"stopper":         1.2 - 0.2,
		"cavity-wax":      2.5 - 1.5,
		"seam-sealer":     7, // the one used was deleted
		"mig-wire":        3.8 - 0.3 - 0.5,
		"shield-gas":      2 - 1,
		"steel-12":        1 - 0.4,
		"p80-discs":       64 - 12,
		"p320-sheets":     4 + 50, // counted, then delivered
		"trim-clips":      50 - 44,
	}
)

// endsAsCounted asks the server for the record of the job and for the shelf.
func endsAsCounted(t *testing.T, conn grpc.ClientConnInterface) {
	t.Helper()
	r, err := pb.NewHandoverServiceClient(conn).BuildRecord(t.Context(), &pb.BuildRecordRequest{Job: "dunnock"})
	require.NoError(t, err)
	assert.Equal(t, storyBrief, listed(r.GetBrief(), func(l *pb.BriefLine) string {
		state := "open"
		if l.GetMet() {
			state = "met"
		}
		return fmt.Sprintf("%d %s: %s", l.GetNumber(), state, l.GetText())
	}))
	assert.Equal(t, storyFinds, listed(r.GetFinds(), func(f *pb.FindRecord) string {
		found := f.GetFind()
		return fmt.Sprintf("%d %s, %s, repaired by %s, %d photographs", found.GetNumber(), sided(found.GetSide(), found.GetPanel()),
			word(found.GetKind(), "FIND_KIND_"), f.GetRepairedBy(), len(f.GetPhotos()))
	}))
	assert.ElementsMatch(t, storyGaps, listed(r.GetGaps(), func(g *pb.GapRecord) string {
		b := g.GetBefore()
		return fmt.Sprintf("%s %s %v %v", sided(b.GetSide(), b.GetPanel()), word(b.GetEdge(), "EDGE_"), b.GetGapMm(), g.GetAfter().GetGapMm())
	}))
	assert.Equal(t, storyTorques, listed(r.GetTorques(), func(s *pb.TorqueRecord) string {
		return fmt.Sprintf("%s %g %g %s", s.GetSignOff().GetFastener(), s.GetSignOff().GetTorqueNm(), s.GetReference().GetTorqueNm(), s.GetSignOff().GetPerson())
	}))
	assert.Equal(t, []string{"sump plug 34"}, listed(r.GetTorquesOpen(), func(b *pb.TorqueReference) string {
		return fmt.Sprintf("%s %g", b.GetFastener(), b.GetTorqueNm())
	}))
	assert.Equal(t, storyCoats, listed(r.GetCoats(), func(c *pb.CoatRecord) string {
		return fmt.Sprintf("%d %s on %s %v", c.GetCoat().GetCoats(), c.GetCoat().GetMaterial(), strings.Join(c.GetCoat().GetPanels(), ", "), c.GetBatches())
	}))
	assert.Equal(t, storyParts, listed(r.GetParts(), func(p *pb.Part) string {
		return fmt.Sprintf("%d %s x%d %s, %s", p.GetNumber(), p.GetPart(), p.GetQuantity(), word(p.GetState(), "PART_STATE_"), word(p.GetProvenance(), "PROVENANCE_"))
	}))
	assert.Equal(t, storyExtras, listed(r.GetExtras(), func(e *pb.Extra) string {
		return fmt.Sprintf("%d %s for %g, finds %v", e.GetNumber(), word(e.GetState(), "EXTRA_STATE_"), e.GetPrice(), e.GetFinds())
	}))
	assert.Equal(t, storySnags, listed(r.GetSnags(), func(s *pb.Snag) string {
		return fmt.Sprintf("%d %s: %s", s.GetNumber(), word(s.GetState(), "SNAG_STATE_"), s.GetText())
	}))
	for _, task := range r.GetTasks() {
		assert.Equal(t, pb.TaskState_TASK_STATE_DONE, task.GetState(), task.GetTitle())
	}
	assert.Len(t, r.GetTasks(), 8)
	assert.Len(t, r.GetPhotos(), 1, "the creased panel is with no find")
	logged := map[string]float64{}
	for _, h := range r.GetHours() {
		logged[h.GetStage()] = h.GetLogged()
	}
	assert.InDeltaMapValues(t, storyHours, logged, 1e-9)
	for material, want := range storyStock {
		s, err := pb.NewStockServiceClient(conn).GetStock(t.Context(), &pb.GetStockRequest{Material: material})
		require.NoError(t, err)
		assert.InDelta(t, want, s.GetStock().GetOnHand(), 1e-9, material)
	}
}

func listed[T any](all []T, line func(T) string) []string {
	lines := make([]string, len(all))
	for i, one := range all {
		lines[i] = line(one)
	}
	return lines
}

// word is a value of an enum without its prefix.
func word(v fmt.Stringer, prefix string) string {
	return strings.ToLower(strings.TrimPrefix(v.String(), prefix))
}

func sided(side pb.Side, panel string) string {
	switch side {
	case pb.Side_SIDE_LEFT, pb.Side_SIDE_RIGHT:
		return word(side, "SIDE_") + " " + panel
	}
	return panel
}
