package slack

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"

	"bayword/internal/surface"
)

// photoTries is how often the photographs of a message are tried, before the
// message is handled without those that do not come.
const photoTries = 3

// photo gives a file as a photograph, if it is one. Of one that is too large the
// platform's own smaller copy is taken, if there is any.
func (f wireFile) photo() (p surface.Photo, ok bool) {
	if f.Mimetype != "image/jpeg" && f.Mimetype != "image/png" {
		return p, false
	}
	p = surface.Photo{Name: f.name(), URL: f.URL}
	if f.Size > surface.MaxPhoto {
		p.URL = f.Smaller
	}
	return p, true
}

// fetch keeps the photographs of a message and puts their names by content into
// it. What cannot be had stays a name. An error means: try again.
func (s *Surface) fetch(ctx context.Context, m surface.Message, try int) (surface.Message, error) {
	if len(m.Photos) == 0 || s.cfg.Keep == nil {
		return m, nil
	}
	ctx, cancel := context.WithTimeout(ctx, s.pace.photos)
	defer cancel()
	m.Photos = slices.Clone(m.Photos)
	for i := range m.Photos {
		p := &m.Photos[i]
		err := errors.New("too large, or not on the platform")
		switch {
		case i >= surface.MaxPhotos:
			err = fmt.Errorf("more than %d photographs in one message", surface.MaxPhotos)
		case p.URL != "":
			p.SHA256, err = s.fetchOne(ctx, m.Person, p.URL)
			if err != nil && !errors.As(err, new(surface.NotTaken)) && try+1 < photoTries {
				return m, fmt.Errorf("photograph %q: %w", p.Name, err)
			}
		}
		if err != nil {
			s.log.Error("a photograph is not kept; the app needs the bot scope files:read, and the person must be known", "message", m.ID, "name", p.Name, "err", err)
		}
		p.URL = ""
	}
	return m, nil
}

func (s *Surface) fetchOne(ctx context.Context, person, url string) (sum string, err error) {
	data := &limited{most: surface.MaxPhoto}
	// The client gives the token to the platform's own hosts alone.
	if err := s.files.GetFileContext(ctx, url, data); err != nil {
		return "", err
	}
	return s.cfg.Keep(ctx, person, data.Bytes())
}

// limited is a buffer that takes so many bytes and no more.
type limited struct {
	bytes.Buffer
	most int
}

func (l *limited) Write(p []byte) (int, error) {
	if l.Len()+len(p) > l.most {
		return 0, fmt.Errorf("more than %d bytes", l.most)
	}
	return l.Buffer.Write(p)
}
