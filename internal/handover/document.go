package handover

import (
	"slices"
	"strconv"
	"strings"
)

// document is what both files say: one content, rendered twice.
type document struct {
	Shop, Title string
	Cover       []field
	Sections    []section
}

// field is a name and what stands for it.
type field struct {
	Name, Text string
	Entries    entries
}

// section is one chapter. Tables and figures come in this order.
type section struct {
	ID, Title, Lead string
	Tables          []table
	Figures         []figure
}

// table is rows under columns, or the one line that says that there are none.
type table struct {
	Caption, Empty string
	Columns        []column
	Rows           []row
}

// column has a share of the width; it is never nothing.
type column struct {
	Name  string
	Share float64
}

// Label names column i, for a screen too narrow to have a row of names.
func (t table) Label(i int) string {
	if i < len(t.Columns) {
		return t.Columns[i].Name
	}
	return ""
}

// Width is how many columns there are, that of the entries included.
func (t table) Width() int { return len(t.Columns) + 1 }

// row is one line of a table and the ledger entries it rests on.
type row struct {
	Anchor  string // to be linked to
	Cells   []string
	Flag    string // what must not be overlooked
	Entries entries
	Photos  []photograph
	Under   bool // it tells more of the row above
	Derived bool // it rests on the entries of other rows, which name them
	Sum     bool // it is a sum, and Derived
}

// figure is a drawn picture.
type figure struct {
	File, Caption string
	Entries       entries
}

// entries are ledger entries, ascending, each once.
type entries []uint64

// entriesOf puts ledger entries in order; zero is no entry.
func entriesOf(lists ...[]uint64) entries {
	all := slices.Concat(lists...)
	slices.Sort(all)
	all = slices.Compact(all)
	return slices.DeleteFunc(all, func(e uint64) bool { return e == 0 })
}

// mark is one entry, or a run of three and more that follow one another.
type mark struct{ From, To uint64 }

// Marks gives the entries as they are printed.
func (es entries) Marks() []mark {
	var out []mark
	for i := 0; i < len(es); {
		j := i
		for j+1 < len(es) && es[j+1] == es[j]+1 {
			j++
		}
		if j-i >= 2 {
			out = append(out, mark{es[i], es[j]})
		} else {
			for _, e := range es[i : j+1] {
				out = append(out, mark{From: e})
			}
		}
		i = j + 1
	}
	return out
}

func (es entries) String() string {
	var parts []string
	for _, m := range es.Marks() {
		text := "#" + strconv.FormatUint(m.From, 10)
		if m.To > 0 {
			text += "–#" + strconv.FormatUint(m.To, 10)
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, " ")
}

// total is the entries of rows together.
func total(rows []row) entries {
	lists := make([][]uint64, len(rows))
	for i, r := range rows {
		lists[i] = r.Entries
	}
	return entriesOf(lists...)
}

// cited splits a line of the record that ends in «(entry #12)» or «(entries #12,
// #13)» into what it says and the entries it rests on. Words of a person stand
// before that, so they cannot pass for it.
func cited(line string) (string, entries) {
	text, ok := strings.CutSuffix(strings.TrimSpace(line), ")")
	if !ok {
		return line, nil
	}
	at := strings.LastIndex(text, " (")
	if at < 0 {
		return line, nil
	}
	list, ok := strings.CutPrefix(text[at:], " (entry ")
	if !ok {
		if list, ok = strings.CutPrefix(text[at:], " (entries "); !ok {
			return line, nil
		}
	}
	var found []uint64
	for _, one := range strings.Split(list, ", ") {
		n, err := strconv.ParseUint(strings.TrimPrefix(one, "#"), 10, 64)
		if err != nil || !strings.HasPrefix(one, "#") {
			return line, nil
		}
		found = append(found, n)
	}
	return text[:at], entriesOf(found)
}
