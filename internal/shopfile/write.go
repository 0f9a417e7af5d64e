package shopfile

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"time"

	"bayword/internal/shop"
)

// Format is how the files of a folder are written; it ends their names too.
type Format string

// Formats of a folder.
const (
	JSON Format = "json"
	CSV  Format = "csv"
)

// ParseFormat reads the name of a format.
func ParseFormat(name string) (Format, error) {
	switch f := Format(strings.ToLower(name)); f {
	case JSON, CSV:
		return f, nil
	}
	return "", fmt.Errorf("%q is no format; there are %s and %s", name, JSON, CSV)
}

// File is one file of a folder.
type File struct {
	Name string
	Data []byte
}

// Write gives the files of a shop, one for each noun, and one that says how to read
// them. The same events give the same bytes.
func Write(all []shop.Kept, format Format) ([]File, error) {
	zone, entry := time.UTC, 0
	for _, k := range all {
		if e, ok := k.Event.(shop.ShopOpened); ok {
			if loc, err := time.LoadLocation(e.TimeZone); err == nil {
				zone = loc
			}
		}
	}
	lines := map[string][]line{}
	for _, k := range all {
		name, l := lineOf(k, zone)
		if name == "" {
			return nil, fmt.Errorf("shopfile: %T cannot be written", k.Event)
		}
		if k.By != "" && !isHead(name) {
			entry++
			l.whole("entry", entry)
		}
		lines[name] = append(lines[name], l)
	}
	files := []File{{"README.txt", []byte(readme)}}
	for _, n := range nouns() {
		encode := jsonOf
		if format == CSV {
			encode = csvOf
		}
		data, err := encode(n, lines[n.name])
		if err != nil {
			return nil, fmt.Errorf("shopfile: %s: %w", n.name, err)
		}
		files = append(files, File{n.name + "." + string(format), data})
	}
	return files, nil
}

func isHead(name string) bool {
	for _, n := range nouns() {
		if n.name == name {
			return n.head
		}
	}
	return false
}

// jsonOf writes a list of objects, one in a line, so that a line number says which.
func jsonOf(n noun, lines []line) ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('[')
	for i, l := range lines {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n{")
		if err := l.json(&b, n.header()); err != nil {
			return nil, err
		}
		b.WriteByte('}')
	}
	b.WriteString("\n]\n")
	return b.Bytes(), nil
}

// json writes what the columns hold; those with the same beginning before a dot are
// one object.
func (l line) json(b *bytes.Buffer, columns []string) error {
	within, first := "", true
	for _, column := range columns {
		key, list := columnOf(column)
		c, ok := l[key]
		if !ok {
			continue
		}
		outer, inner, nested := strings.Cut(key, ".")
		if !nested {
			outer, inner = "", key
		}
		if within != "" && outer != within {
			b.WriteByte('}')
		}
		if !first {
			b.WriteString(", ")
		}
		if nested && outer != within {
			fmt.Fprintf(b, "%q: {", outer)
		}
		within, first = outer, false
		fmt.Fprintf(b, "%q: ", inner)
		if err := c.json(b, list); err != nil {
			return err
		}
	}
	if within != "" {
		b.WriteByte('}')
	}
	return nil
}

func (c cell) json(b *bytes.Buffer, list bool) error {
	var texts []string
	for _, item := range c.items {
		text := item
		if !c.bare {
			var quoted bytes.Buffer
			enc := json.NewEncoder(&quoted)
			enc.SetEscapeHTML(false)
			if err := enc.Encode(item); err != nil {
				return err
			}
			text = strings.TrimSuffix(quoted.String(), "\n")
		}
		texts = append(texts, text)
	}
	if list {
		b.WriteString("[" + strings.Join(texts, ", ") + "]")
	} else {
		b.WriteString(texts[0])
	}
	return nil
}

// csvOf writes a table with a header, as RFC 4180 has it.
func csvOf(n noun, lines []line) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	var keys []string
	for _, column := range n.header() {
		key, _ := columnOf(column)
		keys = append(keys, key)
	}
	_ = w.Write(keys) // an error shows at the end
	for _, l := range lines {
		cells := make([]string, len(keys))
		for i, key := range keys {
			c, ok := l[key]
			switch {
			case !ok:
			case n.isList(key):
				cells[i] = guard(join(c.items))
			default:
				cells[i] = guard(c.items[0])
			}
		}
		_ = w.Write(cells)
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// join puts the items of a list into one cell, with «; » between; a backslash goes
// before a semicolon or a backslash of an item itself.
func join(items []string) string {
	escaped := make([]string, len(items))
	for i, item := range items {
		escaped[i] = strings.NewReplacer(`\`, `\\`, `;`, `\;`).Replace(item)
	}
	return strings.Join(escaped, "; ")
}

// split is the opposite of join.
func split(text string) []string {
	var items []string
	var item strings.Builder
	end := func() {
		items = append(items, strings.TrimSpace(item.String()))
		item.Reset()
	}
	escaped := false
	for _, r := range text {
		switch {
		case escaped:
			item.WriteRune(r)
			escaped = false
		case r == '\\':
			escaped = true
		case r == ';':
			end()
		default:
			item.WriteRune(r)
		}
	}
	end()
	return items
}

// guarded are the beginnings of a cell that a spreadsheet may take for a formula,
// and the apostrophe that guards against it.
const guarded = "=+-@\t\r'"

var plainNumber = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// guard puts an apostrophe before what a spreadsheet would take for a formula. A
// number is none.
func guard(text string) string {
	if text != "" && strings.Contains(guarded, text[:1]) && !plainNumber.MatchString(text) {
		return "'" + text
	}
	return text
}

// unguard is the opposite of guard.
func unguard(text string) string {
	if len(text) > 1 && text[0] == '\'' && strings.Contains(guarded, text[1:2]) {
		return text[1:]
	}
	return text
}
