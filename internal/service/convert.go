package service

import (
	"time"

	"google.golang.org/protobuf/types/known/timestamppb"

	"bayword/internal/shop"
	pb "bayword/proto/bayword/v1"
)

// The API's enums of sides, ends, edges and kinds count as the shop's do; a test
// holds their names together.

func timestamp(t time.Time) *timestamppb.Timestamp {
	if t.IsZero() {
		return nil
	}
	return timestamppb.New(t)
}

func intOf(n *uint32) *int {
	if n == nil {
		return nil
	}
	i := int(min(*n, 1<<30))
	return &i
}

// sized gives a size in mm, nil when it was not said.
func sized(mm float64) *float64 {
	if mm == 0 {
		return nil
	}
	return &mm
}

func countOf(n int) *uint32 {
	if n == 0 {
		return nil
	}
	c := uint32(n)
	return &c
}

func findPB(f shop.Find) *pb.Find {
	state := pb.FindState_FIND_STATE_OPEN
	if f.Repaired {
		state = pb.FindState_FIND_STATE_REPAIRED
	}
	return &pb.Find{
		Number: uint32(f.Number), Job: f.Job, Panel: f.Panel, Side: pb.Side(f.Side), End: pb.End(f.End), Kind: pb.FindKind(f.Kind),
		WidthMm: sized(f.Width), HeightMm: sized(f.Height), DiameterMm: sized(f.Diameter), DepthMm: sized(f.Depth),
		Count: countOf(f.Count), Note: f.Note, State: state, Person: f.By, At: timestamp(f.At),
	}
}

func stockPB(st shop.Stock) *pb.Stock {
	return &pb.Stock{
		Material: st.ID, Name: st.Name, Unit: st.Unit, Pack: st.Pack.Float(), OnHand: st.Now.Float(), ReorderAt: st.ReorderAt.Float(),
		Low: st.Low, Batch: st.Batch, Expires: st.Expires.String(),
	}
}

func torquePB(r *shop.TorqueReference) *pb.TorqueReference {
	if r == nil {
		return nil
	}
	return &pb.TorqueReference{
		Job: r.Job, Fastener: r.Fastener, Thread: r.Thread, TorqueNm: r.Torque, StagesNm: r.Stages, Source: r.Source,
		SafetyCritical: r.Critical, SetBy: r.By, SetAt: timestamp(r.At), Entry: r.Entry,
	}
}

func signOffPB(o *shop.SignOff) *pb.TorqueSignOff {
	if o == nil {
		return nil
	}
	return &pb.TorqueSignOff{Job: o.Job, Fastener: o.Fastener, TorqueNm: o.Torque, Count: countOf(o.Count), Person: o.By, At: timestamp(o.At)}
}

func targetPB(r *shop.GapReference) *pb.GapReference {
	if r == nil {
		return nil
	}
	return &pb.GapReference{
		Job: r.Job, Panel: r.Panel, Side: pb.Side(r.Side), Edge: pb.Edge(r.Edge), TargetMm: r.Target, ToleranceMm: r.Tolerance,
		FlushToleranceMm: r.FlushTolerance, Source: r.Source, SetBy: r.By, SetAt: timestamp(r.At),
	}
}

func readingPB(r shop.GapReading) *pb.GapReading {
	return &pb.GapReading{
		Job: r.Job, Panel: r.Panel, Side: pb.Side(r.Side), End: pb.End(r.End), Edge: pb.Edge(r.Edge),
		GapMm: r.Gaps, FlushMm: r.Flush, Person: r.By, At: timestamp(r.At),
	}
}

func stagePB(h shop.StageHours) *pb.StageHours {
	return &pb.StageHours{Stage: h.Stage.String(), Logged: h.Logged.Float(), Estimate: h.Agreed().Float(), Extras: h.Extras.Float()}
}

func stagesPB(hs []shop.StageHours) []*pb.StageHours {
	all := make([]*pb.StageHours, len(hs))
	for i, h := range hs {
		all[i] = stagePB(h)
	}
	return all
}

func jobPB(j shop.JobCreated) *pb.Job {
	return &pb.Job{
		Id: j.ID, Year: uint32(j.Year), Make: j.Make, Model: j.Model, Body: j.Body, Drive: j.Drive, Customer: j.Customer,
		Stage: j.Stage.String(), Bay: uint32(j.Bay), AlsoCalled: j.AlsoCalled,
	}
}
