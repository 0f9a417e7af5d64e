package handover_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "bayword/proto/bayword/v1"
)

// shelf keeps photographs by what is in them.
type shelf map[string][]byte

func (s shelf) Photo(_ context.Context, sum string) ([]byte, error) {
	if data, ok := s[sum]; ok {
		return data, nil
	}
	return nil, errors.New("no such photograph")
}

func (s shelf) put(data []byte) string {
	sum := sha256.Sum256(data)
	name := hex.EncodeToString(sum[:])
	s[name] = data
	return name
}

// shot is a photograph of a slope of grey, brighter to the right.
func shot(w, h int) image.Image {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetGray(x, y, color.Gray{Y: uint8(255 * x / w)})
		}
	}
	return img
}

func jpegOf(img image.Image) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func pngOf(img image.Image) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// at is a moment of March 2026 in the demo shop.
func at(day, hour, minute int) *timestamppb.Timestamp {
	return timestamppb.New(time.Date(2026, 3, day, hour, minute, 0, 0, time.UTC))
}

// heron is a record with something in every section.
func heron(photos shelf) *pb.BuildRecordResponse {
	hole := photos.put(jpegOf(shot(1600, 900)))
	dent := photos.put(pngOf(shot(300, 400)))
	return &pb.BuildRecordResponse{
		Shop: "Millrace Coachworks", Currency: "GBP", JobEntry: 20, LastEntry: 164, At: at(10, 10, 15),
		Job: &pb.Job{
			Id: "heron", Year: 1964, Make: "Tarrant", Model: "Heron", Body: "two-door coupe", Drive: "rhd", Customer: "Mrs Adeyemi", Stage: "metal", Bay: 2,
		},
		Open: []string{
			"brief line 2 is not met: Disc brakes at the front (entry #20)",
			"find 3 is open: dent, front valance, 90 × 90 mm (entry #62)",
			"safety-critical: brake caliper bolt, 77 N·m, is not signed off (entry #54)",
			"extra 2 waits for the customer: let in the left rear wing (entry #92)",
		},
		Brief: []*pb.BriefLine{
			{Number: 1, Text: "Body straight enough for dark green solid colour", Met: true, How: "blocked to P320, guide coat clear all over", MetBy: "mabel", MetAt: at(9, 16, 0), Entries: []uint64{20, 150}},
			{Number: 2, Text: "Disc brakes at the front", Entries: []uint64{20}},
			{Number: 3, Text: "Tow bracket left off", Person: "wren", At: at(4, 9, 0)},
		},
		Finds: []*pb.FindRecord{
			{
				Find: &pb.Find{
					Number: 1, Job: "heron", Panel: "sill", Side: pb.Side_SIDE_LEFT, Kind: pb.FindKind_FIND_KIND_HOLE, WidthMm: proto.Float64(180), HeightMm: proto.Float64(60),
					Note: "behind an old plate", State: pb.FindState_FIND_STATE_REPAIRED,
				},
				Entries: []uint64{60, 120}, RepairedBy: "idris", RepairedAt: at(6, 17, 5),
				Photos: []*pb.Photo{{Name: "sill before.jpg", Sha256: hole}, {Name: "sill after.jpg"}},
			},
			{
				Find: &pb.Find{
					Number: 3, Job: "heron", Panel: "front valance", Side: pb.Side_SIDE_CENTRE, Kind: pb.FindKind_FIND_KIND_DENT, WidthMm: proto.Float64(90), HeightMm: proto.Float64(90),
					DepthMm: proto.Float64(4.5), Count: proto.Uint32(2), State: pb.FindState_FIND_STATE_OPEN, Person: "jonah", At: at(5, 11, 0),
				},
				Entries: []uint64{62}, Photos: []*pb.Photo{{Name: "valance.png", Sha256: dent}},
			},
		},
		Gaps: []*pb.GapRecord{
			{
				Before: &pb.GapReading{
					Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, Edge: pb.Edge_EDGE_FRONT, GapMm: []float64{3, 4.5, 6.25}, FlushMm: []float64{-1, 0.5}, Person: "idris", At: at(3, 9, 0),
				},
				After: &pb.GapReading{
					Job: "heron", Panel: "door", Side: pb.Side_SIDE_LEFT, Edge: pb.Edge_EDGE_FRONT, GapMm: []float64{3.5, 4, 4.5}, FlushMm: []float64{0.5, 0}, Person: "idris", At: at(9, 9, 0),
				},
				Target: &pb.GapReference{
					Job: "heron", Panel: "door", Edge: pb.Edge_EDGE_FRONT, TargetMm: 4, ToleranceMm: 0.5, FlushToleranceMm: 0.5, Source: "shop standard agreed with customer",
				},
				Entries: []uint64{48, 101, 140},
			},
			{
				Before:  &pb.GapReading{Job: "heron", Panel: "bonnet", Edge: pb.Edge_EDGE_REAR, GapMm: []float64{7, 7.2}, Person: "idris", At: at(3, 9, 30)},
				Target:  &pb.GapReference{Job: "heron", Panel: "bonnet", Edge: pb.Edge_EDGE_REAR, TargetMm: 5, ToleranceMm: 0.7, Source: "shop standard agreed with customer"},
				Entries: []uint64{51, 102},
			},
		},
		Torques: []*pb.TorqueRecord{
			{
				SignOff: &pb.TorqueSignOff{Job: "heron", Fastener: "wheel nut", TorqueNm: 81, Count: proto.Uint32(20), Person: "tomasz", At: at(9, 15, 0)},
				Reference: &pb.TorqueReference{
					Job: "heron", Fastener: "wheel nut", Thread: "7/16-20 UNF", TorqueNm: 81, Source: "demo manual p. 12", SafetyCritical: true,
				},
				Entries: []uint64{52, 141},
			},
			{
				SignOff: &pb.TorqueSignOff{Job: "heron", Fastener: "cylinder head nut", TorqueNm: 60, Person: "tomasz", At: at(9, 15, 30)},
				Reference: &pb.TorqueReference{
					Job: "heron", Fastener: "cylinder head nut", Thread: "7/16-20 UNF", TorqueNm: 68, StagesNm: []float64{30, 50, 68}, Source: "demo manual p. 31", SetBy: "wren", SetAt: at(2, 8, 0),
				},
				Entries: []uint64{53, 142},
			},
			{SignOff: &pb.TorqueSignOff{Job: "heron", Fastener: "bracket bolt", TorqueNm: 12, Person: "jonah", At: at(9, 16, 0)}, Entries: []uint64{143}},
		},
		TorquesOpen: []*pb.TorqueReference{
			{Job: "heron", Fastener: "brake caliper bolt", Thread: "7/16-20 UNF", TorqueNm: 77, Source: "demo manual p. 88", SafetyCritical: true, Entry: 54},
			{Job: "heron", Fastener: "sump plug", Thread: "1/2-20 UNF", TorqueNm: 34, Source: "demo manual p. 14", Entry: 55},
		},
		Coats: []*pb.CoatRecord{
			{
				Coat: &pb.Coat{
					Job: "heron", Material: "epoxy-primer", Name: "epoxy primer", Panels: []string{"sill", "floor"}, Coats: 2, At: "2026-03-08T15:30", TemperatureC: proto.Float64(18), Person: "mabel",
				},
				Batches: []string{"EP-2291"}, Entries: []uint64{95, 130},
			},
			{Coat: &pb.Coat{Job: "heron", Material: "high-build", Panels: []string{"whole body"}, Coats: 3, At: "2026-03-09T15:30"}, Entries: []uint64{131}},
		},
		Parts: []*pb.Part{
			{
				Number: 1, Job: "heron", Part: "rear wing panel", Side: pb.Side_SIDE_LEFT, Quantity: 1, Supplier: "Ketteridge Panels", Provenance: pb.Provenance_PROVENANCE_NEW_OLD_STOCK,
				Price: 1410, Ordered: "2026-03-02", Due: "2026-03-12", State: pb.PartState_PART_STATE_ORDERED, Entries: []uint64{80},
			},
			{
				Number: 2, Job: "heron", Part: "door seal set", Quantity: 2, Supplier: "Amblecote Rubber", Provenance: pb.Provenance_PROVENANCE_REPRODUCTION,
				Price: 96, Ordered: "2026-02-20", Arrived: "2026-03-07", ArrivedQuantity: 1, State: pb.PartState_PART_STATE_FITTED, Condition: "one end scuffed",
				TrialFitted: true, FitNote: "sits well", Person: "wren", At: at(1, 9, 0), Entries: []uint64{81, 125, 126},
			},
		},
		Hours: []*pb.HoursRecord{
			{Stage: "strip", Logged: 0, Imported: 71, Estimate: 60, Entries: []uint64{20}},
			{Stage: "metal", Logged: 12.25, Imported: 96.5, Estimate: 180, Entries: []uint64{20, 104, 105, 106, 107, 110}},
			{Stage: "trim", Logged: 1.5, Entries: []uint64{111}},
		},
		Tasks: []*pb.Task{
			{Number: 1, Job: "heron", Title: "check the door aperture against the drawing", Stage: "metal", LowHours: 3, LikelyHours: 4, HighHours: 6, State: pb.TaskState_TASK_STATE_DONE, FinishedAt: at(3, 12, 0), LoggedHours: 4.5, Entry: 70},
			{Number: 4, Job: "heron", Title: "let in the left rear wing", Stage: "metal", LikelyHours: 22, After: []uint32{2}, NeedsPart: "rear wing panel", Who: "idris", State: pb.TaskState_TASK_STATE_WAITING, Entry: 73},
		},
		Extras: []*pb.Extra{
			{
				Number: 1, Job: "heron", Text: "replace left sill rather than patch", Hours: 10, LabourRate: 52, MaterialsCost: 20, Price: 540, Stage: "metal", Finds: []uint32{1}, State: pb.ExtraState_EXTRA_STATE_AGREED, HoursFrom: "said",
				History: []*pb.ExtraStep{
					{State: pb.ExtraState_EXTRA_STATE_PROPOSED, Entry: 91}, {State: pb.ExtraState_EXTRA_STATE_AGREED, Person: "wren", At: at(5, 14, 0), Entry: 115},
				},
			},
			waitingExtra(),
		},
		Money: &pb.ReportMoneyResponse{
			Job: "heron", Currency: "GBP", LabourRate: 52, Agreed: 13_000, Spent: 10_854, ToCome: 3_556, Parts: 1506, ExtrasGoods: 20,
			Stages: []*pb.StageMoney{
				{Stage: "strip", Agreed: 3120, Spent: 3692}, {Stage: "metal", Agreed: 9880, Spent: 5655, ToCome: 4225}, {Stage: "trim", Spent: 78},
			},
			Waiting: []*pb.Extra{waitingExtra()},
			Basis:   &pb.Basis{Steps: []string{"strip: 60 hours estimated, 71 logged, at 52 an hour", "agreed extra 1: 10 hours × 52 = 520 GBP", "hours × £52.00, and the agreed extras"}, Assumptions: []string{"materials off the shelf are in the price of an hour"}},
		},
		Snags: []*pb.Snag{
			{Number: 2, Job: "heron", Text: "quarterlight catch stiff", State: pb.SnagState_SNAG_STATE_OPEN, Person: "priya", At: at(9, 12, 0), Entries: []uint64{135}},
			{Number: 3, Job: "heron", Text: "horn push loose", State: pb.SnagState_SNAG_STATE_CLOSED, Person: "priya", At: at(9, 12, 1), ClosedBy: "tomasz", ClosedAt: at(9, 13, 0), Entries: []uint64{136, 137}},
		},
		Notes: []*pb.HistoryEvent{
			{At: at(4, 10, 0), Person: "wren", Text: "note: customer wants the old number plate, 7 letters, back", Entry: 112},
			{Text: "2 × speaker grilles came in a box", Entry: 0},
		},
		Care: []string{
			"Check the wheel nuts to 81 N·m again after the first run (entry #141)",
			"Open the doors wide only once the seals have set",
		},
		Cautions: []string{"Have the brakes looked at by a licensed inspector before the road (entry #54)"},
		Photos:   []*pb.Photo{{Name: "whole car.jpg", Sha256: hole}, {Name: "lost.jpg", Sha256: "00" + hole[2:]}},
	}
}

func waitingExtra() *pb.Extra {
	return &pb.Extra{
		Number: 2, Job: "heron", Text: "let in the left rear wing", Hours: 22, PartsCost: 410, MaterialsCost: 20.5, LabourRate: 52, Price: 1574.5,
		State: pb.ExtraState_EXTRA_STATE_PROPOSED, HoursFrom: "the advice for find 2", History: []*pb.ExtraStep{{State: pb.ExtraState_EXTRA_STATE_PROPOSED, Person: "wren", At: at(6, 9, 0), Entry: 92}},
	}
}
