package service

import (
	"time"

	"bayword/internal/shop"
	ledgerv1 "bayword/proto/bayword/ledger/v1"
)

// load reads the stored form of an event.
func load(stored *ledgerv1.Event) (shop.Event, error) {
	switch e := stored.GetEvent().(type) {
	case *ledgerv1.Event_Amended:
		now, err := load(e.Amended.GetNow())
		if err != nil {
			return nil, err
		}
		return shop.Amended{Entry: e.Amended.Entry, Now: now}, nil
	case *ledgerv1.Event_Undone:
		return shop.Undone{Entry: e.Undone.Entry}, nil
	}
	if e := loadRecord(stored); e != nil {
		return e, nil
	}
	if e := loadImported(stored); e != nil {
		return e, nil
	}
	if e := loadProgress(stored); e != nil {
		return e, nil
	}
	return nil, errNewer
}

func loadRecord(stored *ledgerv1.Event) shop.Event {
	switch e := stored.GetEvent().(type) {
	case *ledgerv1.Event_StockMoved:
		m := e.StockMoved
		return shop.StockMoved{
			Kind: shop.MoveKind(m.Kind), Material: m.Material, Amount: shop.Micro(m.AmountMicro), Job: m.Job,
			Batch: m.Batch, Expires: shop.Day(m.ExpiresDay), Why: m.Why,
		}
	case *ledgerv1.Event_FindRecorded:
		f := e.FindRecorded
		return shop.FindRecorded{
			Number: int(f.Number), Job: f.Job, Panel: f.Panel, Side: shop.Side(f.Side), End: shop.End(f.End), Kind: shop.FindKind(f.Kind),
			Width: f.WidthMm, Height: f.HeightMm, Diameter: f.DiameterMm, Depth: f.DepthMm, Count: int(f.Count), Note: f.Note, Repaired: f.Repaired,
		}
	case *ledgerv1.Event_FindClosed:
		return shop.FindClosed{Number: int(e.FindClosed.Number), Job: e.FindClosed.Job}
	case *ledgerv1.Event_TorqueSet:
		t := e.TorqueSet
		return shop.TorqueSet{
			Job: t.Job, Fastener: t.Fastener, Thread: t.Thread, Torque: t.TorqueNm, Stages: t.StagesNm, Source: t.Source, Critical: t.Critical,
		}
	case *ledgerv1.Event_TorqueRecorded:
		t := e.TorqueRecorded
		return shop.TorqueRecorded{Job: t.Job, Fastener: t.Fastener, Torque: t.TorqueNm, Count: int(t.Count)}
	case *ledgerv1.Event_GapSet:
		g := e.GapSet
		return shop.GapSet{
			Job: g.Job, Panel: g.Panel, Side: shop.Side(g.Side), Edge: shop.Edge(g.Edge),
			Target: g.TargetMm, Tolerance: g.ToleranceMm, FlushTolerance: g.FlushToleranceMm, Source: g.Source,
		}
	case *ledgerv1.Event_GapRecorded:
		g := e.GapRecorded
		return shop.GapRecorded{
			Job: g.Job, Panel: g.Panel, Side: shop.Side(g.Side), End: shop.End(g.End), Edge: shop.Edge(g.Edge), Gaps: g.GapMm, Flush: g.FlushMm,
		}
	case *ledgerv1.Event_HoursLogged:
		h := e.HoursLogged
		return shop.HoursLogged{
			Job: h.Job, People: h.People, Hours: shop.Micro(h.HoursMicro), Stage: shop.Stage(h.Stage), Task: int(h.Task), Day: shop.Day(h.Day),
		}
	case *ledgerv1.Event_NoteAdded:
		n := e.NoteAdded
		return shop.NoteAdded{Job: n.Job, Text: n.Text, Panel: n.Panel, Side: shop.Side(n.Side)}
	case *ledgerv1.Event_JobCreated:
		j := e.JobCreated
		job := shop.JobCreated{
			ID: j.Id, Year: int(j.Year), Make: j.Make, Model: j.Model, Body: j.Body, Drive: j.Drive, Customer: j.Customer,
			Stage: shop.Stage(j.Stage), Bay: int(j.Bay), AlsoCalled: j.AlsoCalled, Brief: j.Brief,
		}
		for i := range min(len(job.Estimate), len(j.EstimateMicro)) {
			job.Estimate[i] = shop.Micro(j.EstimateMicro[i])
		}
		for i := range min(len(job.Logged), len(j.LoggedMicro)) {
			job.Logged[i] = shop.Micro(j.LoggedMicro[i])
		}
		return job
	case *ledgerv1.Event_MaterialAdded:
		m := e.MaterialAdded
		material := shop.MaterialAdded{
			ID: m.Id, Name: m.Name, AlsoCalled: m.AlsoCalled, Unit: m.Unit,
			Pack: shop.Micro(m.PackMicro), OnHand: shop.Micro(m.OnHandMicro), ReorderAt: shop.Micro(m.ReorderAtMicro),
		}
		if p := m.Paint; p != nil {
			material.Paint = &shop.PaintData{
				Mix: p.Mix, With: p.With, SolidsPct: p.SolidsPct, DFTPerCoat: p.DftUmPerCoat, VOC: p.VocGPerL, FlashMin: p.FlashMin,
				RecoatFromH: p.RecoatFromH, RecoatUntilH: p.RecoatUntilH, SandAfterH: p.SandAfterH, PotLifeMin: p.PotLifeMin,
			}
		}
		return material
	}
	return nil
}

func loadImported(stored *ledgerv1.Event) shop.Event {
	switch e := stored.GetEvent().(type) {
	case *ledgerv1.Event_ShopOpened:
		o := e.ShopOpened
		return shop.ShopOpened{Name: o.Name, Currency: o.Currency, LabourRate: o.LabourRate, SideWords: o.SideWords, TimeZone: o.TimeZone, DaysOff: loadedDays(o.OffDays)}
	case *ledgerv1.Event_PersonAdded:
		p := e.PersonAdded
		return shop.PersonAdded{
			ID: p.Id, Name: p.Name, Role: shop.Role(p.Role), Trade: p.Trade, Chat: p.Chat, HoursPerDay: p.HoursPerDay, DaysOff: loadedDays(p.OffDays),
		}
	case *ledgerv1.Event_ChannelAdded:
		c := e.ChannelAdded
		return shop.ChannelAdded{ID: c.Id, Job: c.Job, Chat: c.Chat}
	case *ledgerv1.Event_SupplierAdded:
		return shop.SupplierAdded{Name: e.SupplierAdded.Name}
	case *ledgerv1.Event_PanelAreaSet:
		a := e.PanelAreaSet
		return shop.PanelAreaSet{Job: a.Job, Panel: a.Panel, M2: a.AreaM2}
	case *ledgerv1.Event_TaskAdded:
		t := e.TaskAdded
		task := shop.TaskAdded{
			Number: int(t.Number), Job: t.Job, Title: t.Title, Stage: shop.Stage(t.Stage), Low: t.LowHours, Likely: t.LikelyHours, High: t.HighHours,
			State: t.State, Who: t.Who, NeedsPart: t.NeedsPart,
		}
		task.After = ints(t.After)
		return task
	case *ledgerv1.Event_PartOrdered:
		p := e.PartOrdered
		return shop.PartOrdered{
			Number: int(p.Number), Job: p.Job, Part: p.Part, Side: shop.Side(p.Side), Quantity: int(p.Quantity), Supplier: p.Supplier, Origin: p.Origin,
			Price: p.Price, Ordered: shop.Day(p.OrderedDay), Due: shop.Day(p.DueDay), State: p.State,
			Condition: p.Condition, Arrived: shop.Day(p.ArrivedDay), TrialFitted: p.TrialFitted,
		}
	case *ledgerv1.Event_CoatRecorded:
		c := e.CoatRecorded
		return shop.CoatRecorded{
			Job: c.Job, Material: c.Material, Panels: c.Panels, Coats: int(c.Coats), At: time.UnixMilli(c.AtMs).UTC(), Temperature: c.TemperatureC,
		}
	case *ledgerv1.Event_ExtraProposed:
		x := e.ExtraProposed
		return shop.ExtraProposed{
			Number: int(x.Number), Job: x.Job, Text: x.Text, Hours: x.Hours, Parts: x.Parts, State: x.State,
			Materials: x.Materials, Rate: x.Rate, Finds: ints(x.Finds), Stage: shop.Stage(x.Stage), HoursFrom: x.HoursFrom,
		}
	case *ledgerv1.Event_SnagAdded:
		s := e.SnagAdded
		return shop.SnagAdded{Number: int(s.Number), Job: s.Job, Text: s.Text, Closed: s.Closed}
	case *ledgerv1.Event_DoorGeometrySet:
		d := e.DoorGeometrySet
		return shop.DoorGeometrySet{
			Job: d.Job, Panel: d.Panel, Side: shop.Side(d.Side), Height: d.HeightMm, Length: d.LengthMm, HingeSpacing: d.HingeSpacingMm, HingeEdge: shop.Edge(d.HingeEdge),
		}
	}
	return nil
}
