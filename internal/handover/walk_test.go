package handover_test

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "bayword/proto/bayword/v1"
)

func parsed(t *testing.T, page []byte) *html.Node {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(page))
	require.NoError(t, err)
	return root
}

// elements gives the elements of these names under a node.
func elements(root *html.Node, names ...string) []*html.Node {
	var out []*html.Node
	if root == nil {
		return nil
	}
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && slices.Contains(names, n.Data) {
			out = append(out, n)
		}
	}
	return out
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func byID(root *html.Node, id string) *html.Node {
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && attribute(n, "id") == id {
			return n
		}
	}
	return nil
}

// textOf is all a reader sees under a node, with one space between words.
func textOf(root *html.Node) string {
	if root == nil {
		return ""
	}
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode {
			b.WriteString(n.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// tracedRow is a row of a table, an item of a list or a figure's caption.
type tracedRow struct {
	text, class string // text without the entries
	entries     []uint64
}

// rowsOf walks everything on the page that may hold a figure: rows, items and
// captions. A row of column names and the list of sections hold none.
func rowsOf(root *html.Node) []tracedRow {
	var out []tracedRow
	for _, n := range elements(root, "tr", "li", "figcaption", "p") {
		if n.Parent.Data == "thead" {
			continue
		}
		r := tracedRow{class: attribute(n, "class")}
		marks, entries := "", map[string]bool{}
		for _, a := range elements(n, "a") {
			if attribute(a, "class") == "entry" {
				entries[attribute(a, "href")] = true
				marks += " " + textOf(a)
			}
		}
		all := textOf(n)
		r.text = withoutMarks(all)
		r.entries = expand(all)
		for to := range entries {
			e, err := strconv.ParseUint(strings.TrimPrefix(to, "#e"), 10, 64)
			if err != nil || !slices.Contains(r.entries, e) {
				r.entries = nil // the mark and where it leads differ
			}
		}
		if marks == "" {
			r.entries = nil
		}
		if r.class != "shop" {
			out = append(out, r)
		}
	}
	return out
}

// isMark tells whether a word is «#12», or the «–» of a run.
func isMark(word string) bool {
	_, err := strconv.ParseUint(strings.TrimPrefix(word, "#"), 10, 64)
	return err == nil && strings.HasPrefix(word, "#") || word == "–"
}

func withoutMarks(text string) string {
	return strings.Join(slices.DeleteFunc(strings.Fields(text), isMark), " ")
}

// expand gives the entries of «#12 #15 – #18» one by one.
func expand(text string) []uint64 {
	var out []uint64
	run := false
	for _, word := range strings.Fields(text) {
		switch {
		case word == "–":
			run = len(out) > 0
			continue
		case isMark(word):
			e, _ := strconv.ParseUint(word[1:], 10, 64)
			for run && out[len(out)-1]+1 < e {
				out = append(out, out[len(out)-1]+1)
			}
			out = append(out, e)
		}
		run = false
	}
	return out
}

var citation = regexp.MustCompile(`#(\d+)`)

// entriesIn gives every ledger entry that a message names, in its fields or in the
// brackets that end a line of what is open and of care.
func entriesIn(m protoreflect.Message) []uint64 {
	var out []uint64
	if r, ok := m.Interface().(*pb.BuildRecordResponse); ok {
		for _, line := range slices.Concat(r.Open, r.Care, r.Cautions) {
			for _, c := range citation.FindAllStringSubmatch(line[strings.LastIndex(line, "(")+1:], -1) {
				e, _ := strconv.ParseUint(c[1], 10, 64)
				out = append(out, e)
			}
		}
	}
	m.Range(func(f protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		name := string(f.Name())
		switch {
		case f.Kind() == protoreflect.Uint64Kind && (name == "entry" || strings.HasSuffix(name, "_entry")):
			out = append(out, v.Uint())
		case f.Kind() == protoreflect.Uint64Kind && name == "entries":
			for i := range v.List().Len() {
				out = append(out, v.List().Get(i).Uint())
			}
		case f.Message() != nil && f.IsList():
			for i := range v.List().Len() {
				out = append(out, entriesIn(v.List().Get(i).Message())...)
			}
		case f.Message() != nil && !f.IsMap():
			out = append(out, entriesIn(v.Message())...)
		}
		return true
	})
	return out
}
