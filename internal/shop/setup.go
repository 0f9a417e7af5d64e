package shop

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// NewPerson asks to make a person known, or to change what is known of one: what
// is empty stays as it was.
type NewPerson struct{ ID, Name, Role, Trade, Chat string }

// DecidePerson decides the making known of a person. The Decision's Changes tell
// what changed of one who was known before.
func (s *State) DecidePerson(by string, r NewPerson) (Decision, error) {
	if err := s.may(by, taskAddPerson); err != nil {
		return Decision{}, err
	}
	id := or(r.ID, Slug(r.Name))
	if err := missing(need{"name", r.ID != "" || strings.TrimSpace(r.Name) != ""}); err != nil {
		return Decision{}, err
	}
	if id == "" || id != Slug(id) || len(id) > maxID {
		return Decision{}, outOfRange("id", or(id, r.Name), idRule)
	}
	was, known := PersonAdded{ID: id}, false
	if at, ok := s.personAt[id]; ok {
		was, known = s.people[at], true
	}
	if err := missing(need{"name", known || r.Name != ""}, need{"role", known || r.Role != ""}); err != nil {
		return Decision{}, err
	}
	now := was
	now.Name, now.Trade, now.Chat = or(strings.TrimSpace(r.Name), was.Name), or(r.Trade, was.Trade), or(r.Chat, was.Chat)
	if r.Role != "" {
		var ok bool
		if now.Role, ok = ParseRole(strings.ToLower(r.Role)); !ok {
			return Decision{}, outOfRange("role", r.Role, joined(roleNames[1:]))
		}
	}
	if err := s.checkPerson(was, now); err != nil {
		return Decision{}, err
	}
	d := Decision{Event: now}
	if known {
		d.Changes = s.diff(was, now)
		if len(d.Changes) == 0 {
			return Decision{}, refuse(AlreadyDone, "what", was.Name+" is known so")
		}
	}
	return d, nil
}

// checkPerson refuses a name or chat id that is another's, and to leave the shop
// without a lead.
func (s *State) checkPerson(was, now PersonAdded) error {
	leads := 0
	for _, p := range s.people[1:] {
		if p.Role == Lead && p.ID != now.ID {
			leads++
		}
		switch {
		case p.ID == now.ID:
		case strings.EqualFold(p.Name, now.Name):
			return refuse(AlreadyExists, "field", "name", "value", now.Name)
		case now.Chat != "" && p.Chat == now.Chat:
			return refuse(AlreadyExists, "field", "chat_user", "value", now.Chat)
		}
	}
	if was.Role == Lead && now.Role != Lead && leads == 0 {
		return outOfRange("role", now.Role.String(), fmt.Sprintf("lead (%s is the last one)", was.Name))
	}
	if was.Role == 0 && len(s.people) > maxIndex {
		return outOfRange("id", now.ID, "no more people than there are")
	}
	return nil
}

// maxChannel is how long a channel's id may be, in bytes.
const maxChannel = 80

// DecideChannel decides which job a channel stands for; an empty job is none. What
// is known of it on the chat platform stays.
func (s *State) DecideChannel(by, channel, job string) (Decision, error) {
	if err := s.may(by, taskLinkChannel); err != nil {
		return Decision{}, err
	}
	if err := missing(need{"channel", channel != ""}); err != nil {
		return Decision{}, err
	}
	if channel == Direct || len(channel) > maxChannel || strings.ContainsFunc(channel, unicode.IsSpace) {
		return Decision{}, outOfRange("channel", channel, "a channel that more than one person reads, its id without spaces")
	}
	if job != "" {
		if _, err := s.job(job); err != nil {
			return Decision{}, err
		}
	}
	was, known := s.channel(channel)
	if known && was.Job == job {
		return Decision{}, refuse(AlreadyDone, "what", channel+" stands for "+or(job, "no job"))
	}
	return Decision{Event: ChannelAdded{ID: channel, Job: job, Chat: was.Chat}}, nil
}

func (s *State) channel(id string) (ChannelAdded, bool) {
	if k := slices.IndexFunc(s.channels, func(c ChannelAdded) bool { return c.ID == id }); k >= 0 {
		return s.channels[k], true
	}
	return ChannelAdded{}, false
}

// JobOf gives the job that a channel stands for; empty for none.
func (s *State) JobOf(channel string) string {
	c, _ := s.channel(channel)
	return c.Job
}

// DecideSupplier decides the making known of a supplier.
func (s *State) DecideSupplier(by, name string) (Decision, error) {
	if err := s.may(by, taskAddSupplier); err != nil {
		return Decision{}, err
	}
	name = strings.TrimSpace(name)
	if err := missing(need{"name", name != ""}); err != nil {
		return Decision{}, err
	}
	for _, had := range s.suppliers {
		if sameText(had, name) {
			return Decision{}, refuse(AlreadyExists, "field", "name", "value", had)
		}
	}
	return Decision{Event: SupplierAdded{name}}, nil
}

// NewPanelSize asks to keep the size of a panel: its outer area, or what hanging
// it needs, in mm.
type NewPanelSize struct {
	Job, Panel                         string // an empty job is every job, for an area alone
	Side                               Side
	Area, Height, Length, HingeSpacing *float64
	HingeEdge                          Edge // not said means the usual one
}

// What a panel's size may be. Common practice, no source.
var (
	areaSpan   = span{"area_m2", 0.01, 30, "m²"}
	panelSpans = [2]span{{"height_mm", 100, 4000, "mm"}, {"length_mm", 100, 4000, "mm"}}
)

// hung are the panels that hang on hinges, and the edges these may be on, the usual
// one first. Common practice, no source.
var hung = map[string][]Edge{
	"door": {FrontEdge, RearEdge, TopEdge, BottomEdge}, "bonnet": {RearEdge, FrontEdge},
	"boot lid": {FrontEdge, RearEdge}, "tailgate": {TopEdge, BottomEdge},
}

// DecidePanelSize decides the keeping of a panel's size; the last one kept counts.
func (s *State) DecidePanelSize(by string, r NewPanelSize) (Decision, error) {
	if err := s.may(by, taskPanelSize); err != nil {
		return Decision{}, err
	}
	hanging := r.Height != nil || r.Length != nil || r.HingeSpacing != nil || r.HingeEdge != 0
	if err := missing(need{"panel", r.Panel != ""}, need{"area_m2", r.Area != nil || hanging}); err != nil {
		return Decision{}, err
	}
	if err := place(r.Panel, r.Side, hanging); err != nil {
		return Decision{}, err
	}
	if r.Job != "" {
		if _, err := s.job(r.Job); err != nil {
			return Decision{}, err
		}
	}
	if hanging {
		return s.decideHanging(r)
	}
	if err := areaSpan.check(*r.Area); err != nil {
		return Decision{}, err
	}
	return Decision{Event: PanelAreaSet{Job: r.Job, Panel: r.Panel, M2: *r.Area}}, nil
}

func (s *State) decideHanging(r NewPanelSize) (Decision, error) {
	edges, ok := hung[r.Panel]
	if !ok {
		return Decision{}, outOfRange("panel", r.Panel, "door, bonnet, boot lid, tailgate")
	}
	if r.Area != nil {
		return Decision{}, outOfRange("area_m2", number(*r.Area), "an area, or sizes for hanging: one at a time")
	}
	err := missing(need{"job", r.Job != ""}, need{"height_mm", r.Height != nil}, need{"length_mm", r.Length != nil}, need{"hinge_spacing_mm", r.HingeSpacing != nil})
	if err != nil {
		return Decision{}, err
	}
	edge := or(r.HingeEdge, edges[0])
	if !slices.Contains(edges, edge) {
		names := make([]string, len(edges))
		for i, e := range edges {
			names[i] = e.String()
		}
		return Decision{}, outOfRange("hinge_edge", edge.String(), joined(names))
	}
	for i, v := range []float64{*r.Height, *r.Length} {
		if err := panelSpans[i].check(v); err != nil {
			return Decision{}, err
		}
	}
	along := *r.Height
	if edge == TopEdge || edge == BottomEdge {
		along = *r.Length
	}
	// Closer than an eighth of the edge, hinges tell nothing about the far corner.
	if err := (span{"hinge_spacing_mm", along / 8, along, "mm"}).check(*r.HingeSpacing); err != nil {
		return Decision{}, err
	}
	e := DoorGeometrySet{Job: r.Job, Panel: r.Panel, Side: r.Side, Height: *r.Height, Length: *r.Length, HingeSpacing: *r.HingeSpacing, HingeEdge: edge}
	if !Sided(r.Panel) {
		e.Side = 0
	}
	return Decision{Event: e}, nil
}
