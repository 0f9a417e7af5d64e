package handover

import (
	"fmt"
	"math"
	"strconv"

	"bayword/internal/unit"
	pb "bayword/proto/bayword/v1"
)

func (w *writer) finds() section {
	t := table{
		Empty:   "No finds are on record.",
		Columns: []column{{"Find", 1.3}, {"What and where", 6}, {"Size", 2.6}, {"Found by", 2.4}, {"Repaired by", 2.4}},
	}
	for _, rec := range w.r.GetFinds() {
		f := rec.GetFind()
		r := row{
			Cells: []string{
				numbered("find", f.GetNumber()), lines(findText(f), clean(f.GetNote())), findSize(f),
				w.by(f.GetPerson(), f.GetAt()), w.done("", rec.GetRepairedBy(), rec.GetRepairedAt()),
			},
			Entries: entriesOf(rec.GetEntries()), Photos: w.album.of(rec.GetPhotos()),
		}
		switch {
		case f.GetState() != pb.FindState_FIND_STATE_REPAIRED:
			r.Flag = "open"
		case r.Cells[4] == "":
			r.Cells[4] = "before it was brought in"
		}
		t.Rows = append(t.Rows, r)
	}
	return section{ID: "finds", Title: "Finds and repairs", Tables: []table{t}}
}

var findKinds = map[pb.FindKind]string{
	pb.FindKind_FIND_KIND_HOLE: "hole", pb.FindKind_FIND_KIND_RUST: "rust", pb.FindKind_FIND_KIND_PITTING: "pitting", pb.FindKind_FIND_KIND_DENT: "dent",
	pb.FindKind_FIND_KIND_FILLER: "filler", pb.FindKind_FIND_KIND_OLD_REPAIR: "old repair", pb.FindKind_FIND_KIND_CRACK: "crack",
	pb.FindKind_FIND_KIND_MISSING: "missing", pb.FindKind_FIND_KIND_PAINT: "paint fault",
}

// findText is «2 × hole, left sill».
func findText(f *pb.Find) string {
	kind := findKinds[f.GetKind()]
	if kind == "" {
		kind = "find"
	}
	return comma(spaced(counted(f.GetCount()), kind), place(f.GetPanel(), f.GetSide(), f.GetEnd()))
}

// findSize is «180 × 60 mm».
func findSize(f *pb.Find) string {
	var size string
	switch {
	case f.WidthMm != nil && f.HeightMm != nil:
		size = figureOf(f.GetWidthMm()) + " × " + figureOf(f.GetHeightMm()) + " mm"
	case f.WidthMm != nil:
		size = figureOf(f.GetWidthMm()) + " mm"
	case f.HeightMm != nil:
		size = figureOf(f.GetHeightMm()) + " mm high"
	}
	if f.DiameterMm != nil {
		size = comma(size, figureOf(f.GetDiameterMm())+" mm across")
	}
	if f.DepthMm != nil {
		size = comma(size, figureOf(f.GetDepthMm())+" mm deep")
	}
	return size
}

func (w *writer) outline() section {
	s := section{ID: "outline", Title: "The vehicle, with its finds", Figures: w.figures(outlinePicture)}
	if len(s.Figures) == 0 {
		s.Tables = []table{{Empty: "There is no drawing of the vehicle with finds on it."}}
	}
	return s
}

func (w *writer) gaps() section {
	t := table{
		Empty: "No gaps were measured.",
		Columns: []column{
			{"Where", 3}, {"Before", 3.4}, {"After", 3.4}, {"Target", 3},
		},
	}
	for _, g := range w.r.GetGaps() {
		r := row{
			Cells:   []string{gapPlace(g.GetBefore()), w.reading(g.GetBefore()), w.reading(g.GetAfter()), w.target(g.GetTarget())},
			Entries: entriesOf(g.GetEntries()),
		}
		last := g.GetAfter()
		if last == nil {
			last, r.Cells[2] = g.GetBefore(), "measured once"
		}
		switch {
		case g.GetTarget() == nil:
			r.Cells[3] = "none on record"
		case !within(last, g.GetTarget()):
			r.Flag = "out of tolerance"
		}
		t.Rows = append(t.Rows, r)
	}
	s := section{
		ID: "gaps", Title: "Gaps before and after", Tables: []table{t}, Figures: w.figures(gapPicture),
		Lead: "Readings run from top to bottom, from front to rear or, across the vehicle, from left to right; a step is + where the panel stands proud of its neighbour and - where it lies low.",
	}
	if len(w.r.GetGaps()) > mostGapPictures {
		s.Lead += " Not every edge has its picture: there are too many."
	}
	return s
}

// gapPlace is «left door, front edge».
func gapPlace(g *pb.GapReading) string {
	return comma(place(g.GetPanel(), g.GetSide(), g.GetEnd()), edges[g.GetEdge()])
}

func (w *writer) reading(g *pb.GapReading) string {
	if g == nil {
		return ""
	}
	gap, step := figures(g.GetGapMm(), false), figures(g.GetFlushMm(), true)
	if gap != "" {
		gap = "gap " + gap + " mm"
	}
	if step != "" {
		step = "step " + step + " mm"
	}
	return lines(gap, step, w.by(g.GetPerson(), g.GetAt()))
}

func (w *writer) target(g *pb.GapReference) string {
	if g == nil {
		return ""
	}
	text := figureOf(g.GetTargetMm()) + " mm"
	if g.GetToleranceMm() > 0 {
		text = figureOf(g.GetTargetMm()) + " ± " + figureOf(g.GetToleranceMm()) + " mm"
	}
	step := ""
	if g.GetFlushToleranceMm() > 0 {
		step = "step up to " + figureOf(g.GetFlushToleranceMm()) + " mm"
	}
	return lines(text, step, sourced(g.GetSource()), w.by(g.GetSetBy(), g.GetSetAt()))
}

// slack keeps a reading at its very limit inside it, whatever its last binary digit.
const slack = 1e-9

// within tells whether every reading keeps to the target; a tolerance of zero was
// not set.
func within(g *pb.GapReading, t *pb.GapReference) bool {
	for _, v := range g.GetGapMm() {
		if t.GetToleranceMm() > 0 && !(math.Abs(v-t.GetTargetMm()) <= t.GetToleranceMm()+slack) {
			return false
		}
	}
	for _, v := range g.GetFlushMm() {
		if t.GetFlushToleranceMm() > 0 && !(math.Abs(v) <= t.GetFlushToleranceMm()+slack) {
			return false
		}
	}
	return true
}

const noSource = "no source named"

func sourced(source string) string {
	if s := clean(source); s != "" {
		return s
	}
	return noSource
}

// ownEntry is the entry that set a book value.
func (w *writer) ownEntry(book *pb.TorqueReference) entries {
	if es := entriesOf([]uint64{book.GetEntry()}); len(es) > 0 {
		return es
	}
	return w.asAt()
}

// bookTolerance is how far a sign-off may lie from its book value before this
// points it out: the share the shop warns from. Common practice, no source.
const bookTolerance = 0.05

const critical = "safety-critical"

func (w *writer) torques() section {
	done := table{
		Caption: "Signed off", Empty: "No torque was signed off.",
		Columns: []column{{"Fastener", 3}, {"Tightened to", 2.8}, {"Book value", 4.6}, {"Who and when", 2.4}},
	}
	for _, rec := range w.r.GetTorques() {
		o, book := rec.GetSignOff(), rec.GetReference()
		r := row{
			Cells: []string{
				spaced(counted(o.GetCount()), clean(o.GetFastener())), newtonMetres(o.GetTorqueNm()),
				"no book value of its own on record", w.by(o.GetPerson(), o.GetAt()),
			},
			Entries: entriesOf(rec.GetEntries()),
		}
		if book != nil {
			r.Cells[2] = w.book(book)
			off := o.GetTorqueNm()/book.GetTorqueNm() - 1
			if !(math.Abs(off) <= bookTolerance+slack) {
				r.Flag = strconv.FormatFloat(math.Abs(off)*100, 'f', 0, 64) + " % " + overUnder(off) + " the book value"
			}
			if book.GetSafetyCritical() {
				r.Flag = comma(critical, r.Flag)
			}
		}
		done.Rows = append(done.Rows, r)
	}
	open := table{
		Caption: "Book values that nobody signed off", Empty: "Every book value on record was signed off.",
		Columns: []column{{"Fastener", 4}, {"Book value", 8}},
	}
	if len(w.r.GetTorques()) == 0 && len(w.r.GetTorquesOpen()) == 0 {
		open.Empty = "No book values are on record."
	}
	for _, book := range w.r.GetTorquesOpen() {
		r := row{Cells: []string{clean(book.GetFastener()), w.book(book)}, Entries: w.ownEntry(book)}
		if book.GetSafetyCritical() {
			r.Flag = critical
		}
		open.Rows = append(open.Rows, r)
	}
	return section{
		ID: "torques", Title: "Torque sign-offs against book values", Tables: []table{done, open},
		Lead: "A sign-off says what was done once. The maker's book rules; where it asks for it, check again after the first run.",
	}
}

func overUnder(off float64) string {
	if off > 0 {
		return "over"
	}
	return "under"
}

func newtonMetres(v float64) string { return unit.Format(v, unit.NM) }

func (w *writer) book(b *pb.TorqueReference) string {
	stages := ""
	if len(b.GetStagesNm()) > 0 {
		stages = "in stages of " + figures(b.GetStagesNm(), false) + " N·m"
	}
	return lines(newtonMetres(b.GetTorqueNm()), comma(clean(b.GetThread()), stages), sourced(b.GetSource()), w.by(b.GetSetBy(), b.GetSetAt()))
}

func (w *writer) coats() section {
	t := table{
		Empty:   "No coats are on record.",
		Columns: []column{{"Material", 3}, {"Coats", 2}, {"Panels", 3}, {"Finished", 2.4}, {"Batches by then", 2.6}, {"Who", 1.5}},
	}
	for _, rec := range w.r.GetCoats() {
		c := rec.GetCoat()
		name := clean(c.GetName())
		if name == "" {
			name = clean(c.GetMaterial())
		}
		who := person(c.GetPerson())
		if who == "" {
			who = "brought in"
		}
		at := dated(c.GetAt())
		if c.TemperatureC != nil {
			at = lines(at, figureOf(c.GetTemperatureC())+" °C")
		}
		t.Rows = append(t.Rows, row{
			Cells:   []string{name, fmt.Sprintf("%d", c.GetCoats()), cleanList(c.GetPanels()), at, batches(rec.GetBatches()), who},
			Entries: entriesOf(rec.GetEntries()),
		})
	}
	return section{
		ID: "coats", Title: "Coatings, with batches", Tables: []table{t},
		Lead: "The batches are those that deliveries of the material had named by then, the newest first; which tin was poured is not on record.",
	}
}

func batches(names []string) string {
	if len(names) == 0 {
		return "none on record"
	}
	return cleanList(names)
}

func cleanList(names []string) string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = clean(n)
	}
	return comma(out...)
}
