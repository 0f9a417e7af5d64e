package shop

import "time"

// Event is something that happened in the shop. All fields of an event are what
// was decided: folding one asks no question.
type Event interface{ isEvent() }

// Meta says where an event stands and who said it.
type Meta struct {
	Seq    uint64    // of its ledger entry
	Person string    // id; empty when it was imported
	At     time.Time // when it was said
	Photos []Photo   // that came with the message
}

// Photo names a photograph by its content.
type Photo struct{ Name, SHA256 string } // SHA256 is empty when the content was not kept

// ShopOpened names the shop.
type ShopOpened struct {
	Name       string
	Currency   string
	LabourRate float64 // per hour
	SideWords  string  // "uk": nearside is left
	TimeZone   string  // such as "Europe/London"
	DaysOff    []Day   // on which nobody works, weekends aside
}

// PersonAdded makes a person known.
type PersonAdded struct {
	ID, Name    string
	Role        Role
	Trade       string
	Chat        string  // id on the chat platform
	HoursPerDay float64 // zero for the usual
	DaysOff     []Day   // the shop's aside
}

// ChannelAdded makes a channel known; it may stand for a job.
type ChannelAdded struct{ ID, Job, Chat string }

// SupplierAdded makes a supplier known.
type SupplierAdded struct{ Name string }

// PanelAreaSet gives the outer area of a panel, of one job or of all.
type PanelAreaSet struct {
	Job, Panel string
	M2         float64
}

// JobCreated takes a vehicle in.
type JobCreated struct {
	ID                string
	Year              int // 0 when not said
	Make, Model, Body string
	Drive             string // "rhd", "lhd" or empty
	Customer          string
	Stage             Stage
	Bay               int
	AlsoCalled, Brief []string
	Estimate, Logged  [stages]Micro // hours by Stage
}

// MaterialAdded adds a material with its opening count.
type MaterialAdded struct {
	ID, Name   string
	AlsoCalled []string
	Unit       string
	Pack       Micro
	OnHand     Micro
	ReorderAt  Micro
	Paint      *PaintData // nil when it is not sprayed
}

// PaintData is what the product sheet of a sprayed material says.
type PaintData struct {
	Mix                        string // "4:1:0.5", the material first
	With                       []string
	SolidsPct, DFTPerCoat, VOC float64 // % by volume, µm, g/L
	FlashMin                   float64
	RecoatFromH, RecoatUntilH  float64
	SandAfterH, PotLifeMin     float64
}

// StockMoved is a use, a delivery, a count or waste of a material.
type StockMoved struct {
	Kind     MoveKind
	Material string
	Amount   Micro  // moved, or counted
	Job      string // of a use; may be empty
	Batch    string // of a delivery, if said
	Expires  Day    // of a delivery, if said
	Why      string // of waste, if said
}

// FindRecorded is something found on a vehicle. Sizes are mm, 0 when not said.
type FindRecorded struct {
	Number                         int
	Job, Panel                     string
	Side                           Side
	End                            End
	Kind                           FindKind
	Width, Height, Diameter, Depth float64
	Count                          int
	Note                           string
	Repaired                       bool // only an imported one starts so
}

// FindClosed marks a find as repaired.
type FindClosed struct {
	Number int
	Job    string // the find's
}

// TorqueSet is a book value.
type TorqueSet struct {
	Job, Fastener, Thread string
	Torque                float64   // N·m
	Stages                []float64 // N·m, the last one Torque
	Source                string
	Critical              bool
}

// TorqueRecorded is a fastener signed off as tightened.
type TorqueRecorded struct {
	Job, Fastener string
	Torque        float64 // N·m
	Count         int     // 0 when not said
}

// GapSet is a target gap; an empty job is the whole shop.
type GapSet struct {
	Job, Panel        string
	Side              Side
	Edge              Edge
	Target, Tolerance float64 // mm
	FlushTolerance    float64 // mm, 0 when not set
	Source            string
}

// GapRecorded is what was measured along one edge, in mm.
type GapRecorded struct {
	Job, Panel string
	Side       Side
	End        End
	Edge       Edge
	Gaps       []float64
	Flush      []float64
}

// HoursLogged are hours of one or more people.
type HoursLogged struct {
	Job    string
	People []string
	Hours  Micro // each
	Stage  Stage // they count to
	Task   int   // 0 when for the stage as a whole
	Day    Day
}

// NoteAdded is a note.
type NoteAdded struct {
	Job, Text, Panel string
	Side             Side
}

// TaskAdded is a piece of planned work.
type TaskAdded struct {
	Number            int
	Job, Title        string
	Stage             Stage
	Low, Likely, High float64 // hours
	After             []int   // tasks that must be done first
	State             string  // waiting, doing, done: how it came in
	Who               string
	NeedsPart         string
}

// PartOrdered is a part on order, or arrived.
type PartOrdered struct {
	Number           int
	Job, Part        string
	Side             Side
	Quantity         int
	Supplier, Origin string
	Price            float64 // in all
	Ordered, Due     Day
	State            string // ordered, arrived, fitted, returned: how it came in
	Condition        string // of one that came unordered
	Arrived          Day    // of one that came unordered
	TrialFitted      bool   // how it came in
}

// CoatRecorded is paint put on.
type CoatRecorded struct {
	Job, Material string
	Panels        []string
	Coats         int
	At            time.Time
	Temperature   float64 // °C
}

// ExtraProposed is work beyond the brief, priced for the customer.
type ExtraProposed struct {
	Number       int
	Job, Text    string
	Hours, Parts float64
	State        string // proposed, agreed, declined: how it came in
	Materials    float64
	Rate         float64 // price of an hour; 0 means the shop's
	Finds        []int   // numbers of the finds it came from
	Stage        Stage   // its hours count to; 0 means the job's
	HoursFrom    string  // how the hours came about; empty means said
}

// SnagAdded is a small fault to put right before handover.
type SnagAdded struct {
	Number    int
	Job, Text string
	Closed    bool
}

// TaskStarted begins a task.
type TaskStarted struct {
	Number   int
	Job, Who string
}

// TaskFinished ends a task.
type TaskFinished struct {
	Number int
	Job    string
	Who    string // empty leaves it as it was
}

// PartArrived is the coming of an ordered part.
type PartArrived struct {
	Number    int
	Job       string
	Quantity  int
	Condition string
}

// PartFitted is a part fitted, or only tried.
type PartFitted struct {
	Number int
	Job    string
	Trial  bool
	Note   string
}

// PartReturned is a part sent back.
type PartReturned struct {
	Number   int
	Job, Why string
}

// PartDueChanged gives an ordered part another due day.
type PartDueChanged struct {
	Number int
	Job    string
	Due    Day
	Why    string
}

// BriefAdded is one thing the customer wants. Lines that came with the job are
// counted first.
type BriefAdded struct {
	Number    int
	Job, Text string
}

// BriefMet says how a line of the brief was met.
type BriefMet struct {
	Number   int
	Job, How string
}

// SnagClosed marks a snag as put right.
type SnagClosed struct {
	Number int
	Job    string
}

// ExtraDecided is what the customer decided.
type ExtraDecided struct {
	Number int
	Job    string
	Agreed bool
}

// ReminderSet is a reminder.
type ReminderSet struct {
	At           time.Time
	Text         string
	Job, Channel string // job may be empty
	Who          string // whom it is for; empty for who asked
}

// NoticeSent keeps that a notice was sent.
type NoticeSent struct{ ID string }

// DoorGeometrySet is what hanging a door needs to know, in mm.
type DoorGeometrySet struct {
	Job, Panel                   string
	Side                         Side
	Height, Length, HingeSpacing float64
	HingeEdge                    Edge
}

// Amended replaces what a record says.
type Amended struct {
	Entry uint64 // of the record
	Now   Event
}

// Undone takes a record back.
type Undone struct{ Entry uint64 }

func (ShopOpened) isEvent()      {}
func (PersonAdded) isEvent()     {}
func (ChannelAdded) isEvent()    {}
func (SupplierAdded) isEvent()   {}
func (PanelAreaSet) isEvent()    {}
func (JobCreated) isEvent()      {}
func (MaterialAdded) isEvent()   {}
func (StockMoved) isEvent()      {}
func (FindRecorded) isEvent()    {}
func (FindClosed) isEvent()      {}
func (TorqueSet) isEvent()       {}
func (TorqueRecorded) isEvent()  {}
func (GapSet) isEvent()          {}
func (GapRecorded) isEvent()     {}
func (HoursLogged) isEvent()     {}
func (NoteAdded) isEvent()       {}
func (TaskAdded) isEvent()       {}
func (PartOrdered) isEvent()     {}
func (CoatRecorded) isEvent()    {}
func (ExtraProposed) isEvent()   {}
func (SnagAdded) isEvent()       {}
func (DoorGeometrySet) isEvent() {}
func (Amended) isEvent()         {}
func (Undone) isEvent()          {}
func (TaskStarted) isEvent()     {}
func (TaskFinished) isEvent()    {}
func (PartArrived) isEvent()     {}
func (PartFitted) isEvent()      {}
func (PartReturned) isEvent()    {}
func (PartDueChanged) isEvent()  {}
func (BriefAdded) isEvent()      {}
func (BriefMet) isEvent()        {}
func (SnagClosed) isEvent()      {}
func (ExtraDecided) isEvent()    {}
func (ReminderSet) isEvent()     {}
func (NoticeSent) isEvent()      {}
