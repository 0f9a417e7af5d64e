package handover

import (
	"strconv"
	"time"

	pb "bayword/proto/bayword/v1"
)

// writer makes the document of a record.
type writer struct {
	r     *pb.BuildRecordResponse
	zone  *time.Location
	album *album
	drawn []picture
}

func (w *writer) document() document {
	doc := document{Shop: clean(w.r.GetShop()), Title: w.vehicle(), Cover: w.cover()}
	doc.Sections = []section{
		w.open(), w.brief(), w.finds(), w.outline(), w.gaps(), w.torques(), w.coats(), w.parts(), w.hours(),
		w.tasks(), w.extras(), w.money(), w.snags(), w.notes(), w.care(),
	}
	doc.Sections = append(doc.Sections, w.sources(doc))
	return doc
}

// vehicle is «1964 Tarrant Heron».
func (w *writer) vehicle() string {
	j := w.r.GetJob()
	year := ""
	if j.GetYear() > 0 {
		year = strconv.FormatUint(uint64(j.GetYear()), 10)
	}
	name := spaced(year, clean(j.GetMake()), clean(j.GetModel()))
	if name == "" {
		name = clean(j.GetId())
	}
	return name
}

func (w *writer) cover() []field {
	j := w.r.GetJob()
	drive := drives[j.GetDrive()]
	if drive == "" {
		drive = clean(j.GetDrive())
	}
	all := []field{
		{"Vehicle", w.vehicle(), entriesOf([]uint64{w.r.GetJobEntry()})},
		{"Body", comma(clean(j.GetBody()), drive), nil},
		{"Customer", clean(j.GetCustomer()), nil},
		{"Shop", clean(w.r.GetShop()), nil},
		{"Job", clean(j.GetId()), nil},
		{"Stage", clean(j.GetStage()), nil},
		{"Put together", w.moment(w.r.GetAt(), momentLayout+" MST"), nil},
		{"Last ledger entry", "#" + strconv.FormatUint(w.r.GetLastEntry(), 10), nil},
	}
	var said []field
	for _, f := range all {
		if f.Text != "" {
			said = append(said, f)
		}
	}
	return said
}

// asAt marks what has no entry of its own: it is so as of the last entry.
func (w *writer) asAt() entries { return entriesOf([]uint64{w.r.GetLastEntry()}) }

// withJob marks what came with the job.
func (w *writer) withJob(own []uint64) entries {
	if es := entriesOf(own); len(es) > 0 {
		return es
	}
	return entriesOf([]uint64{w.r.GetJobEntry()})
}

// open is what is not done, first.
func (w *writer) open() section {
	s := section{
		ID: "open", Title: "What is still open",
		Lead: "What was not finished, or is not on record as finished, when this was put together. This list stops nothing: it says what to ask about.",
	}
	t := table{Empty: "Nothing on record is open.", Columns: []column{{"Open", 1}}}
	for _, line := range w.r.GetOpen() {
		t.Rows = append(t.Rows, w.citing(line))
	}
	s.Tables = []table{t}
	return s
}

// citing is a row of a line that names its entries.
func (w *writer) citing(line string) row {
	text, es := cited(line)
	if len(es) == 0 {
		es = w.asAt()
	}
	return row{Cells: []string{upper(clean(text))}, Entries: es}
}

func (w *writer) brief() section {
	t := table{
		Empty:   "No brief is on record.",
		Columns: []column{{"Line", 1.3}, {"What was wanted", 5}, {"How it was met", 5}, {"Who and when", 3}},
	}
	for _, l := range w.r.GetBrief() {
		r := row{
			Cells:   []string{numbered("line", l.GetNumber()), clean(l.GetText()), clean(l.GetHow()), w.done("met,", l.GetMetBy(), l.GetMetAt())},
			Entries: w.withJob(l.GetEntries()),
		}
		switch {
		case !l.GetMet():
			r.Flag = "not met"
		case r.Cells[2] == "":
			r.Cells[2] = "met"
		}
		t.Rows = append(t.Rows, r)
	}
	return section{ID: "brief", Title: "The brief, and how each line was met", Tables: []table{t}}
}

// notes are the notes and all else, and the photographs that came with them.
func (w *writer) notes() section {
	t := table{Empty: "No notes are on record.", Columns: []column{{"When", 2.5}, {"Who", 1.5}, {"What", 9}}}
	for _, e := range w.r.GetNotes() {
		who := person(e.GetPerson())
		if who == "" {
			who = "brought in"
		}
		t.Rows = append(t.Rows, row{
			Cells:   []string{w.moment(e.GetAt(), momentLayout), who, clean(e.GetText())},
			Entries: w.withJob([]uint64{e.GetEntry()}),
		})
	}
	s := section{ID: "notes", Title: "Notes and all else", Tables: []table{t}}
	if ps := w.album.of(w.r.GetPhotos()); len(ps) > 0 {
		s.Tables = append(s.Tables, table{
			Caption: "Photographs given with other records", Columns: []column{{"Photographs", 1}},
			Rows: []row{{Cells: []string{"Those that are not with a find above."}, Photos: ps, Entries: w.asAt()}},
		})
	}
	return s
}

// care is what to see to after the handover.
func (w *writer) care() section {
	care := table{Empty: "The record calls for no care notes.", Columns: []column{{"Care", 1}}}
	for _, line := range w.r.GetCare() {
		care.Rows = append(care.Rows, w.citing(line))
	}
	cautions := table{Caption: "Cautions", Empty: "The record calls for no cautions.", Columns: []column{{"Caution", 1}}}
	for _, line := range w.r.GetCautions() {
		cautions.Rows = append(cautions.Rows, w.citing(line))
	}
	return section{
		ID: "care", Title: "Care and cautions", Tables: []table{care, cautions},
		Lead: "This is the trade's common practice, taken from no one source: what the maker's book, a product's sheet or the law says comes first.",
	}
}
