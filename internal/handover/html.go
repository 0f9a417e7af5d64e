package handover

import (
	"bytes"
	_ "embed" // the page
	"fmt"
	"html/template"
	"slices"
	"strings"
	"unicode/utf8"
)

//go:embed page.html.tmpl
var pageText string

// long tells whether a text has a word that must be broken to fit a column: others
// are not, for a price reads badly on two lines.
func long(text string) bool {
	const most = 24
	return slices.ContainsFunc(strings.Fields(text), func(w string) bool { return utf8.RuneCountInString(w) > most })
}

// renderHTML writes the page. Everything from the record goes through the
// template's own escaping.
func renderHTML(doc document) ([]byte, error) {
	page, err := template.New("page").Funcs(template.FuncMap{"long": long}).Parse(pageText)
	if err != nil {
		return nil, fmt.Errorf("read the page's template: %w", err)
	}
	var b bytes.Buffer
	if err := page.Execute(&b, doc); err != nil {
		return nil, fmt.Errorf("write the page: %w", err)
	}
	return b.Bytes(), nil
}
