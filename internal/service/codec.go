package service

import (
	"errors"
	"fmt"
	"time"

	"google.golang.org/protobuf/proto"

	"bayword/internal/ledger"
	"bayword/internal/shop"
	ledgerv1 "bayword/proto/bayword/ledger/v1"
)

// words is what an entry keeps of the message besides the event.
type words struct {
	text   string
	saidAt time.Time
	photos []shop.Photo
}

// encode makes the ledger entry of an event; the ledger numbers it.
func encode(e shop.Event, w words) (kind string, payload []byte, err error) {
	kind, stored, err := store(e)
	if err != nil {
		return "", nil, err
	}
	stored.Text = w.text
	if !w.saidAt.IsZero() {
		stored.SaidAtMs = w.saidAt.UnixMilli()
	}
	for _, p := range w.photos {
		stored.Photos = append(stored.Photos, &ledgerv1.Photo{Name: p.Name, Sha256: p.SHA256})
	}
	payload, err = proto.MarshalOptions{Deterministic: true}.Marshal(stored)
	return kind, payload, err
}

// decode reads a ledger entry.
func decode(e ledger.Entry) (shop.Meta, shop.Event, error) {
	stored := &ledgerv1.Event{}
	if err := proto.Unmarshal(e.Payload, stored); err != nil {
		return shop.Meta{}, nil, fmt.Errorf("service: entry %d: %w", e.Seq, err)
	}
	event, err := load(stored)
	if err != nil {
		return shop.Meta{}, nil, fmt.Errorf("service: entry %d (%s): %w", e.Seq, e.Kind, err)
	}
	m := shop.Meta{Seq: e.Seq, Person: e.Person, At: e.At}
	if stored.SaidAtMs != 0 {
		m.At = time.UnixMilli(stored.SaidAtMs).UTC()
	}
	for _, p := range stored.Photos {
		m.Photos = append(m.Photos, shop.Photo{Name: p.Name, SHA256: p.Sha256})
	}
	return m, event, nil
}

var errNewer = errors.New("an event that this program does not know; use the program that wrote it, or a newer one")

// store gives the stored form of an event and its kind in words.
func store(e shop.Event) (string, *ledgerv1.Event, error) {
	switch e := e.(type) {
	case shop.Amended:
		kind, now, err := store(e.Now)
		if err != nil {
			return "", nil, err
		}
		return kind + "_amended", &ledgerv1.Event{Event: &ledgerv1.Event_Amended{Amended: &ledgerv1.Amended{Entry: e.Entry, Now: now}}}, nil
	case shop.Undone:
		return "undone", &ledgerv1.Event{Event: &ledgerv1.Event_Undone{Undone: &ledgerv1.Undone{Entry: e.Entry}}}, nil
	}
	if kind, stored := storeRecord(e); stored != nil {
		return kind, stored, nil
	}
	if kind, stored := storeImported(e); stored != nil {
		return kind, stored, nil
	}
	if kind, stored := storeProgress(e); stored != nil {
		return kind, stored, nil
	}
	return "", nil, fmt.Errorf("service: %T cannot be stored", e)
}

// storeRecord stores what people record.
func storeRecord(e shop.Event) (string, *ledgerv1.Event) {
	switch e := e.(type) {
	case shop.StockMoved:
		return "stock_" + e.Kind.String(), &ledgerv1.Event{Event: &ledgerv1.Event_StockMoved{StockMoved: &ledgerv1.StockMoved{
			Kind: uint32(e.Kind), Material: e.Material, AmountMicro: int64(e.Amount), Job: e.Job, Batch: e.Batch, ExpiresDay: uint32(e.Expires), Why: e.Why,
		}}}
	case shop.FindRecorded:
		return "find_recorded", &ledgerv1.Event{Event: &ledgerv1.Event_FindRecorded{FindRecorded: &ledgerv1.FindRecorded{
			Number: int32(e.Number), Job: e.Job, Panel: e.Panel, Side: uint32(e.Side), End: uint32(e.End), Kind: uint32(e.Kind),
			WidthMm: e.Width, HeightMm: e.Height, DiameterMm: e.Diameter, DepthMm: e.Depth, Count: int32(e.Count), Note: e.Note, Repaired: e.Repaired,
		}}}
	case shop.FindClosed:
		return "find_closed", &ledgerv1.Event{Event: &ledgerv1.Event_FindClosed{FindClosed: &ledgerv1.FindClosed{Number: int32(e.Number), Job: e.Job}}}
	case shop.TorqueSet:
		return "torque_set", &ledgerv1.Event{Event: &ledgerv1.Event_TorqueSet{TorqueSet: &ledgerv1.TorqueSet{
			Job: e.Job, Fastener: e.Fastener, Thread: e.Thread, TorqueNm: e.Torque, StagesNm: e.Stages, Source: e.Source, Critical: e.Critical,
		}}}
	case shop.TorqueRecorded:
		return "torque_recorded", &ledgerv1.Event{Event: &ledgerv1.Event_TorqueRecorded{TorqueRecorded: &ledgerv1.TorqueRecorded{
			Job: e.Job, Fastener: e.Fastener, TorqueNm: e.Torque, Count: int32(e.Count),
		}}}
	case shop.GapSet:
		return "gap_set", &ledgerv1.Event{Event: &ledgerv1.Event_GapSet{GapSet: &ledgerv1.GapSet{
			Job: e.Job, Panel: e.Panel, Side: uint32(e.Side), Edge: uint32(e.Edge),
			TargetMm: e.Target, ToleranceMm: e.Tolerance, FlushToleranceMm: e.FlushTolerance, Source: e.Source,
		}}}
	case shop.GapRecorded:
		return "gap_recorded", &ledgerv1.Event{Event: &ledgerv1.Event_GapRecorded{GapRecorded: &ledgerv1.GapRecorded{
			Job: e.Job, Panel: e.Panel, Side: uint32(e.Side), End: uint32(e.End), Edge: uint32(e.Edge), GapMm: e.Gaps, FlushMm: e.Flush,
		}}}
	case shop.HoursLogged:
		return "hours_logged", &ledgerv1.Event{Event: &ledgerv1.Event_HoursLogged{HoursLogged: &ledgerv1.HoursLogged{
			Job: e.Job, People: e.People, HoursMicro: int64(e.Hours), Stage: uint32(e.Stage), Task: int32(e.Task), Day: uint32(e.Day),
		}}}
	case shop.NoteAdded:
		return "note_added", &ledgerv1.Event{Event: &ledgerv1.Event_NoteAdded{NoteAdded: &ledgerv1.NoteAdded{
			Job: e.Job, Text: e.Text, Panel: e.Panel, Side: uint32(e.Side),
		}}}
	case shop.JobCreated:
		stored := &ledgerv1.JobCreated{
			Id: e.ID, Year: int32(e.Year), Make: e.Make, Model: e.Model, Body: e.Body, Drive: e.Drive, Customer: e.Customer,
			Stage: uint32(e.Stage), Bay: int32(e.Bay), AlsoCalled: e.AlsoCalled, Brief: e.Brief,
		}
		for i := range e.Estimate {
			stored.EstimateMicro = append(stored.EstimateMicro, int64(e.Estimate[i]))
			stored.LoggedMicro = append(stored.LoggedMicro, int64(e.Logged[i]))
		}
		return "job_created", &ledgerv1.Event{Event: &ledgerv1.Event_JobCreated{JobCreated: stored}}
	case shop.MaterialAdded:
		stored := &ledgerv1.MaterialAdded{
			Id: e.ID, Name: e.Name, AlsoCalled: e.AlsoCalled, Unit: e.Unit,
			PackMicro: int64(e.Pack), OnHandMicro: int64(e.OnHand), ReorderAtMicro: int64(e.ReorderAt),
		}
		if p := e.Paint; p != nil {
			stored.Paint = &ledgerv1.PaintData{
				Mix: p.Mix, With: p.With, SolidsPct: p.SolidsPct, DftUmPerCoat: p.DFTPerCoat, VocGPerL: p.VOC, FlashMin: p.FlashMin,
				RecoatFromH: p.RecoatFromH, RecoatUntilH: p.RecoatUntilH, SandAfterH: p.SandAfterH, PotLifeMin: p.PotLifeMin,
			}
		}
		return "material_added", &ledgerv1.Event{Event: &ledgerv1.Event_MaterialAdded{MaterialAdded: stored}}
	}
	return "", nil
}

// storeImported stores what an import may bring.
func storeImported(e shop.Event) (string, *ledgerv1.Event) {
	switch e := e.(type) {
	case shop.ShopOpened:
		return "shop_opened", &ledgerv1.Event{Event: &ledgerv1.Event_ShopOpened{ShopOpened: &ledgerv1.ShopOpened{
			Name: e.Name, Currency: e.Currency, LabourRate: e.LabourRate, SideWords: e.SideWords, TimeZone: e.TimeZone, OffDays: storedDays(e.DaysOff),
		}}}
	case shop.PersonAdded:
		return "person_added", &ledgerv1.Event{Event: &ledgerv1.Event_PersonAdded{PersonAdded: &ledgerv1.PersonAdded{
			Id: e.ID, Name: e.Name, Role: uint32(e.Role), Trade: e.Trade, Chat: e.Chat, HoursPerDay: e.HoursPerDay, OffDays: storedDays(e.DaysOff),
		}}}
	case shop.ChannelAdded:
		return "channel_added", &ledgerv1.Event{Event: &ledgerv1.Event_ChannelAdded{ChannelAdded: &ledgerv1.ChannelAdded{Id: e.ID, Job: e.Job, Chat: e.Chat}}}
	case shop.SupplierAdded:
		return "supplier_added", &ledgerv1.Event{Event: &ledgerv1.Event_SupplierAdded{SupplierAdded: &ledgerv1.SupplierAdded{Name: e.Name}}}
	case shop.PanelAreaSet:
		return "panel_area_set", &ledgerv1.Event{Event: &ledgerv1.Event_PanelAreaSet{PanelAreaSet: &ledgerv1.PanelAreaSet{Job: e.Job, Panel: e.Panel, AreaM2: e.M2}}}
	case shop.TaskAdded:
		stored := &ledgerv1.TaskAdded{
			Number: int32(e.Number), Job: e.Job, Title: e.Title, Stage: uint32(e.Stage), LowHours: e.Low, LikelyHours: e.Likely, HighHours: e.High,
			State: e.State, Who: e.Who, NeedsPart: e.NeedsPart,
		}
		stored.After = int32s(e.After)
		return "task_added", &ledgerv1.Event{Event: &ledgerv1.Event_TaskAdded{TaskAdded: stored}}
	case shop.PartOrdered:
		return "part_ordered", &ledgerv1.Event{Event: &ledgerv1.Event_PartOrdered{PartOrdered: &ledgerv1.PartOrdered{
			Number: int32(e.Number), Job: e.Job, Part: e.Part, Side: uint32(e.Side), Quantity: int32(e.Quantity), Supplier: e.Supplier, Origin: e.Origin,
			Price: e.Price, OrderedDay: uint32(e.Ordered), DueDay: uint32(e.Due), State: e.State,
			Condition: e.Condition, ArrivedDay: uint32(e.Arrived), TrialFitted: e.TrialFitted,
		}}}
	case shop.CoatRecorded:
		return "coat_recorded", &ledgerv1.Event{Event: &ledgerv1.Event_CoatRecorded{CoatRecorded: &ledgerv1.CoatRecorded{
			Job: e.Job, Material: e.Material, Panels: e.Panels, Coats: int32(e.Coats), AtMs: e.At.UnixMilli(), TemperatureC: e.Temperature,
		}}}
	case shop.ExtraProposed:
		return "extra_proposed", &ledgerv1.Event{Event: &ledgerv1.Event_ExtraProposed{ExtraProposed: &ledgerv1.ExtraProposed{
			Number: int32(e.Number), Job: e.Job, Text: e.Text, Hours: e.Hours, Parts: e.Parts, State: e.State,
			Materials: e.Materials, Rate: e.Rate, Finds: int32s(e.Finds), Stage: uint32(e.Stage), HoursFrom: e.HoursFrom,
		}}}
	case shop.SnagAdded:
		return "snag_added", &ledgerv1.Event{Event: &ledgerv1.Event_SnagAdded{SnagAdded: &ledgerv1.SnagAdded{
			Number: int32(e.Number), Job: e.Job, Text: e.Text, Closed: e.Closed,
		}}}
	case shop.DoorGeometrySet:
		return "door_geometry_set", &ledgerv1.Event{Event: &ledgerv1.Event_DoorGeometrySet{DoorGeometrySet: &ledgerv1.DoorGeometrySet{
			Job: e.Job, Panel: e.Panel, Side: uint32(e.Side), HeightMm: e.Height, LengthMm: e.Length, HingeSpacingMm: e.HingeSpacing, HingeEdge: uint32(e.HingeEdge),
		}}}
	}
	return "", nil
}
