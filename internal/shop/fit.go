package shop

import "slices"

// Hung is what is known of a hung panel: its size, and the latest readings of each
// of its edges with the target in force there.
type Hung struct {
	Where                  // as asked; End is filled in when the readings name one only
	Size  *DoorGeometrySet // nil when nobody told it
	Stage Stage            // the job is in
	Edges []HungEdge       // that were read, in the order front, rear, top, bottom, left, right
}

// HungEdge is one edge of a hung panel. A bonnet, boot lid and tailgate have edges
// at their sides: those have a Side and no Edge. With both, only that half of the
// edge was read.
type HungEdge struct {
	Edge        Edge
	Side        Side
	Gaps, Flush *GapReading   // the latest with such readings, nil for none
	Target      *GapReference // nil when none is set
}

// sideEdged are the panels that have an edge on the left and one on the right.
var sideEdged = map[string]bool{"bonnet": true, "boot lid": true, "tailgate": true}

// edgeNeeded tells whether a reading of a panel must name its edge: where the side
// is an edge itself, it does.
func edgeNeeded(panel string, side Side) bool {
	return !sideEdged[panel] || side != Left && side != Right
}

// Hung finds the size of a panel and its latest readings, edge by edge. Doors of
// which the readings name different ends are Ambiguous until the end is said.
func (s *State) Hung(w Where) (Hung, error) {
	err := missing(need{"job", w.Job != ""}, need{"panel", w.Panel != ""}, need{"side", w.Side != 0 || !Sided(w.Panel)})
	if err != nil {
		return Hung{}, err
	}
	j, err := s.job(w.Job)
	if err != nil {
		return Hung{}, err
	}
	if err := place(w.Panel, w.Side, true); err != nil {
		return Hung{}, err
	}
	h := Hung{Where: w, Stage: s.stageNow(j)}
	for _, d := range slices.Backward(s.doors) {
		if d.Job == w.Job && d.Panel == w.Panel && (d.Side == w.Side || d.Side == 0 || !Sided(w.Panel)) {
			h.Size = &d
			break
		}
	}
	ends := map[End]bool{}
	for _, i := range slices.Backward(j.recs) {
		e, ok := s.details[i].(GapRecorded)
		if !ok || e.Panel != w.Panel || Sided(w.Panel) && e.Side != w.Side || w.End != 0 && e.End != 0 && w.End != e.End {
			continue
		}
		if e.End != 0 {
			ends[e.End] = true
		}
		edge := h.edge(e)
		if edge.Target == nil {
			edge.Target = s.gapTarget(Where{Job: w.Job, Panel: w.Panel, Side: e.Side, Edge: e.Edge})
		}
		r := GapReading{e, s.said(i)}
		if edge.Gaps == nil && len(e.Gaps) > 0 {
			edge.Gaps = &r
		}
		if edge.Flush == nil && len(e.Flush) > 0 {
			edge.Flush = &r
		}
	}
	if w.End == 0 && len(ends) > 1 {
		return Hung{}, refuse(Ambiguous, "field", "end", "options", "front,rear",
			"option.front", placeName(w.Panel, w.Side, FrontEnd), "option.rear", placeName(w.Panel, w.Side, RearEnd))
	}
	for end := range ends {
		h.End = end
	}
	slices.SortFunc(h.Edges, func(a, b HungEdge) int { return a.order() - b.order() })
	return h, nil
}

// edge gives the edge that a reading is of.
func (h *Hung) edge(e GapRecorded) *HungEdge {
	side := e.Side
	if !sideEdged[h.Panel] || side == Centre {
		side = 0
	}
	for i := range h.Edges {
		if h.Edges[i].Edge == e.Edge && h.Edges[i].Side == side {
			return &h.Edges[i]
		}
	}
	h.Edges = append(h.Edges, HungEdge{Edge: e.Edge, Side: side})
	return &h.Edges[len(h.Edges)-1]
}

func (e HungEdge) order() int {
	if e.Edge == 0 {
		return 10 * (int(BottomEdge) + int(e.Side))
	}
	return 10*int(e.Edge) + int(e.Side)
}
