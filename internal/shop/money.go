package shop

import (
	"slices"
	"time"
)

// StageMoney is the money of one stage: labour alone.
type StageMoney struct {
	StageHours
	Agreed, Spent float64
	ToCome        float64 // what is to come of the agreed hours, whatever was spent
}

// Money is where the money of a job stands.
type Money struct {
	Rate                  float64      // price of an hour
	Stages                []StageMoney // those with hours, logged or agreed
	Goods                 float64      // parts and materials of agreed extras
	Parts                 float64      // price of the parts that came and were not sent back
	OnOrder               float64      // of those that did not
	Unagreed              float64      // of both, what no agreed extra has the price of
	Unpriced              int          // parts on record with no price
	Agreed, Spent, ToCome float64
	Heading               float64 // what it comes to: Spent + OnOrder + ToCome
	Estimated             bool    // some stage has an estimate
	AgreedExtras, Waiting []Extra
}

// Money adds up what is agreed, spent, on order and to come on a job:
//
//	agreed  = estimated hours × rate + agreed extras, each as it was priced
//	spent   = hours logged × rate + parts that came
//	to come = hours that Remaining gives × rate + goods of agreed extras that are not done, less their own parts
func (s *State) Money(jobID string) (Money, error) {
	left, err := s.Remaining(jobID)
	if err != nil {
		return Money{}, err
	}
	j := s.jobs[s.jobAt[jobID]]
	m := Money{Rate: s.shop.LabourRate, AgreedExtras: s.agreed(j)}
	m.Waiting, _ = s.Extras(ExtraFilter{Job: jobID, State: Proposed}) // the job is known
	var labour [stages]float64
	for _, x := range m.AgreedExtras {
		labour[x.Stage] += x.labour()
		m.Goods += x.goods()
	}
	for st, r := range left {
		if r.Logged == 0 && r.Agreed() == 0 && r.ToCome == 0 {
			continue
		}
		cost := func(h Micro) float64 { return pence(h.Float() * m.Rate) }
		l := StageMoney{StageHours: r.StageHours, Agreed: pence(cost(r.Estimate) + labour[st]), Spent: cost(r.Logged), ToCome: cost(r.ToCome)}
		m.Stages = append(m.Stages, l)
		m.Agreed, m.Spent, m.ToCome = m.Agreed+l.Agreed, m.Spent+l.Spent, m.ToCome+l.ToCome
		m.Estimated = m.Estimated || r.Estimate > 0
	}
	s.goods(&m, j, left)
	m.Agreed, m.Spent = m.Agreed+m.Goods, m.Spent+m.Parts
	m.Heading = m.Spent + m.OnOrder + m.ToCome
	for _, v := range []*float64{&m.Goods, &m.Parts, &m.OnOrder, &m.Unagreed, &m.Agreed, &m.Spent, &m.ToCome, &m.Heading} {
		*v = pence(*v)
	}
	return m, nil
}

// goods adds up the parts of a job, and what is to come of its agreed extras beside
// hours. Parts go against the price of the extra that is about them, and no other.
func (s *State) goods(m *Money, j *job, left [stages]Remaining) {
	parts := s.partsOf(j, time.Time{}) // whether one is late is no matter here
	own := map[int]float64{}           // price of an extra's parts
	for _, p := range parts {
		if p.State == Returned {
			continue
		}
		if p.Price == 0 {
			m.Unpriced++
		}
		due := pence(p.Price * float64(p.open()) / float64(max(p.Quantity, 1)))
		m.OnOrder += due
		m.Parts += p.Price - due
		k := slices.IndexFunc(m.AgreedExtras, func(x Extra) bool { return x.Parts > 0 && s.isFor(p, x, j) })
		if k < 0 {
			m.Unagreed += p.Price
			continue
		}
		own[m.AgreedExtras[k].Number] += p.Price
	}
	for _, x := range m.AgreedExtras {
		m.Unagreed += max(own[x.Number]-x.Parts, 0)
		if !left[x.Stage].Left && !s.carriedOut(x, j) {
			m.ToCome += pence(max(x.Parts-own[x.Number], 0) + x.Materials)
		}
	}
}

// isFor tells whether a part is what an extra is about: the extra names it, or the
// extra's task needs it.
func (s *State) isFor(p Part, x Extra, j *job) bool {
	words, side := wordsOf(x.Text)
	name := slices.DeleteFunc(slices.Clone(p.words), func(w string) bool { return slices.Contains(panelWords, w) })
	if within(name, words) && (side == 0 || p.on == 0 || side == p.on) {
		return true
	}
	return slices.ContainsFunc(s.tasksOf(j), func(t TaskAdded) bool {
		return t.NeedsPart != "" && sameWords(x.Text, t.Title) && len(serving(t, []Part{p})) > 0
	})
}

// carriedOut tells whether the task that an extra is about is done.
func (s *State) carriedOut(x Extra, j *job) bool {
	return slices.ContainsFunc(j.tasks, func(i uint32) bool {
		t := s.taskOf(i)
		return t.State == Done && sameWords(x.Text, t.Title)
	})
}
