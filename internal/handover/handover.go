// Package handover turns the record of a job into one folder for the customer:
// a page to read on a phone or to print, the same as a PDF, and the pictures and
// photographs both show. Every row carries the numbers of the ledger entries it
// rests on, so that every figure can be followed back to who said it and when.
//
// It decides nothing and refuses nothing: what is open comes first. It touches no
// disk and reads no clock, so the same record gives the same bytes. It may import
// the generated API types, internal/unit and internal/say/picture.
package handover

import (
	"context"
	"errors"
	"time"

	pb "bayword/proto/bayword/v1"
)

// ErrNoRecord says that there is nothing to hand over.
var ErrNoRecord = errors.New("handover: no record of a job: give the answer of BuildRecord")

// File is one file of the folder. Its name has slashes where it lies deeper, and is
// made of digits, small letters and «-./» alone.
type File struct {
	Name string
	Data []byte
}

// Photos gives photographs by the SHA-256 of their content, in hexadecimal.
type Photos interface {
	Photo(ctx context.Context, sha256 string) ([]byte, error)
}

// Build makes the folder: index.html, record.pdf, pictures/*.png and photos/*, in
// this order. Times are shown in zone; nil means UTC. photos may be nil when none
// are kept. A photograph that cannot be had is named with a note and fails
// nothing; an error is ErrNoRecord, the context's, or one of drawing.
func Build(ctx context.Context, r *pb.BuildRecordResponse, photos Photos, zone *time.Location) ([]File, error) {
	if r.GetJob() == nil {
		return nil, ErrNoRecord
	}
	if zone == nil {
		zone = time.UTC
	}
	album, err := collect(ctx, r, photos)
	if err != nil {
		return nil, err
	}
	drawn, err := drawings(r)
	if err != nil {
		return nil, err
	}
	w := writer{r: r, zone: zone, album: album, drawn: drawn}
	doc := w.document()
	page, err := renderHTML(doc)
	if err != nil {
		return nil, err
	}
	print, err := renderPDF(ctx, doc, drawn, album, r.GetAt().AsTime())
	if err != nil {
		return nil, err
	}
	files := []File{{"index.html", page}, {"record.pdf", print}}
	for _, p := range drawn {
		files = append(files, p.File)
	}
	return append(files, album.files...), nil
}
