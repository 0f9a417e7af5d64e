// Package shopfile reads and writes what describes a shop: one YAML file in the
// format of the demo shop, or a folder with one JSON or CSV file for each noun. It
// reads the events that make the shop, checks everything, and tells what is wrong
// with the file and the line it is in. It may import internal/shop.
package shopfile

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"time"

	"gopkg.in/yaml.v3"

	"bayword/internal/shop"
)

const defaultZone = "Europe/London"

// file is a shop file being read: what has a name so far, and the events.
type file struct {
	*reader
	noun                               noun // being read
	zone                               *time.Location
	opened                             shop.ShopOpened
	people, jobs, suppliers, materials set
	unique                             set // ids of the noun being read
	tasks, finds, parts                numbers
	extras, snags, entries             numbers
	briefs                             map[string]numbers    // lines by job
	stageOf                            map[string]shop.Stage // of a job, or by taskKey
	rows                               []row
	later                              []func() // checks of what may stand further down
}

// row is an event that was read, and its place among those that were said.
type row struct {
	shop.Kept
	head  bool
	entry int              // 0 when it has none
	wrong func(now string) // says that its state now is another
}

// Read reads a shop file; name is what errors call it. The error joins one error
// for each thing wrong, the first 20, each as «name:LINE: what: "value": what is
// accepted». An event that says who said it is a shop.Told.
func Read(name string, data []byte) ([]shop.Event, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return nil, fmt.Errorf("%s:1: the file: %q: must be a mapping that begins with shop", name, "")
	}
	r := &reader{file: name}
	return r.events(r.object(doc.Content[0], "the file", nounNames()...), nil)
}

// events reads the nouns of a shop; files has the file of each when they have their
// own.
func (r *reader) events(top object, files map[string]string) ([]shop.Event, error) {
	f := &file{
		reader: r, zone: time.UTC, people: newSet(), jobs: newSet(), suppliers: newSet(), materials: newSet(),
		tasks: numbers{}, finds: numbers{}, parts: numbers{}, extras: numbers{}, snags: numbers{}, entries: numbers{}, briefs: map[string]numbers{},
		stageOf: map[string]shop.Stage{},
	}
	whole := r.file
	for _, f.noun = range nouns() {
		f.file = cmp.Or(files[f.noun.name], whole)
		f.unique = newSet()
		for _, n := range f.list(top) {
			f.noun.read(f, f.object(n, f.noun.name, f.noun.keys()...))
		}
	}
	for _, check := range f.later {
		check()
	}
	if err := f.err(); err != nil {
		return nil, err
	}
	events := arranged(f.rows)
	f.checkNow(events)
	if err := f.err(); err != nil {
		return nil, err
	}
	return events, nil
}

// checkNow compares the states that things are said to be in now with those that
// the events bring them to.
func (f *file) checkNow(events []shop.Event) {
	said := map[string]row{}
	for _, r := range f.rows {
		if r.wrong != nil {
			said[thingOf(r.Event)] = r
		}
	}
	if len(said) == 0 {
		return
	}
	st := shop.New()
	for i, e := range events {
		m := shop.Meta{Seq: uint64(i) + 1}
		if t, ok := e.(shop.Told); ok {
			e, m.Person, m.At = t.Event, t.By, t.At
		}
		if _, err := st.Apply(m, e); err != nil {
			f.fail(fmt.Errorf("%s: event %d: %w", f.file, i+1, err))
			return
		}
	}
	for _, k := range st.Standing(nil) {
		if r, ok := said[thingOf(k.Event)]; ok && r.Now != k.Now {
			r.wrong(k.Now)
		}
	}
}

// thingOf names a numbered thing.
func thingOf(e shop.Event) string {
	switch e := e.(type) {
	case shop.TaskAdded:
		return fmt.Sprint("task ", e.Number)
	case shop.FindRecorded:
		return fmt.Sprint("find ", e.Number)
	case shop.PartOrdered:
		return fmt.Sprint("part ", e.Number)
	case shop.ExtraProposed:
		return fmt.Sprint("extra ", e.Number)
	case shop.SnagAdded:
		return fmt.Sprint("snag ", e.Number)
	}
	return ""
}

// list gives the things of the noun being read. What a file may write in short is
// written out.
func (f *file) list(top object) []*yaml.Node {
	n, ok := top.at[f.noun.name]
	switch {
	case f.noun.name == "shop" && !ok:
		top.need("shop")
		return nil
	case f.noun.name == "shop" && n.Kind != yaml.SequenceNode:
		return []*yaml.Node{n}
	case f.noun.name == "shop" && len(n.Content) != 1:
		f.wrong(n, "shop", strconv.Itoa(len(n.Content))+" rows", "must be one")
		return nil
	case f.noun.name == "panel_area_m2" && ok && n.Kind != yaml.SequenceNode:
		return f.areasOf(n, nil)
	}
	list := top.list(f.noun.name)
	if f.noun.name == "suppliers" {
		for i, n := range list {
			if n.Kind == yaml.ScalarNode && n.Value != "" && n.Tag != "!!null" {
				list[i] = mapping(n.Line, scalar(n.Line, "name"), n)
			}
		}
	}
	return list
}

// check keeps a check for when all is read.
func (f *file) check(fn func()) {
	at := f.file
	f.later = append(f.later, func() { f.file = at; fn() })
}

// said tells whether somebody said what the object holds, in which case the rules
// of what is said hold for it.
func said(o object) bool { return o.at["by"] != nil }

// add keeps an event, with who said it.
func (f *file) add(o object, e shop.Event) {
	r := row{Kept: shop.Kept{Told: shop.Told{Event: e, At: o.moment("said_at", said(o), f.zone)}}, head: f.noun.head}
	r.By = o.text("by", false)
	if at := o.at["said_at"]; at != nil && !said(o) {
		o.wrong(at, o.what+" said_at", at.Value, "must stand beside by")
	}
	if n := o.at["by"]; n != nil {
		f.check(func() { o.of("by", true, f.people) })
	}
	if n := o.at["entry"]; n != nil {
		r.entry = o.whole("entry", true, 1, maxEntry)
		switch _, twice := f.entries[r.entry]; {
		case !said(o):
			o.wrong(n, o.what+" entry", n.Value, "must stand beside by")
		case twice:
			o.wrong(n, o.what+" entry", n.Value, "is there already")
		}
		f.entries[r.entry] = ""
	}
	for _, text := range o.texts("photos") {
		r.Photos = append(r.Photos, o.photo(text))
	}
	switch e := e.(type) {
	case shop.ReminderSet:
		if o.truth("sent") {
			r.Sent = []string{shop.Clock(f.opened)(e.At)}
		}
	case shop.CoatRecorded:
		r.Sent = o.texts("sent")
	}
	if n := o.at["now"]; n != nil {
		r.Now = o.text("now", true)
		at := f.file
		r.wrong = func(now string) {
			f.file = at
			o.wrong(n, o.what+" now", r.Now, "it is "+now+" after what is listed; list what became of it, or leave this out")
		}
	}
	f.rows = append(f.rows, r)
}

const maxEntry = 1 << 31

// arranged gives the events in the order a ledger can begin with them: as they were
// read, then what was said, by its entry; what has none by when it was said; then
// the notices that were sent, which are never sent again.
func arranged(rows []row) []shop.Event {
	first, told := []row(nil), []row(nil)
	for _, r := range rows {
		if r.By == "" || r.head {
			first = append(first, r)
		} else {
			told = append(told, r)
		}
	}
	var events, sent []shop.Event
	for _, r := range append(first, inOrder(told)...) {
		event, entry := r.Event, uint64(len(events))+1
		switch e := event.(type) {
		case shop.NoticeSent:
			sent = append(sent, e)
			continue
		case shop.ReminderSet:
			for _, local := range r.Sent {
				sent = append(sent, shop.NoticeSent{ID: shop.ReminderNotice(entry, local)})
			}
		case shop.CoatRecorded:
			for _, told := range r.Sent {
				sent = append(sent, shop.NoticeSent{ID: shop.CoatNotice(entry, told)})
			}
		}
		if r.By != "" || len(r.Photos) > 0 {
			event = r.Told
		}
		events = append(events, event)
	}
	return append(events, sent...)
}

// inOrder puts what was said in its order: that without an entry goes before the
// first that has one and was said later.
func inOrder(told []row) []row {
	numbered := slices.DeleteFunc(slices.Clone(told), func(r row) bool { return r.entry == 0 })
	loose := slices.DeleteFunc(slices.Clone(told), func(r row) bool { return r.entry > 0 })
	slices.SortStableFunc(numbered, func(a, b row) int { return cmp.Compare(a.entry, b.entry) })
	slices.SortStableFunc(loose, func(a, b row) int { return a.At.Compare(b.At) })
	all := make([]row, 0, len(told))
	for _, r := range numbered {
		for len(loose) > 0 && loose[0].At.Before(r.At) {
			all, loose = append(all, loose[0]), loose[1:]
		}
		all = append(all, r)
	}
	return append(all, loose...)
}
