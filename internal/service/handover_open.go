package service

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"

	"bayword/internal/calc/fastener"
	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// open, care and caution add a line that ends in the entries it rests on.
func (g *gathering) open(entries []uint64, format string, args ...any) {
	g.resp.Open = append(g.resp.Open, citing(entries, format, args...))
}

func (g *gathering) care(entries []uint64, format string, args ...any) {
	g.resp.Care = append(g.resp.Care, citing(entries, format, args...))
}

func (g *gathering) caution(entries []uint64, format string, args ...any) {
	g.resp.Cautions = append(g.resp.Cautions, citing(entries, format, args...))
}

// citing writes a line and the entries it rests on: «… (entries #12, #13)».
func citing(entries []uint64, format string, args ...any) string {
	texts := make([]string, len(entries))
	for i, e := range entries {
		texts[i] = fmt.Sprintf("#%d", e)
	}
	word := " (entries "
	if len(entries) == 1 {
		word = " (entry "
	}
	return fmt.Sprintf(format, args...) + word + strings.Join(texts, ", ") + ")"
}

// torques are the sign-offs beside their book values, and the book values that
// nobody signed off. Where lives hang on a fastener, what is amiss is open.
func (g *gathering) torques() error {
	signed, err := g.st.SignOffs(g.job)
	if err != nil {
		return err
	}
	last := map[string]shop.SignOff{} // by the fastener of the book value
	for _, o := range signed {
		book := g.st.BookValue(g.job, o.Fastener)
		rec := &pb.TorqueRecord{SignOff: signOffPB(&o), Reference: torquePB(book), Entries: []uint64{o.Entry}}
		if book != nil {
			last[book.Fastener] = o
			rec.Reference.SafetyCritical = book.Lives()
			rec.Entries = append(rec.Entries, book.Entry)
		}
		g.resp.Torques = append(g.resp.Torques, rec)
		if book == nil && fastener.Critical(o.Fastener) {
			g.open(rec.Entries, "safety-critical: %s was tightened to %s N·m with no book value of its own on record; check it in the maker's book", o.Fastener, trimmed(o.Torque))
		}
	}
	for _, book := range g.st.BookValues(g.job) {
		o, ok := last[book.Fastener]
		if !ok {
			ref := torquePB(&book)
			ref.SafetyCritical = book.Lives()
			g.resp.TorquesOpen = append(g.resp.TorquesOpen, ref)
		}
		if !book.Lives() {
			continue
		}
		switch off, far := o.Off(book); {
		case !ok:
			g.open([]uint64{book.Entry}, "safety-critical: %s, book value %s N·m, is not signed off", book.Fastener, trimmed(book.Torque))
		case far:
			g.open([]uint64{o.Entry, book.Entry}, "safety-critical: %s is signed off at %s N·m, %.0f %% %s its book value of %s N·m",
				book.Fastener, trimmed(o.Torque), math.Abs(off)*100, overUnder(off), trimmed(book.Torque))
		}
	}
	g.careForTorques(signed)
	return nil
}

func overUnder(off float64) string {
	if off > 0 {
		return "over"
	}
	return "under"
}

type careFor struct {
	words         []string
	care, caution string
}

// torqueCare says what sign-offs ask to see to after the handover, by words in the
// name of the fastener; the first that fits counts. Common practice, no source;
// the maker's book comes first.
var torqueCare = []careFor{
	{
		words: []string{"wheel nut", "wheel bolt", "wheel stud", "lug nut"},
		care:  "wheels: check the nuts again with a torque wrench soon after the first run, at the distance the book says",
	},
	{
		words:   []string{"brake", "caliper"},
		care:    "brakes: bed them in gently, and look for leaks and at the fluid level in the first week",
		caution: "the brakes were worked on: have them looked at by somebody competent before it goes on the road",
	},
	{
		words:   []string{"steering", "track rod", "ball joint", "suspension", "wishbone", "spring hanger", "hub"},
		care:    "steering and suspension: have the wheels aligned, and the fasteners looked at again soon after the first run, at the distance the book says",
		caution: "the steering or the suspension was worked on: have it looked at by somebody competent before it goes on the road",
	},
	{
		words:   []string{"belt"},
		caution: "the belts were worked on: have them and what holds them looked at by a licensed inspector",
	},
	{
		words: []string{"head nut", "head bolt", "head stud", "main bearing", "big end", "con rod", "flywheel"},
		care:  "engine: run it in gently, change the oil early, and tighten again only where the maker's book asks for it",
	},
}

// driving are the belts that drive something of the engine: they hold nobody. The
// words around them count as ever. Common practice, no source.
var driving = strings.NewReplacer(
	" fan belt", "", " fanbelt", "", " timing belt", "", " cam belt", "", " cambelt", "", " camshaft belt", "", " drive belt", "",
	" alternator belt", "", " dynamo belt", "", " generator belt", "", " water pump belt", "", " auxiliary belt", "", " v belt", "", " vee belt", "",
)

// careOf gives the place in torqueCare of a fastener's name, -1 for none.
func careOf(name string) int {
	name = " " + strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == '-' || unicode.IsSpace(r) }), " ")
	name = driving.Replace(name)
	return slices.IndexFunc(torqueCare, func(c careFor) bool {
		return slices.ContainsFunc(c.words, func(w string) bool { return strings.Contains(name, w) })
	})
}

// careForTorques adds what the sign-offs ask for, one line for all that ask the same.
func (g *gathering) careForTorques(signed []shop.SignOff) {
	entries := make([][]uint64, len(torqueCare))
	for _, o := range signed {
		if at := careOf(o.Fastener); at >= 0 {
			entries[at] = append(entries[at], o.Entry)
		}
	}
	for i, c := range torqueCare {
		if len(entries[i]) == 0 {
			continue
		}
		if c.care != "" {
			g.care(entries[i], "%s; the maker's book comes first", c.care)
		}
		if c.caution != "" {
			g.caution(entries[i], "%s", c.caution)
		}
	}
}

// freshFor is how long paint is told to be fresh. Common practice, no source.
const freshFor = 90 * 24 * time.Hour

// coats are the coats with the batches that had been named by then.
func (g *gathering) coats() error {
	coats, err := g.st.Coats(g.job)
	if err != nil {
		return err
	}
	var fresh []uint64
	for _, c := range coats {
		rec := &pb.CoatRecord{Coat: coatPB(g.st, c), Entries: []uint64{c.Entry}}
		for _, b := range g.st.BatchesBy(c.Material, c.At()) {
			rec.Batches, rec.Entries = appendNew(rec.Batches, b.Batch), append(rec.Entries, b.Entry)
		}
		g.resp.Coats = append(g.resp.Coats, rec)
		if m, err := g.st.Stock(c.Material); err == nil && m.Paint != nil && !m.Primer() && g.now.Sub(c.At()) < freshFor {
			fresh = append(fresh, c.Entry)
		}
	}
	if len(fresh) > 0 {
		g.care(fresh, "fresh paint: wash it by hand with water alone, and put no wax or polish on it until the product's own sheet says that it is cured, or for some weeks where the sheet is not at hand")
	}
	if wax := g.st.Used(g.job, "wax"); len(wax) > 0 {
		g.care(wax, "cavity wax: look into the cavities once a year, keep their drains open, and renew it where it is thin or gone")
	}
	return nil
}

func (g *gathering) parts() error {
	parts, err := g.st.Parts(shop.PartFilter{Job: g.job}, g.now)
	for _, p := range parts {
		g.resp.Parts = append(g.resp.Parts, partPB(p))
		if state := partOpen(p); state != "" {
			g.open(p.Entries, "part %d, %s, is %s", p.Number, p.Name(), state)
		}
	}
	return err
}

func (g *gathering) tasks() error {
	tasks, err := g.st.Tasks(g.job)
	for _, t := range tasks {
		g.resp.Tasks = append(g.resp.Tasks, taskPB(t))
		if t.State != shop.Done {
			g.open(t.Entries, "task %s is %s", t.Name(), map[string]string{shop.Waiting: "not begun", shop.Doing: "in hand"}[t.State])
		}
	}
	return err
}

func (g *gathering) extras() error {
	extras, err := g.st.Extras(shop.ExtraFilter{Job: g.job})
	for _, x := range extras {
		g.resp.Extras = append(g.resp.Extras, extraPB(x))
		if x.State == shop.Proposed {
			g.open(x.Entries, "extra %d waits for the customer: %s, %s %s", x.Number, x.Text, shop.Coins(x.Price), g.resp.Currency)
		}
	}
	return err
}

// partOpen says what is still to happen to a part; empty for nothing.
func partOpen(p shop.Part) string {
	switch p.State {
	case shop.Ordered:
		return "ordered and not here"
	case shop.Late:
		return fmt.Sprintf("ordered and not here, %d days late", p.DaysLate)
	case shop.Arrived:
		return "here and not fitted"
	}
	return ""
}
