package handover

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"net/http"

	pb "bayword/proto/bayword/v1"
)

// photograph is one as a row shows it: a file of the folder, or a note why there is
// none.
type photograph struct {
	File, Name, Note string
}

// album holds the photographs of a record, each content once.
type album struct {
	files []File
	by    map[string]photograph // by SHA-256; Name is empty
	data  map[string][]byte     // by file name
}

const (
	notKept    = "its content was not kept"
	notFound   = "its content could not be found"
	notItself  = "its content is not what was given: it was left out"
	notPicture = "it is no JPEG or PNG: it was left out"
)

// collect fetches what the record names. It fails only with the context's error.
func collect(ctx context.Context, r *pb.BuildRecordResponse, photos Photos) (*album, error) {
	a := &album{by: map[string]photograph{}, data: map[string][]byte{}}
	var named []*pb.Photo
	for _, f := range r.GetFinds() {
		named = append(named, f.GetPhotos()...)
	}
	for _, p := range append(named, r.GetPhotos()...) {
		sum := p.GetSha256()
		if _, ok := a.by[sum]; ok || sum == "" {
			continue
		}
		shot, data := photograph{Note: notFound}, []byte(nil)
		if photos != nil {
			var err error
			if data, err = photos.Photo(ctx, sum); err == nil {
				shot = checked(sum, data)
			}
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		a.by[sum] = shot
		if shot.File != "" {
			a.files = append(a.files, File{shot.File, data})
			a.data[shot.File] = data
		}
	}
	return a, nil
}

// checked tells whether the content is a picture, and the one that is named.
func checked(sum string, data []byte) photograph {
	is := sha256.Sum256(data)
	if hex.EncodeToString(is[:]) != sum {
		return photograph{Note: notItself}
	}
	switch http.DetectContentType(data) {
	case "image/jpeg":
		return photograph{File: "photos/" + sum[:16] + ".jpg"}
	case "image/png":
		return photograph{File: "photos/" + sum[:16] + ".png"}
	}
	return photograph{Note: notPicture}
}

// of gives the photographs as a row shows them.
func (a *album) of(photos []*pb.Photo) []photograph {
	var out []photograph
	for _, p := range photos {
		shot := a.by[p.GetSha256()]
		if p.GetSha256() == "" {
			shot = photograph{Note: notKept}
		}
		if shot.Name = short(p.GetName(), 80); shot.Name == "" {
			shot.Name = "photograph"
		}
		out = append(out, shot)
	}
	return out
}
