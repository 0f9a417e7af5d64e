package service_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"bayword/internal/ledger"
	pb "bayword/proto/bayword/v1"
)

// handed gives the record of a job.
func (b *bench) handed(job string) *pb.BuildRecordResponse {
	b.t.Helper()
	r, err := b.svc.BuildRecord(b.t.Context(), &pb.BuildRecordRequest{Origin: b.by("wren"), Job: job})
	require.NoError(b.t, err)
	return r
}

// gap records readings along an edge.
func (b *bench) gap(job, panel string, side pb.Side, edge pb.Edge, gaps ...float64) uint64 {
	b.t.Helper()
	resp, err := b.gaps.RecordGap(b.t.Context(), &pb.RecordGapRequest{
		Origin: b.by("idris"), RequestId: b.id(), Job: job, Panel: panel, Side: side, Edge: edge, GapMm: gaps,
	})
	require.NoError(b.t, err)
	return resp.Receipt.Entry
}

// tighten signs a fastener off.
func (b *bench) tighten(job, fastener string, nm float64) uint64 {
	b.t.Helper()
	resp, err := b.torque.RecordTorque(b.t.Context(), &pb.RecordTorqueRequest{Origin: b.by("tomasz"), RequestId: b.id(), Job: job, Fastener: fastener, TorqueNm: &nm})
	require.NoError(b.t, err)
	return resp.Receipt.Entry
}

// saying gives the lines that have a text.
func saying(lines []string, text string) []string {
	return slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return !strings.Contains(l, text) })
}

// The record of the demo's heron, as it came in, says what is open of all kinds.
func TestRecordSaysWhatIsOpen(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	r := b.handed("heron")
	assert.Equal(t, "Millrace Coachworks", r.Shop)
	assert.Equal(t, "Mrs Adeyemi", r.Job.Customer)
	assert.Equal(t, "GBP", r.Currency)
	assert.NotZero(t, r.JobEntry)
	assert.Equal(t, opened, r.At.AsTime())
	for _, c := range []struct {
		what string
		says []string
	}{
		{"safety-critical book values", []string{"safety-critical: brake caliper bolt, book value 77 N·m, is not signed off", "safety-critical: wheel nut, book value 81 N·m, is not signed off"}},
		{"finds", []string{"find 1 is open: hole in the left sill, 180 × 60 mm, behind an old plate", "find 2 is open", "find 3 is open"}},
		{"the brief", []string{"line 1 of the brief is not on record as met: Body straight enough", "line 4 of the brief"}},
		{"parts", []string{"part 1, rear wing panel, left, is ordered and not here (", "part 2, door seal set, is ordered and not here, 4 days late ("}},
		{"tasks", []string{"task 2 replace the left sill is in hand", "task 3 replace the right sill is not begun"}},
		{"extras", []string{"extra 2 waits for the customer: let in the left rear wing, 1,554 GBP"}}, // 22 h × 52 + 410
	} {
		for _, text := range c.says {
			assert.Len(t, saying(r.Open, text), 1, "%s: %s", c.what, text)
		}
	}
	assert.Empty(t, saying(r.Open, "task 1 "), "it is done")
	assert.Empty(t, saying(r.Open, "extra 1 "), "it is agreed")
	assert.Empty(t, saying(r.Open, "sump plug"), "lives do not hang on it")
	assert.Empty(t, r.Care, "nothing was done that calls for care")
	require.Len(t, r.TorquesOpen, 5)
	require.NotNil(t, r.Money)
	assert.Len(t, r.Brief, 4)
	assert.Len(t, r.Extras, 2)
	_, err := b.svc.BuildRecord(t.Context(), &pb.BuildRecordRequest{Origin: b.by("wren"), Job: "nobody"})
	assert.Equal(t, codes.NotFound, status.Code(err))
}

func TestRecordOfGaps(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	first := b.gap("heron", "door", pb.Side_SIDE_LEFT, pb.Edge_EDGE_FRONT, 3, 6)
	between := b.gap("heron", "door", pb.Side_SIDE_LEFT, pb.Edge_EDGE_FRONT, 3.2, 5)
	last := b.gap("heron", "door", pb.Side_SIDE_LEFT, pb.Edge_EDGE_FRONT, 3.5, 4.5) // 4 ± 0.5: at the very limit
	b.gap("heron", "door", pb.Side_SIDE_RIGHT, pb.Edge_EDGE_FRONT, 4)
	out := b.gap("heron", "bonnet", pb.Side_SIDE_UNSPECIFIED, pb.Edge_EDGE_REAR, 5.8) // 5 ± 0.7
	r := b.handed("heron")
	require.Len(t, r.Gaps, 3)
	bonnet, left, right := r.Gaps[0], r.Gaps[1], r.Gaps[2]
	assert.Equal(t, []float64{3, 6}, left.Before.GapMm)
	assert.Equal(t, []float64{3.5, 4.5}, left.After.GapMm)
	assert.Equal(t, []uint64{first, last}, left.Entries[:2])
	require.Len(t, left.Entries, 3, "and that of the target")
	assert.InDelta(t, 4.0, left.Target.TargetMm, 0)
	assert.Nil(t, right.After)
	assert.Equal(t, out, bonnet.Entries[0])
	assert.Empty(t, saying(r.Open, "left door, front edge"))
	assert.Len(t, saying(r.Open, "gap of the right door, front edge was measured once"), 1)
	assert.Len(t, saying(r.Open, "gap of the bonnet, rear edge is out of tolerance: target 5 ± 0.7 mm (entries #"+strconv.FormatUint(out, 10)+", #"), 1)
	require.NotEmpty(t, r.Notes)
	assert.Equal(t, between, r.Notes[0].Entry, "a reading between first and last is not lost")
}

func TestRecordOfTorques(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.tighten("heron", "wheel nut", 60)
	right := b.tighten("heron", "wheel nut", 81)
	far := b.tighten("heron", "brake caliper bolt", 70) // 9 % under 77
	b.tighten("heron", "cylinder head nut", 68)
	unknown := b.tighten("tern", "steering arm nut", 50)
	r := b.handed("heron")
	require.Len(t, r.Torques, 4)
	assert.Equal(t, "demo manual p. 12", r.Torques[1].Reference.Source)
	assert.True(t, r.Torques[1].Reference.SafetyCritical)
	require.Len(t, r.Torques[1].Entries, 2)
	assert.Empty(t, saying(r.Open, "wheel nut"), "the last one is right")
	lines := saying(r.Open, "brake caliper bolt is signed off at 70 N·m, 9 % under its book value of 77 N·m")
	require.Len(t, lines, 1)
	assert.Contains(t, lines[0], "#"+strconv.FormatUint(far, 10))
	var names []string
	for _, ref := range r.TorquesOpen {
		names = append(names, ref.Fastener)
		assert.NotZero(t, ref.Entry, ref.Fastener)
	}
	assert.Equal(t, []string{"door hinge bolt", "sump plug"}, names)
	wheels := saying(r.Care, "wheels: check the nuts again with a torque wrench soon after the first run, at the distance the book says")
	require.Len(t, wheels, 1, "once, however often they were tightened")
	assert.Contains(t, wheels[0], "#"+strconv.FormatUint(right, 10))
	assert.Len(t, saying(r.Care, "run it in gently"), 1)
	assert.Len(t, saying(r.Cautions, "the brakes were worked on"), 1)
	for _, line := range r.Care {
		assert.NotRegexp(t, `\d+ km|no source`, line, "no distance of our own, and no note of sources on what is to be minded")
	}
	assert.Len(t, saying(b.handed("tern").Open, "safety-critical: steering arm nut was tightened to 50 N·m with no book value of its own on record; check it in the maker's book (entry #"+strconv.FormatUint(unknown, 10)+")"), 1)
}

// A belt that holds somebody is looked at by an inspector; one that drives the
// engine's fan is not, yet what else its name says counts.
func TestWhichBeltsHoldSomebody(t *testing.T) {
	t.Parallel()
	const (
		belts    = "the belts were worked on"
		steering = "the steering or the suspension was worked on"
		brakes   = "the brakes were worked on"
	)
	for name, caution := range map[string]string{
		"seat belt anchor": belts, "seatbelt bolt": belts, "Seat-Belt mounting": belts, "lap belt eye bolt": belts,
		"belt anchorage": belts, "belt reel bolt": belts, "mk iv belt bolt": belts, "timing cover beside the seat belt bolt": belts, "fan belt cover and seat belt reel": belts,
		"fan belt adjuster": "", "fan-belt  bracket": "", "Fanbelt pulley": "", "timing belt tensioner": "", "cam belt cover": "", "cambelt idler": "",
		"drive belt pulley": "", "alternator belt adjuster": "", "V-belt pulley": "", "water pump belt guard": "", "sump plug": "",
		"fan belt pulley of the steering pump": steering, "power steering belt tensioner": steering, "drive belt guard at the brake pump": brakes,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := newBench(t, ledger.NewMemory())
			b.tighten("tern", name, 20)
			cautions := b.handed("tern").Cautions
			for _, c := range []string{belts, steering, brakes} {
				assert.Len(t, saying(cautions, c), map[bool]int{true: 1}[c == caution], "%v", cautions)
			}
		})
	}
	// A book value that says so itself is safety-critical whatever belt it is.
	b := newBench(t, ledger.NewMemory())
	_, err := b.torque.SetTorque(t.Context(), &pb.SetTorqueRequest{Origin: b.by("wren"), RequestId: b.id(), Job: "tern", Fastener: "timing belt brake bolt", TorqueNm: num(20.0), Source: "demo manual p. 3"})
	require.NoError(t, err)
	assert.Len(t, saying(b.handed("tern").Open, "safety-critical: timing belt brake bolt, book value 20 N·m, is not signed off"), 1)
}

func TestRecordOfCoats(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	ctx := t.Context()
	deliver := func(batch string) uint64 {
		resp, err := b.stock.RecordDelivery(ctx, &pb.RecordDeliveryRequest{Origin: b.by("wren"), RequestId: b.id(), Material: "clearcoat", Amount: num(5.0), Batch: batch})
		require.NoError(t, err)
		return resp.Receipt.Entry
	}
	coat := func(material string) uint64 {
		resp, err := b.paint.RecordCoat(ctx, &pb.RecordCoatRequest{
			Origin: b.by("mabel"), RequestId: b.id(), Job: "osmere", Material: material, Panels: []string{"roof"}, Coats: num(uint32(2)),
		})
		require.NoError(t, err)
		return resp.Receipt.Entry
	}
	coat("epoxy-primer")
	named := deliver("CC-71")
	deliver("")
	b.now = b.now.Add(time.Hour)
	entry := coat("clearcoat")
	b.now = b.now.Add(time.Hour)
	deliver("CC-72") // after the coat
	r := b.handed("osmere")
	require.Len(t, r.Coats, 3, "the imported one too")
	last := r.Coats[2]
	assert.Equal(t, "clearcoat", last.Coat.Name)
	assert.Equal(t, []string{"CC-71"}, last.Batches)
	assert.Equal(t, []uint64{entry, named}, last.Entries)
	assert.Empty(t, r.Coats[1].Batches)
	assert.Len(t, saying(r.Care, "fresh paint"), 1, "for the clear, not for the primer")
	assert.Empty(t, saying(r.Care, "cavity wax"))
	waxed := strconv.FormatUint(coat("cavity-wax"), 10)
	care := b.handed("osmere").Care
	assert.Equal(t, saying(r.Care, "fresh paint"), saying(care, "fresh paint"), "wax is none")
	require.Len(t, saying(care, "cavity wax: look"), 1)
	assert.Contains(t, saying(care, "cavity wax: look")[0], "(entry #"+waxed+")")
	b.now = b.now.AddDate(1, 0, 0)
	assert.Empty(t, saying(b.handed("osmere").Care, "fresh paint"), "after a year it is not fresh")
}

func TestRecordOfFindsHoursAndNotes(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	ctx := t.Context()
	closed, err := b.finds.CloseFind(ctx, &pb.CloseFindRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "heron", Find: num(uint32(1))})
	require.NoError(t, err)
	withPhoto := b.by("wren")
	withPhoto.Photos = []*pb.Photo{{Name: "box.jpg"}}
	note, err := b.notes.AddNote(ctx, &pb.AddNoteRequest{Origin: withPhoto, RequestId: b.id(), Job: "heron", Text: "customer wants the old badge back"})
	require.NoError(t, err)
	hours, err := b.hours.LogHours(ctx, &pb.LogHoursRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "heron", People: []string{"idris", "jonah"}, Hours: num(2.25), Work: "metal"})
	require.NoError(t, err)
	onTask, err := b.hours.LogHours(ctx, &pb.LogHoursRequest{Origin: b.by("idris"), RequestId: b.id(), Job: "heron", People: []string{"idris"}, Hours: num(1.0), Work: "2"})
	require.NoError(t, err)
	used, err := b.stock.RecordUse(ctx, &pb.RecordUseRequest{Origin: b.by("idris"), RequestId: b.id(), Material: "cavity-wax", Amount: num(0.5), Job: "heron"})
	require.NoError(t, err)
	r := b.handed("heron")
	f := r.Finds[0]
	assert.Equal(t, "idris", f.RepairedBy)
	assert.Equal(t, closed.Receipt.Entry, f.Entries[1])
	assert.Empty(t, saying(r.Open, "find 1 "))
	assert.Len(t, saying(r.Cautions, "find 1 is on a part that carries load (sill)"), 1)
	var metal *pb.HoursRecord
	for _, h := range r.Hours {
		if h.Stage == "metal" {
			metal = h
		}
	}
	require.NotNil(t, metal)
	assert.InDelta(t, 5.5, metal.Logged, 1e-9)
	assert.InDelta(t, 96.5, metal.Imported, 1e-9)
	assert.Equal(t, []uint64{r.JobEntry, r.Extras[0].History[0].Entry, hours.Receipt.Entry, onTask.Receipt.Entry}, metal.Entries)
	require.Len(t, r.Notes, 2)
	assert.Equal(t, note.Receipt.Entry, r.Notes[0].Entry)
	assert.Equal(t, used.Receipt.Entry, r.Notes[1].Entry)
	assert.Len(t, saying(r.Care, "cavity wax"), 1)
	require.Len(t, r.Photos, 1)
	assert.Equal(t, "box.jpg", r.Photos[0].Name)
}

// Every line of what is open, of care and of cautions ends in the entries it rests
// on, and these are in the ledger.
func TestEveryLineNamesItsEntries(t *testing.T) {
	t.Parallel()
	b := newBench(t, ledger.NewMemory())
	b.tighten("heron", "wheel nut", 50)
	b.gap("heron", "door", pb.Side_SIDE_LEFT, pb.Edge_EDGE_FRONT, 9)
	ends := regexp.MustCompile(` \((?:entry|entries) (#\d+(?:, #\d+)*)\)$`)
	for _, job := range []string{"heron", "osmere", "pilot", "tern"} {
		r := b.handed(job)
		assert.NotEmpty(t, r.Open)
		for _, line := range slices.Concat(r.Open, r.Care, r.Cautions) {
			m := ends.FindStringSubmatch(line)
			if !assert.NotNil(t, m, "%q names no entry", line) {
				continue
			}
			for _, n := range strings.Split(m[1], ", ") {
				e, err := strconv.ParseUint(n[1:], 10, 64)
				require.NoError(t, err)
				assert.True(t, e > 0 && e <= r.LastEntry, line)
			}
		}
	}
}
