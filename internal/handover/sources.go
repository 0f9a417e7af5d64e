package handover

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// The number of places named beside one entry: more say nothing more.
const mostPlaces = 4

// sources lists the ledger entries that the sections before rest on, and the books
// and agreements they name.
func (w *writer) sources(doc document) section {
	ledger := table{
		Caption: "Ledger entries", Empty: "Nothing here rests on a ledger entry.",
		Columns: []column{{"Entry", 1.5}, {"What rests on it here", 10}},
	}
	places := map[uint64][]string{}
	for _, f := range doc.Cover {
		for _, e := range f.Entries {
			places[e] = append(places[e], f.Name)
		}
	}
	for _, s := range doc.Sections {
		for _, t := range s.Tables {
			for _, r := range t.Rows {
				if r.Derived {
					continue
				}
				for _, e := range r.Entries {
					places[e] = append(places[e], placeOf(s, t, r))
				}
			}
		}
	}
	var all []uint64
	for e := range places {
		all = append(all, e)
	}
	for _, e := range entriesOf(all, []uint64{w.r.GetLastEntry()}) {
		ledger.Rows = append(ledger.Rows, row{
			Anchor: "e" + strconv.FormatUint(e, 10), Cells: []string{"entry " + strconv.FormatUint(e, 10), w.restOn(e, places[e])}, Entries: entries{e},
		})
	}
	return section{
		ID: "sources", Title: "Sources", Tables: []table{w.books(), ledger},
		Lead: "Every figure in this folder comes from the shop's ledger, in which nothing is ever rubbed out. The numbers beside a row are those of the ledger entries it rests on; the shop can show who said each, when, and in which words. A sum names all the entries it adds up. What has no entry of its own carries the last one: it was so then.",
	}
}

// placeOf says where a row stands, in a few words.
func placeOf(s section, t table, r row) string {
	first := ""
	for _, c := range r.Cells {
		if first = short(c, 60); first != "" {
			break
		}
	}
	name := s.Title
	if t.Caption != "" {
		name = t.Caption
	}
	return name + ": " + first
}

func (w *writer) restOn(e uint64, places []string) string {
	var once []string
	for _, p := range places {
		if !slices.Contains(once, p) {
			once = append(once, p)
		}
		if len(once) > mostPlaces {
			once[mostPlaces] = "and more"
			break
		}
	}
	text := strings.Join(once, "\n")
	if e == w.r.GetLastEntry() {
		text = lines("the last entry when this was put together", text)
	}
	return text
}

// books are the sources that book values and target gaps name.
func (w *writer) books() table {
	t := table{
		Caption: "Books and agreements named", Empty: "No books or agreements are named.",
		Columns: []column{{"Source", 5}, {"For", 7}},
	}
	type use struct {
		of      []string
		entries []uint64
	}
	uses := map[string]*use{}
	add := func(source, of string, es []uint64) {
		source = sourced(source)
		if uses[source] == nil {
			uses[source] = &use{}
		}
		if u := uses[source]; !slices.Contains(u.of, of) {
			u.of = append(u.of, of)
		}
		uses[source].entries = append(uses[source].entries, es...)
	}
	for _, rec := range w.r.GetTorques() {
		if b := rec.GetReference(); b != nil {
			add(b.GetSource(), "torque of "+clean(b.GetFastener()), rec.GetEntries())
		}
	}
	for _, b := range w.r.GetTorquesOpen() {
		add(b.GetSource(), "torque of "+clean(b.GetFastener()), w.ownEntry(b))
	}
	for _, g := range w.r.GetGaps() {
		if g.GetTarget() != nil {
			add(g.GetTarget().GetSource(), "gap of "+gapPlace(g.GetBefore()), g.GetEntries())
		}
	}
	for source, u := range uses {
		t.Rows = append(t.Rows, row{Cells: []string{upper(source), strings.Join(u.of, "\n")}, Entries: entriesOf(u.entries)})
	}
	slices.SortFunc(t.Rows, func(a, b row) int { return cmp.Compare(a.Cells[0], b.Cells[0]) })
	return t
}
