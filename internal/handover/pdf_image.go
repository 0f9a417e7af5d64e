package handover

import (
	"bytes"
	"context"
	"encoding/gob"
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

// register reads the pictures and photographs in. A photograph that cannot be read
// is left out of the PDF; the folder has it.
func (s *sheet) register(ctx context.Context, drawn []picture) error {
	for _, p := range drawn {
		if err := s.image(p.Name, "PNG", p.Data); err != nil {
			return err
		}
	}
	for _, file := range s.album.files {
		if err := ctx.Err(); err != nil {
			return err
		}
		small, err := printed(file.Data)
		if err != nil {
			continue
		}
		if err := s.image(file.Name, "JPG", small); err != nil {
			return err
		}
	}
	return nil
}

// image reads one image in. The library writes images by their width, and those of
// the same width in an order of chance; so each is told from the others by a hair
// of width that no reader sees: the file has whole pixels alone.
func (s *sheet) image(name, kind string, data []byte) error {
	const hair = 1e-6
	info := s.f.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: kind}, bytes.NewReader(data))
	if err := s.f.Error(); err != nil {
		return fmt.Errorf("put %s into the PDF: %w", name, err)
	}
	s.images++
	if err := widen(info, float64(s.images)*hair); err != nil {
		return fmt.Errorf("put %s into the PDF: %w", name, err)
	}
	return nil
}

// widen adds to the width of an image by way of the library's own stored form.
func widen(info *fpdf.ImageInfoType, by float64) error {
	stored, err := info.GobEncode()
	if err != nil {
		return err
	}
	var (
		content, mask, palette  []byte
		number, bits            int
		width, high, scale, dpi float64
		space, filter, parms    string
		clear                   []int
	)
	fields := []any{&content, &mask, &number, &width, &high, &space, &palette, &bits, &filter, &parms, &clear, &scale, &dpi}
	from := gob.NewDecoder(bytes.NewReader(stored))
	var out bytes.Buffer
	to := gob.NewEncoder(&out)
	for _, f := range fields {
		if err := from.Decode(f); err != nil {
			return err
		}
		if f == any(&width) {
			width += by
		}
		if err := to.Encode(f); err != nil {
			return err
		}
	}
	return info.GobDecode(out.Bytes())
}
