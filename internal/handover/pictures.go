package handover

import (
	"errors"
	"fmt"

	drawing "bayword/internal/say/picture"
	pb "bayword/proto/bayword/v1"
)

// pictureKind says which section a picture belongs to.
type pictureKind int

const (
	outlinePicture pictureKind = iota
	gapPicture
	hoursPicture
)

// mostGapPictures bounds the drawn edges: more than a vehicle has.
const mostGapPictures = 60

// picture is a drawing with its caption.
type picture struct {
	File
	kind    pictureKind
	caption string
	entries entries
}

// drawings makes the pictures of a record, as far as there is something to draw.
func drawings(r *pb.BuildRecordResponse) ([]picture, error) {
	var all []picture
	add := func(p picture, err error) error {
		if err == nil {
			all = append(all, p)
		}
		if err != nil && !errors.Is(err, drawing.ErrNothing) {
			return fmt.Errorf("draw %s: %w", p.Name, err)
		}
		return nil
	}
	if err := add(outlineOf(r)); err != nil {
		return nil, err
	}
	for i, g := range r.GetGaps()[:min(len(r.GetGaps()), mostGapPictures)] {
		if err := add(gapsOf(g, i+1)); err != nil {
			return nil, err
		}
	}
	if err := add(hoursOf(r)); err != nil {
		return nil, err
	}
	return all, nil
}

func outlineOf(r *pb.BuildRecordResponse) (picture, error) {
	var finds []*pb.Find
	var es [][]uint64
	for _, f := range r.GetFinds() {
		finds, es = append(finds, f.GetFind()), append(es, f.GetEntries())
	}
	data, err := drawing.Outline(r.GetJob().GetBody(), finds)
	return picture{
		File: File{"pictures/outline.png", data}, kind: outlinePicture, entries: entriesOf(es...),
		caption: "Where the finds are, by their numbers. It is a drawing of the kind of body, not of this vehicle.",
	}, err
}

func gapsOf(g *pb.GapRecord, n int) (picture, error) {
	data, err := drawing.Gaps(g.GetBefore(), g.GetAfter(), g.GetTarget())
	return picture{
		File: File{fmt.Sprintf("pictures/gap-%02d.png", n), data}, kind: gapPicture, entries: entriesOf(g.GetEntries()),
		caption: upper(gapPlace(g.GetBefore())),
	}, err
}

func hoursOf(r *pb.BuildRecordResponse) (picture, error) {
	var stages []*pb.StageForecast
	var es [][]uint64
	for _, h := range r.GetHours() {
		s := &pb.StageForecast{Stage: h.GetStage(), Logged: h.GetLogged() + h.GetImported()}
		if h.GetEstimate() > h.GetExtras() { // extras alone are nothing to hold hours against
			s.Estimate = h.GetEstimate()
		}
		stages = append(stages, s)
		es = append(es, h.GetEntries())
	}
	data, err := drawing.HoursByStage(r.GetJob().GetId(), stages)
	return picture{
		File: File{"pictures/hours.png", data}, kind: hoursPicture, entries: entriesOf(es...),
		caption: "Hours logged, those brought in with the job included, against those agreed.",
	}, err
}

// figures gives the pictures of one kind.
func (w *writer) figures(kind pictureKind) []figure {
	var out []figure
	for _, p := range w.drawn {
		if p.kind == kind {
			out = append(out, figure{File: p.Name, Caption: p.caption, Entries: p.entries})
		}
	}
	return out
}
