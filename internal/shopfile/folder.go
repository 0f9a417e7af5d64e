package shopfile

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"bayword/internal/shop"
)

// Open reads a shop: a YAML file, or a folder of JSON files or of CSV files.
func Open(name string) ([]shop.Event, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return ReadFolder(name, os.DirFS(name))
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return Read(name, data)
}

// ReadFolder reads a folder with one JSON file, or one CSV file, for each noun; one
// that is not there lists nothing. name is what errors call the folder; they are as
// those of Read. Files of other kinds are left alone.
func ReadFolder(name string, folder fs.FS) ([]shop.Event, error) {
	entries, err := fs.ReadDir(folder, ".")
	if err != nil {
		return nil, err
	}
	r := &reader{file: name}
	top := object{r, mapping(1), "the folder", map[string]*yaml.Node{}}
	files, first := map[string]string{}, ""
	for _, entry := range entries {
		ext := path.Ext(entry.Name())
		format, err := ParseFormat(strings.TrimPrefix(ext, "."))
		if err != nil || entry.IsDir() || strings.HasPrefix(entry.Name(), ".") {
			continue
		}
		at := path.Join(name, entry.Name())
		noun := strings.TrimSuffix(entry.Name(), ext)
		i := slices.Index(nounNames(), noun)
		switch {
		case first != "" && ext != first:
			return nil, fmt.Errorf("%s: the folder: %q: must be all %s or all %s", name, entry.Name(), strings.ToUpper(first[1:]), strings.ToUpper(ext[1:]))
		case i < 0:
			r.fail(fmt.Errorf("%s:1: unknown noun: %q: accepted are %s", at, noun, strings.Join(nounNames(), ", ")))
			continue
		}
		first, files[noun] = ext, at
		data, err := fs.ReadFile(folder, entry.Name())
		if err != nil {
			return nil, err
		}
		r.file = at
		if format == JSON {
			top.at[noun] = r.json(data)
		} else {
			top.at[noun] = r.csv(data, nouns()[i])
		}
	}
	r.file = name
	if err := r.err(); err != nil {
		return nil, err
	}
	return r.events(top, files)
}

var errDeep = errors.New("lists in lists in lists")

// json reads a JSON file into the nodes a YAML file would give.
func (r *reader) json(data []byte) *yaml.Node {
	d := decoder{json.NewDecoder(bytes.NewReader(data)), data, 1, 0}
	d.UseNumber()
	n, err := d.value(0)
	if err == nil {
		if _, more := d.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("more than one value")
		}
	}
	if err != nil {
		r.fail(fmt.Errorf("%s:%d: no JSON: %w", r.file, d.at(), err))
		return mapping(1)
	}
	return n
}

// decoder knows the line it is in.
type decoder struct {
	*json.Decoder
	data []byte
	line int
	seen int64
}

func (d *decoder) at() int {
	d.line += bytes.Count(d.data[d.seen:d.InputOffset()], []byte("\n"))
	d.seen = d.InputOffset()
	return d.line
}

func (d *decoder) value(depth int) (*yaml.Node, error) {
	const deepest = 4 // a list of objects with lists in objects
	t, err := d.Token()
	if err != nil {
		return nil, err
	}
	n := &yaml.Node{Kind: yaml.ScalarNode, Line: d.at()}
	switch t := t.(type) {
	case string:
		n.Tag, n.Style, n.Value = "!!str", yaml.DoubleQuotedStyle, t
	case json.Number:
		n.Tag, n.Value = "!!float", t.String()
	case bool:
		n.Tag, n.Value = "!!bool", fmt.Sprint(t)
	case json.Delim:
		if depth >= deepest {
			return nil, errDeep
		}
		n.Kind, n.Tag = yaml.SequenceNode, "!!seq"
		if t == '{' {
			n.Kind, n.Tag = yaml.MappingNode, "!!map"
		}
		for d.More() {
			item, err := d.value(depth + 1)
			if err != nil {
				return nil, err
			}
			n.Content = append(n.Content, item)
		}
		_, err = d.Token() // what closes it
	default:
		n.Tag = "!!null"
	}
	return n, err
}

// csv reads a CSV file into the nodes a YAML file would give: an empty cell is a key
// that is not there.
func (r *reader) csv(data []byte, n noun) *yaml.Node {
	table := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))) // some programs begin with this mark
	list := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Line: 1}
	header, err := table.Read()
	switch {
	case errors.Is(err, io.EOF):
		return list
	case err != nil:
		r.notCSV(err)
		return list
	case !r.columns(header, n):
		return list
	}
	for {
		cells, err := table.Read()
		switch {
		case errors.Is(err, io.EOF):
			return list
		case errors.Is(err, csv.ErrFieldCount):
			line, _ := table.FieldPos(0)
			r.fail(fmt.Errorf("%s:%d: %q: %d cells, the header has %d", r.file, line, clip(cells[0]), len(cells), len(header)))
		case err != nil:
			r.notCSV(err)
			return list
		default:
			line, _ := table.FieldPos(0)
			row := mapping(line)
			for i, text := range cells {
				if text != "" {
					line, _ := table.FieldPos(i)
					put(row, header[i], n, line, unguard(text))
				}
			}
			list.Content = append(list.Content, row)
		}
	}
}

func (r *reader) notCSV(err error) {
	line := 1
	if bad := new(csv.ParseError); errors.As(err, &bad) {
		line, err = bad.Line, bad.Err
	}
	r.fail(fmt.Errorf("%s:%d: no CSV: %w", r.file, line, err))
}

// columns checks a header.
func (r *reader) columns(header []string, n noun) bool {
	var known []string
	for _, column := range n.header() {
		key, _ := columnOf(column)
		known = append(known, key)
	}
	ok := true
	for i, key := range header {
		switch {
		case !slices.Contains(known, key):
			r.fail(fmt.Errorf("%s:1: unknown column of %s: %q: accepted are %s", r.file, n.name, clip(key), strings.Join(known, ", ")))
			ok = false
		case slices.Contains(header[:i], key):
			r.fail(fmt.Errorf("%s:1: column of %s: %q: must come once", r.file, n.name, key))
			ok = false
		}
	}
	return ok
}

// put puts a cell into its row, or into the mapping in it that its key names.
func put(row *yaml.Node, key string, n noun, line int, text string) {
	if outer, inner, nested := strings.Cut(key, "."); nested {
		var in *yaml.Node
		for i := 0; i < len(row.Content); i += 2 {
			if row.Content[i].Value == outer {
				in = row.Content[i+1]
			}
		}
		if in == nil {
			in = mapping(line)
			row.Content = append(row.Content, scalar(line, outer), in)
		}
		in.Content = append(in.Content, scalar(line, inner), scalar(line, text))
		return
	}
	v := scalar(line, text)
	if n.isList(key) {
		v = &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Line: line}
		for _, item := range split(text) {
			v.Content = append(v.Content, scalar(line, item))
		}
	}
	row.Content = append(row.Content, scalar(line, key), v)
}
