package fit

import (
	"fmt"
	"math"
	"slices"
)

// What is accepted; wide enough for any panel and narrow enough to catch a slip.
const (
	leastPanelMM = 100
	mostPanelMM  = 4000
	mostSpanMM   = 1e6 // of observations given as bare points
	mostGapMM    = 50  // a wider one is a missing panel, not a shut line
	mostFlushMM  = 50
	mostTravelMM = 50
	leastStepMM  = 0.05
	mostStepMM   = 5
	mostPaintMM  = 1
	mostReadings = 50 // on one edge
)

// What is taken when it is not said. Common practice, no source.
const (
	DefaultStepMM           = 0.1 // as fine as a gap is measured
	DefaultTravelMM         = 5.0 // each way
	DefaultFlushToleranceMM = 1.0 // flush within 0.5 to 1
)

// Paint closes a gap by this much when both its edges are painted, in mm: 0.1 to
// 0.15 an edge. Common practice, no source.
const (
	PaintLowMM  = 0.2
	PaintHighMM = 0.3
)

// EdgeReading is what is wanted and what was measured along one edge. Readings
// are spread evenly from end to end: top to bottom, front to rear, or (on the
// edges that run across a vehicle) left to right.
type EdgeReading struct {
	Edge             Edge
	GapMM            []float64 // may be empty
	FlushMM          []float64 // step to the neighbour, + proud, − low; may be empty
	TargetMM         float64   // gap wanted, in paint
	ToleranceMM      float64   // of the gap, either way
	FlushToleranceMM float64   // of flush, either way; 0 is not said
}

// Range is how far something can still be moved, in mm: LowMM towards back, down, right
// or in, so 0 or less, HighMM the other way. The zero Range is fixed.
type Range struct{ LowMM, HighMM float64 }

// Travel is what is left of the adjustment.
type Travel struct {
	First, Second HingeTravel // the upper or left or front hinge; the other
	Along         Range       // both hinges along the hinge edge
	LatchOut      Range
}

// HingeTravel is what is left at one hinge.
type HingeTravel struct {
	Across Range // towards the opposite edge and back
	Out    Range
}

// Input is a panel and its readings.
type Input struct {
	Panel   Panel
	Edges   []EdgeReading // each edge at most once
	Travel  *Travel       // nil is not said
	StepMM  float64       // what moves come in, as shims do; 0 is not said
	PaintMM float64       // how much paint will still close each gap; 0 when painted
}

// understood checks the input and fills in what was not said, with the
// assumptions made by that. It shares nothing with in.
func understood(in Input) (Input, frame, []string, error) {
	f, err := newFrame(in.Panel)
	if err != nil {
		return Input{}, frame{}, nil, err
	}
	if err := within("paint_mm", in.PaintMM, 0, mostPaintMM); err != nil {
		return Input{}, frame{}, nil, err
	}
	first, second := f.hinges()
	notes := []string{
		"the panel is a rigid rectangle; its hinges and its " + f.latch + " lie around the middle of their edges",
		"readings are spread evenly from one end of an edge to the other",
	}
	if in.PaintMM > 0 {
		notes = append(notes, fmt.Sprintf("gaps are set %s mm wider than wanted, which paint closes (common practice, no source: %g to %g mm a gap)", plain(in.PaintMM), PaintLowMM, PaintHighMM))
	}
	if in.StepMM == 0 {
		in.StepMM = DefaultStepMM
		notes = append(notes, fmt.Sprintf("the shim step was not said: %g mm taken", DefaultStepMM))
	}
	if err := within("step_mm", in.StepMM, leastStepMM, mostStepMM); err != nil {
		return Input{}, frame{}, nil, err
	}
	if in.Travel == nil {
		r := Range{-DefaultTravelMM, DefaultTravelMM}
		in.Travel = &Travel{HingeTravel{r, r}, HingeTravel{r, r}, r, r}
		notes = append(notes, fmt.Sprintf("travel was not said: %g mm each way taken at %s, %s and %s", DefaultTravelMM, first, second, f.latch))
	}
	travel := *in.Travel
	in.Travel = &travel
	for _, r := range []Range{travel.First.Across, travel.First.Out, travel.Second.Across, travel.Second.Out, travel.Along, travel.LatchOut} {
		if !(r.LowMM >= -mostTravelMM && r.LowMM <= 0 && r.HighMM >= 0 && r.HighMM <= mostTravelMM) {
			return Input{}, frame{}, nil, refuse("travel", fmt.Sprintf("%g to %g", r.LowMM, r.HighMM),
				"give how far it can go from where it stands: %d to 0 mm one way, 0 to %d mm the other", -mostTravelMM, mostTravelMM)
		}
	}

	in.Edges = slices.Clone(in.Edges)
	seen := map[Edge]bool{}
	for i := range in.Edges {
		e := &in.Edges[i]
		if !slices.Contains(f.edges[:], e.Edge) {
			return Input{}, frame{}, nil, refuse("edge", e.Edge, "use %s, %s, %s or %s", f.edges[0], f.edges[1], f.edges[2], f.edges[3])
		}
		if seen[e.Edge] {
			return Input{}, frame{}, nil, refuse("edge", e.Edge, "give each edge once, with its latest readings")
		}
		seen[e.Edge] = true
		if err := e.check(); err != nil {
			return Input{}, frame{}, nil, err
		}
		e.GapMM, e.FlushMM = slices.Clone(e.GapMM), slices.Clone(e.FlushMM)
		if e.FlushToleranceMM == 0 && len(e.FlushMM) > 0 {
			e.FlushToleranceMM = DefaultFlushToleranceMM
			notes = append(notes, fmt.Sprintf("no flush tolerance is set for the %s edge: %g mm taken (common practice, no source)", e.Edge, DefaultFlushToleranceMM))
		}
	}
	return in, f, notes, nil
}

func (e *EdgeReading) check() error {
	if n := max(len(e.GapMM), len(e.FlushMM)); n > mostReadings {
		return refuse("readings", n, "give at most %d an edge", mostReadings)
	}
	for _, v := range e.GapMM {
		if err := within("gap_mm", v, 0, mostGapMM); err != nil {
			return err
		}
	}
	for _, v := range e.FlushMM {
		if err := within("flush_mm", v, -mostFlushMM, mostFlushMM); err != nil {
			return err
		}
	}
	if len(e.GapMM) > 0 {
		if !(e.TargetMM > 0 && e.TargetMM <= mostGapMM) {
			return refuse("target_mm", e.TargetMM, "give the gap wanted on the %s edge, above 0 and up to %d mm", e.Edge, mostGapMM)
		}
		if err := within("tolerance_mm", e.ToleranceMM, 0, e.TargetMM); err != nil {
			return err
		}
	}
	return within("flush_tolerance_mm", e.FlushToleranceMM, 0, mostFlushMM)
}

// quantum is what sums of floating point are judged in: a millionth of a mm.
func quantum(mm float64) int64 { return int64(math.Round(mm * 1e6)) }
