package handover_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/protobuf/proto"

	"bayword/internal/handover"
	pb "bayword/proto/bayword/v1"
)

var update = flag.Bool("update", false, "write the golden file instead of comparing with it")

// london is the shop's zone; in March it keeps to UTC.
func london(t *testing.T) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation("Europe/London")
	require.NoError(t, err)
	return zone
}

// build makes a folder and gives its files by name.
func build(t *testing.T, r *pb.BuildRecordResponse, photos handover.Photos) map[string][]byte {
	t.Helper()
	files, err := handover.Build(t.Context(), r, photos, london(t))
	require.NoError(t, err)
	by := map[string][]byte{}
	for _, f := range files {
		assert.NotContains(t, by, f.Name, "a name twice")
		assert.Regexp(t, `^[a-z0-9/.-]+$`, f.Name)
		assert.NotContains(t, f.Name, "..")
		by[f.Name] = f.Data
	}
	return by
}

// The page is to be read as the customer would: testdata/index.html is what a
// full record makes. `go test -update` writes it.
func TestPageReadsAsAgreed(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	got := build(t, heron(photos), photos)["index.html"]
	file := filepath.Join("testdata", "index.html")
	if *update {
		require.NoError(t, os.WriteFile(file, got, 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), "run with -update and read the difference")
}

func TestSameRecordSameBytes(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	r := heron(photos)
	first, err := handover.Build(t.Context(), r, photos, london(t))
	require.NoError(t, err)
	for range 3 {
		again, err := handover.Build(t.Context(), r, photos, london(t))
		require.NoError(t, err)
		require.Equal(t, len(first), len(again))
		for i := range first {
			assert.Equal(t, first[i].Name, again[i].Name)
			assert.True(t, string(first[i].Data) == string(again[i].Data), "%s differs", first[i].Name)
		}
	}
}

// The folder needs nothing from outside it, and lacks nothing the page points to.
func TestFolderIsWhole(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	files := build(t, heron(photos), photos)
	page := parsed(t, files["index.html"])
	pointed := map[string]bool{}
	for _, n := range elements(page, "img", "a", "link", "script", "iframe") {
		for _, key := range []string{"src", "href"} {
			to := attribute(n, key)
			switch {
			case to == "":
			case strings.HasPrefix(to, "#"):
				assert.NotNil(t, byID(page, to[1:]), "%s leads nowhere", to)
			default:
				assert.Contains(t, files, to)
				pointed[to] = true
			}
		}
	}
	for name := range files {
		if name != "index.html" && name != "record.pdf" {
			assert.True(t, pointed[name], "nothing shows %s", name)
		}
	}
	assert.NotRegexp(t, `(?i)https?://|url\(|@import`, string(files["index.html"]))
	assert.Empty(t, elements(page, "script", "iframe", "link"))
}

// Every row with a figure in it carries an entry that the record names, sums too.
func TestEveryFigureIsTraceable(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	r := heron(photos)
	known := entriesIn(r.ProtoReflect())
	rows := rowsOf(parsed(t, build(t, r, photos)["index.html"]))
	withFigures := 0
	for _, row := range rows {
		for _, e := range row.entries {
			assert.Contains(t, known, e, "%s rests on an entry that the record does not name", row.text)
		}
		if strings.ContainsAny(row.text, "0123456789") {
			withFigures++
			assert.NotEmpty(t, row.entries, "%q rests on nothing", row.text)
		}
	}
	assert.Greater(t, withFigures, 60, "the walk found too few rows to prove anything")
}

// The walk itself sees a row without an entry.
func TestWalkSeesWhatIsNotTraceable(t *testing.T) {
	t.Parallel()
	rows := rowsOf(parsed(t, []byte(`<table><tbody><tr><td class="text">81 N·m</td><td class="entries"></td></tr></tbody></table>`)))
	require.Len(t, rows, 1)
	assert.Empty(t, rows[0].entries)
}

// A sum names the entries of all rows it adds up.
func TestSumsNameWhatTheyAdd(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	page := parsed(t, build(t, heron(photos), photos)["index.html"])
	for _, id := range []string{"hours", "money"} {
		var parts []uint64
		for _, row := range rowsOf(byID(page, id)) {
			if row.class == "sum" {
				assert.Subset(t, row.entries, parts, id)
				assert.NotEmpty(t, parts, id)
				break
			}
			parts = append(parts, row.entries...)
		}
	}
}

// What the money rests on is named once: the sum's entries stand beside the sum alone.
func TestMoneyNamesItsEntriesOnce(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	page := parsed(t, build(t, heron(photos), photos)["index.html"])
	long := map[string]string{}
	for _, row := range rowsOf(byID(page, "money")) {
		if len(row.entries) > 2 {
			key := fmt.Sprint(row.entries)
			assert.Empty(t, long[key], "%q names the same entries again", row.text)
			long[key] = row.text
		}
	}
	assert.NotEmpty(t, long)
	assert.Contains(t, textOf(byID(page, "money")), "labour, strip 60 hours estimated, 71 logged, at 52 an hour", "a stage's step stands with its sums")
}

func TestWhatIsSaid(t *testing.T) {
	t.Parallel()
	photos := shelf{}
	page := parsed(t, build(t, heron(photos), photos)["index.html"])
	for _, c := range []struct{ name, section, says string }{
		{"what is open comes with its entry", "open", "Find 3 is open: dent, front valance, 90 × 90 mm"},
		{"a line that is not met", "brief", "line 2 not met Disc brakes at the front"},
		{"how a line was met", "brief", "blocked to P320"},
		{"a find with its repair", "finds", "hole, left sill behind an old plate 180 × 60 mm brought in with the job Idris, 6 Mar 2026"},
		{"a photograph that was not kept", "finds", "sill after.jpg: its content was not kept."},
		{"a photograph that is lost", "notes", "lost.jpg: its content could not be found."},
		{"readings before and after", "gaps", "gap 3, 4.5, 6.25 mm step -1, +0.5 mm Idris, 3 Mar 2026 gap 3.5, 4, 4.5 mm"},
		{"at its very limit a gap is within", "gaps", "left door, front edge gap"}, // no flag between
		{"the last reading is out", "gaps", "bonnet, rear edge out of tolerance gap 7, 7.2 mm"},
		{"a sign-off at its book value", "torques", "20 × wheel nut safety-critical 81 N·m (59.7 lbf·ft)"},
		{"a sign-off off its book value", "torques", "cylinder head nut 12 % under the book value"}, // 60/68 - 1 = -11.8 %
		{"a sign-off without a book value", "torques", "bracket bolt 12 N·m (8.85 lbf·ft) no book value of its own on record"},
		{"a book value nobody signed off", "torques", "brake caliper bolt safety-critical 77 N·m (56.8 lbf·ft) 7/16-20 UNF demo manual p. 88"},
		{"a coat with its batch", "coats", "epoxy primer 2 sill, floor 8 Mar 2026 15:30 18 °C EP-2291 Mabel"},
		{"a coat without one", "coats", "none on record"},
		{"where a part comes from", "parts", "1 × left rear wing panel new old stock Ketteridge Panels £1,410.00 ordered, not here"},
		{"a part that came short", "parts", "1 of 2 came"},
		{"hours, brought in and over", "hours", "strip 71 h 71 h 60 h 11 h"},
		{"hours in all", "hours", "in all 13.75 h 167.5 h 181.25 h 240 h"},
		{"a task held by a part", "tasks", "let in the left rear wing needs rear wing panel after task 2 metal 22 h not begun, Idris"},
		{"a decision with its history", "extras", "agreed, Wren, 5 Mar 2026 #115"},
		{"how a price is made up", "extras", "22 h at £52.00 hours from the advice for find 2 parts £410.00 materials £20.50 £1,574.50"},
		{"where the money stands", "money", "in all £13,000.00 £10,854.00 £0.00 £3,556.00"},
		{"a snag", "snags", "horn push loose Priya, 9 Mar 2026 Tomasz, 9 Mar 2026"},
		{"a note", "notes", "customer wants the old number plate, 7 letters, back"},
		{"a care note", "care", "Check the wheel nuts to 81 N·m again after the first run #141"},
		{"a source", "sources", "Demo manual p. 88"},
		{"what an entry holds", "sources", "entry 141 Signed off: 20 × wheel nut"},
	} {
		assert.Contains(t, textOf(byID(page, c.section)), c.says, c.name)
	}
}

// A job of which nothing is on record says so, section by section.
func TestEmptyJob(t *testing.T) {
	t.Parallel()
	r := &pb.BuildRecordResponse{Job: &pb.Job{Id: "tern"}}
	files := build(t, r, nil)
	assert.Len(t, files, 2)
	page := parsed(t, files["index.html"])
	for _, s := range elements(page, "section") {
		said := len(elements(s, "table"))
		for _, p := range elements(s, "p") {
			if attribute(p, "class") == "empty" {
				said++
			}
		}
		assert.NotZero(t, said, "section %s says nothing", attribute(s, "id"))
	}
	assert.Contains(t, textOf(byID(page, "open")), "Nothing on record is open.")
	assert.Contains(t, pdfText(t, files["record.pdf"]), "Nothing on record is open.")
	_, err := handover.Build(t.Context(), nil, nil, nil)
	assert.ErrorIs(t, err, handover.ErrNoRecord)
}

func TestBrokenOff(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	photos := shelf{}
	_, err := handover.Build(ctx, heron(photos), photos, nil)
	assert.ErrorIs(t, err, context.Canceled)
}

// Words from outside stay words, however long they are and whatever is in them.
func TestHostileWords(t *testing.T) {
	t.Parallel()
	const script = `<script>alert(1)</script><img src=x onerror=alert(2)>" onclick="x" {{.Title}} {nb} ` + "\u202egnp"
	long := strings.Repeat("unbroken", 2000) + " " + strings.Repeat("many words and ", 1000)
	r := &pb.BuildRecordResponse{
		Shop: script, JobEntry: 1, LastEntry: 9, Currency: script,
		Job:  &pb.Job{Id: script, Make: script, Model: script, Body: script, Customer: script},
		Open: []string{script + " (entry #9)", "said «(entry #7)» (entry #8)", "not an entry (entry #x)", "(entry #5)"},
		Finds: []*pb.FindRecord{{
			Find:    &pb.Find{Number: 1, Panel: script, Note: script + "\n" + long + "\x00\x1b[31m 漆 🚗 \xff", WidthMm: proto.Float64(1e300)},
			Entries: []uint64{2}, Photos: []*pb.Photo{{Name: script, Sha256: "../../../etc/passwd"}},
		}},
		Torques: []*pb.TorqueRecord{{SignOff: &pb.TorqueSignOff{Fastener: script}, Reference: &pb.TorqueReference{Source: script}, Entries: []uint64{3}}},
		Extras:  []*pb.Extra{{Number: 4_000_000_000, Text: long, Price: -1e15}},
		Notes:   []*pb.HistoryEvent{{Text: script, Person: script, Entry: 4}},
		Care:    []string{script},
	}
	files := build(t, r, shelf{"../../../etc/passwd": []byte("secret")})
	for name := range files {
		assert.NotContains(t, name, "photos/", "a photograph whose content is not what was given is left out")
	}
	html := string(files["index.html"])
	page := parsed(t, files["index.html"])
	assert.Empty(t, elements(page, "script"))
	for _, img := range elements(page, "img") {
		assert.True(t, strings.HasPrefix(attribute(img, "src"), "pictures/"), "no picture but those drawn")
	}
	assert.NotContains(t, html, "<script")
	assert.NotContains(t, html, "\u202e", "no mark turns the text round")
	assert.NotContains(t, html, "\x1b")
	assert.Contains(t, textOf(byID(page, "notes")), "<script>alert(1)</script>", "it is shown as it was said")
	assert.Contains(t, html, strings.Repeat("unbroken", 2000), "and whole")
	assert.Contains(t, textOf(byID(page, "open")), "Said «(entry #7)» #8", "a person's words name no entry")
	text := pdfText(t, files["record.pdf"])
	assert.Contains(t, text, "<script>alert(1)</script>")
	assert.Contains(t, text, "{nb}", "no word is a command to the PDF")
	assert.Contains(t, text, "□ stands for a letter")
	assert.GreaterOrEqual(t, strings.Count(strings.Join(strings.Fields(text), ""), "unbroken"), 1500, "a note longer than a page goes on over pages")
}

// Thousands of rows are all there, in both files.
func TestThousandsOfRows(t *testing.T) {
	t.Parallel()
	r := &pb.BuildRecordResponse{Job: &pb.Job{Id: "heron"}, JobEntry: 1, LastEntry: 6002, At: at(10, 10, 15)}
	h := &pb.HoursRecord{Stage: "metal", Logged: 3000}
	for i := range uint64(3000) {
		r.Notes = append(r.Notes, &pb.HistoryEvent{At: at(9, 8, 0), Person: "idris", Text: fmt.Sprintf("note: pass %d over the sill", i), Entry: 2 + 2*i})
		h.Entries = append(h.Entries, 3+2*i)
	}
	r.Hours = []*pb.HoursRecord{h}
	files := build(t, r, nil)
	rows := rowsOf(byID(parsed(t, files["index.html"]), "notes"))
	require.Len(t, rows, 3000)
	assert.Equal(t, []uint64{6000}, rows[2999].entries)
	text := pdfText(t, files["record.pdf"])
	for _, i := range []int{0, 1499, 2999} {
		assert.Contains(t, text, fmt.Sprintf("note: pass %d over the sill", i))
	}
	assert.Greater(t, pdfPages(t, files["record.pdf"]), 60)
}
