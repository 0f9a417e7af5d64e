package slack

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"bayword/internal/inbox"
	"bayword/internal/surface"
)

// record is the file of a handover that is shown by itself.
const record = "record.pdf"

// handover gives what is shown of a handover: the record, and all of it in one
// file. Their names say which message asked, so that they are the same at every
// try.
func (s *Surface) handover(ctx context.Context, e inbox.Entry) ([]attachment, error) {
	ctx, cancel := context.WithTimeout(ctx, s.pace.files)
	defer cancel()
	title, files, err := s.cfg.Files(ctx, e.Reply.Handover)
	if err != nil {
		return nil, err
	}
	name := "handover-" + slug(e.Reply.Handover) + "-" + e.Message.At.Format("20060102-1504")
	var out []attachment
	for _, f := range files {
		if path.Base(f.Name) == record {
			out = append(out, attachment{name: name + path.Ext(record), title: title, data: f.Data})
			break
		}
	}
	all, err := zipped(name, files, e.Message.At)
	if err != nil {
		return nil, err
	}
	return append(out, attachment{name: name + ".zip", title: title + ", everything", data: all}), nil
}

// zipped packs files into one, below a folder; the same files give the same bytes.
func zipped(folder string, files []surface.File, at time.Time) ([]byte, error) {
	if len(files) == 0 {
		return nil, errors.New("there are no files to hand over")
	}
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b surface.File) int { return strings.Compare(a.Name, b.Name) })
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range files {
		if !fs.ValidPath(f.Name) || f.Name == "." {
			return nil, fmt.Errorf("a file to hand over cannot be named %q", f.Name)
		}
		part, err := w.CreateHeader(&zip.FileHeader{Name: folder + "/" + f.Name, Method: zip.Deflate, Modified: at.Truncate(time.Second)})
		if err == nil {
			_, err = part.Write(f.Data)
		}
		if err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// slug keeps what can stand in a file's name everywhere.
func slug(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' {
			return r
		}
		return '-'
	}, s)
}
