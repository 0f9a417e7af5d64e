package shop

import (
	"slices"
	"strings"
	"time"
)

// Decision is what a request comes to.
type Decision struct {
	Event    Event
	Warnings []string // what the person should know though it is done
	Changes  []string // of an amendment, one line a field
}

// Said is who said something and when.
type Said struct {
	Entry uint64
	By    string // empty when it was imported
	At    time.Time
}

func (s *State) said(i uint32) Said {
	r := s.recs[i]
	return Said{uint64(r.seq), s.people[r.by].ID, time.UnixMilli(r.at).UTC()}
}

// task is something a person may or may not do, in words for a refusal.
type task string

const (
	taskSetTorque    task = "set a book torque"
	taskSetGap       task = "set a target gap"
	taskCreateJob    task = "take a vehicle in"
	taskAddMaterial  task = "add a material"
	taskSignOff      task = "sign off torque"
	taskRecordFind   task = "record a find"
	taskCloseFind    task = "close a find"
	taskRecordGap    task = "record a gap"
	taskUse          task = "record a use"
	taskDelivery     task = "record a delivery"
	taskCount        task = "record a count"
	taskWaste        task = "record waste"
	taskLogHours     task = "log hours"
	taskAddNote      task = "add a note"
	taskRecordCoat   task = "record a coat"
	taskChangeRecord task = "change a record"
	taskImported     task = "change what was imported"
	taskAddTask      task = "add a task"
	taskStartTask    task = "start a task"
	taskFinishTask   task = "finish a task"
	taskOrder        task = "order a part"
	taskArrival      task = "record an arrival"
	taskFitPart      task = "record a part as fitted"
	taskReturnPart   task = "send a part back"
	taskChangeDue    task = "change when a part is due"
	taskAddBrief     task = "add to the brief"
	taskMeetBrief    task = "say that the brief is met"
	taskAddSnag      task = "add a snag"
	taskCloseSnag    task = "close a snag"
	taskPriceExtra   task = "price an extra"
	taskDecideExtra  task = "record what the customer decided"
	taskRemind       task = "set a reminder"
	taskAddPerson    task = "add a person"
	taskLinkChannel  task = "say which job a channel stands for"
	taskAddSupplier  task = "add a supplier"
	taskPanelSize    task = "set the size of a panel"
	taskKeepPhoto    task = "keep a photograph"
)

// lowest is the least role that may do what not everybody may. Reporting is
// open to all the shop knows.
var lowest = map[task]Role{
	taskSetTorque: Lead, taskSetGap: Lead, taskCreateJob: Lead, taskAddMaterial: Lead, taskImported: Lead,
	taskDecideExtra: Lead, taskAddPerson: Lead, taskLinkChannel: Lead, taskAddSupplier: Lead, taskPanelSize: Lead,
	taskSignOff: Tradesperson, taskOrder: Tradesperson, taskReturnPart: Tradesperson, taskPriceExtra: Tradesperson,
	taskChangeDue: Tradesperson,
	taskAddTask:   Tradesperson, taskAddBrief: Tradesperson, taskMeetBrief: Tradesperson,
}

var moveTasks = map[MoveKind]task{Use: taskUse, Delivery: taskDelivery, Count: taskCount, Waste: taskWaste}

// kindTasks says what making a record of a kind is.
var kindTasks = map[recKind]task{
	recUse: taskUse, recDelivery: taskDelivery, recCount: taskCount, recWaste: taskWaste,
	recHours: taskLogHours, recJob: taskCreateJob, recMaterial: taskAddMaterial,
	recFind: taskRecordFind, recClosing: taskCloseFind, recTorque: taskSignOff, recTorqueSet: taskSetTorque,
	recGap: taskRecordGap, recGapSet: taskSetGap, recNote: taskAddNote, recCoat: taskRecordCoat,
	recTask: taskAddTask, recTaskStart: taskStartTask, recTaskEnd: taskFinishTask,
	recPart: taskOrder, recArrival: taskArrival, recFitting: taskFitPart, recReturn: taskReturnPart,
	recDueChange: taskChangeDue,
	recBrief:     taskAddBrief, recBriefMet: taskMeetBrief, recSnag: taskAddSnag, recSnagClosing: taskCloseSnag,
	recExtra: taskPriceExtra, recDecision: taskDecideExtra, recReminder: taskRemind,
}

// may refuses a person whose role does not allow a task.
func (s *State) may(person string, t task) error {
	at, ok := s.personAt[person]
	if !ok {
		return refuse(UnknownPerson, "person", person)
	}
	least := lowest[t]
	if role := s.people[at].Role; least != 0 && role > least {
		return refuse(NotAllowed, "person", person, "role", role.String(), "needs", least.String(), "what", string(t))
	}
	return nil
}

const (
	maxID  = 40
	idRule = "1 to 40 lower-case letters, digits and hyphens"
)

func joined(names []string) string { return strings.Join(names, ", ") }

func (s *State) job(id string) (*job, error) {
	if err := missing(need{"job", id != ""}); err != nil {
		return nil, err
	}
	at, ok := s.jobAt[id]
	if !ok {
		return nil, refuse(UnknownName, "field", "job", "value", id, "accepted", s.jobIDs())
	}
	return s.jobs[at], nil
}

func (s *State) jobIDs() string {
	var ids []string
	for _, j := range s.jobs[1:] {
		if !j.gone {
			ids = append(ids, j.ID)
		}
	}
	return joined(ids)
}

func (s *State) materialIDs() string {
	var ids []string
	for _, m := range s.materials[1:] {
		if !m.gone {
			ids = append(ids, m.ID)
		}
	}
	return joined(ids)
}

// materialCalled gives the id of the material that goes by a name.
func (s *State) materialCalled(name string) string {
	for _, m := range s.materials[1:] {
		if !m.gone && (strings.EqualFold(m.Name, name) || m.ID == name ||
			slices.ContainsFunc(m.AlsoCalled, func(n string) bool { return strings.EqualFold(n, name) })) {
			return m.ID
		}
	}
	return ""
}

func (s *State) person(id string) (uint16, error) {
	at, ok := s.personAt[id]
	if ok {
		return at, nil
	}
	var ids []string
	for _, p := range s.people[1:] {
		ids = append(ids, p.ID)
	}
	return 0, refuse(UnknownName, "field", "people", "value", id, "accepted", joined(ids))
}

// place checks where on a vehicle something is: the panel, its side where it has
// one.
func place(panel string, side Side, sideNeeded bool) error {
	p, ok := panels[panel]
	switch {
	case !ok:
		return refuse(UnknownName, "field", "panel", "value", panel, "accepted", joined(Panels()))
	case side >= Side(len(sideNames)):
		return outOfRange("side", number(float64(side)), "left, right, centre")
	case p.sided && side == 0 && sideNeeded:
		return missing(need{"side", false})
	case p.sided && side == Centre:
		return outOfRange("side", "centre", "left, right")
	}
	return nil
}
