package shop

import "time"

// StageMoney is the money of one stage: labour alone.
type StageMoney struct {
	Stage          Stage
	Agreed, Spent  float64
	ToCome         float64 // agreed and not spent; 0 when it is overspent; with no estimate, the agreed extras
	Estimate       Micro   // hours
	Extras, Logged Micro   // hours of agreed extras, and logged
}

// Money is where the money of a job stands.
type Money struct {
	Rate                  float64      // price of an hour
	Stages                []StageMoney // those with hours or an estimate
	Goods                 float64      // parts and materials of agreed extras
	Parts                 float64      // price of the parts on record that were not sent back
	Unpriced              int          // parts on record with no price
	Agreed, Spent, ToCome float64
	AgreedExtras, Waiting []Extra
}

// Money adds up what is agreed, spent and to come on a job. Labour is the
// estimate and the agreed extras, less the hours logged. Goods to come are those
// of agreed extras, as far as no parts on record make up for them.
func (s *State) Money(jobID string) (Money, error) {
	j, err := s.job(jobID)
	if err != nil {
		return Money{}, err
	}
	m := Money{Rate: s.shop.LabourRate}
	m.AgreedExtras, _ = s.Extras(ExtraFilter{Job: jobID, State: Agreed}) // the job is known
	m.Waiting, _ = s.Extras(ExtraFilter{Job: jobID, State: Proposed})
	var sums [stages]StageMoney
	for st := range sums {
		h := j.stageHours(Stage(st))
		sums[st] = StageMoney{
			Stage: Stage(st), Estimate: h.Estimate, Logged: h.Logged,
			Agreed: pence(h.Estimate.Float() * m.Rate), Spent: pence(h.Logged.Float() * m.Rate),
		}
	}
	for _, x := range m.AgreedExtras {
		sums[x.Stage].Agreed += x.labour()
		sums[x.Stage].Extras += MicroOf(x.Hours)
		m.Goods += x.goods()
	}
	m.Parts, m.Unpriced = s.partsPrice(j)
	m.Agreed, m.Spent, m.ToCome = m.Goods, m.Parts, max(0, m.Goods-m.Parts)
	for _, st := range sums {
		if st.Estimate == 0 && st.Extras == 0 && st.Logged == 0 {
			continue
		}
		st.Agreed = pence(st.Agreed)
		st.ToCome = pence(max(0, st.Agreed-st.Spent))
		if st.Estimate == 0 { // nobody knows which of the hours were the extras'
			st.ToCome = st.Agreed
		}
		m.Stages = append(m.Stages, st)
		m.Agreed += st.Agreed
		m.Spent += st.Spent
		m.ToCome += st.ToCome
	}
	for _, v := range []*float64{&m.Goods, &m.Parts, &m.Agreed, &m.Spent, &m.ToCome} {
		*v = pence(*v)
	}
	return m, nil
}

// partsPrice adds up the parts of a job that were not sent back, and counts those
// with no price.
func (s *State) partsPrice(j *job) (sum float64, unpriced int) {
	for _, i := range j.recs {
		e, ok := s.details[i].(PartOrdered)
		if !ok || s.partOf(i, time.Time{}).State == Returned { // whether it is late is no matter here
			continue
		}
		if e.Price == 0 {
			unpriced++
		}
		sum += e.Price
	}
	return sum, unpriced
}
