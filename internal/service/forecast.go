package service

import (
	"errors"
	"fmt"
	"math"
	"time"

	"bayword/internal/calc/reorder"
	"bayword/internal/shop"
	"bayword/internal/unit"
	pb "bayword/proto/bayword/v1"
)

// What a forecast takes for granted. Common practice, no source.
const (
	usesBack   = 26 * 7 * 24 * time.Hour // what was used before says little of what is
	leadDays   = 7.0                     // a delivery takes so long
	leadSDDays = 2.0                     // give or take
)

const tooFew = "too few uses to tell"

// forecast is the stock of a material with how long it will last, and adds to the
// basis what that rests on. mu is held.
func (s *Service) forecast(st shop.Stock, basis *pb.Basis) (*pb.Stock, error) {
	answer := stockPB(st)
	now := s.clock()
	if err := s.firstOut(answer, st, now, basis); err != nil {
		return nil, err
	}
	uses, since, err := s.state.Uses(st.ID, now.Add(-usesBack))
	if err != nil {
		return nil, err
	}
	if !since.Before(now) {
		answer.Forecast = tooFew
		basis.Steps = append(basis.Steps, st.ID+": "+tooFew)
		return answer, nil
	}
	r, err := lastingOf(st, uses, since, now)
	var odd *reorder.InputError
	switch {
	case errors.As(err, &odd): // more of it than any shop has
		basis.Steps = append(basis.Steps, fmt.Sprintf("%s: no forecast, %s is %s: %s", st.ID, odd.Field, odd.Value, odd.Accepted))
		return answer, nil
	case err != nil:
		return nil, err
	}
	f := r.Input.Forecast
	if f.Sure == reorder.Guess {
		answer.Forecast = tooFew
		basis.Steps = append(basis.Steps, fmt.Sprintf("%s: %d uses in %d weeks, %s", st.ID, f.Uses, f.Weeks, tooFew))
		return answer, nil
	}
	answer.DaysLeftLow = &r.DaysLow
	if !math.IsInf(r.DaysHigh, 1) {
		answer.DaysLeftHigh = &r.DaysHigh
	}
	answer.Forecast = lasting(r)
	basis.Steps = append(basis.Steps, fmt.Sprintf("%s: %s %s a day, %s to %s: %s",
		st.ID, unit.Number(f.PerDay), st.Unit, unit.Number(f.LowPerDay), unit.Number(f.HighPerDay), answer.Forecast))
	if r.SetTooLow {
		basis.Steps = append(basis.Steps, fmt.Sprintf("%s: use would ask for a reorder level of %s %s, %s is set", st.ID, unit.Number(r.Point), st.Unit, st.ReorderAt))
	}
	basis.Assumptions = appendNew(basis.Assumptions, "waste and what counting found missing are no use; the next weeks are taken to be like the last")
	basis.Assumptions = appendNew(basis.Assumptions, fmt.Sprintf("how long a delivery takes is not on record: %g days, give or take %g (common practice, no source)", leadDays, leadSDDays))
	basis.Assumptions = appendNew(basis.Assumptions, r.Caution)
	basis.Sources = appendNew(basis.Sources, r.Source)
	return answer, nil
}

// firstOut names the batch to open first: the one that expires first, of those
// that are likely still there.
func (s *Service) firstOut(answer *pb.Stock, st shop.Stock, now time.Time, basis *pb.Basis) error {
	held, err := s.state.Batches(st.ID)
	if err != nil || st.Now <= 0 {
		return err
	}
	batches := make([]reorder.Batch, 0, len(held))
	for _, b := range held {
		until := time.Time{}
		if b.Expires > 0 {
			last, err := time.ParseInLocation(time.DateOnly, b.Expires.String(), s.zone)
			if err != nil {
				return err
			}
			until = last.AddDate(0, 0, 1) // good through its last day
		}
		batches = append(batches, reorder.Batch{ID: b.Batch, Left: reorder.Amount(b.Left), Expires: until})
	}
	picking, err := reorder.FirstOut(batches, reorder.Amount(st.Now), now)
	var odd *reorder.InputError
	if errors.As(err, &odd) {
		return nil // more of it than any shop has
	}
	if err != nil {
		return err
	}
	var first reorder.Batch
	switch {
	case len(picking.Expired) > 0:
		first, answer.FirstOutExpired = picking.Expired[0], true
	case len(picking.Picks) > 0:
		first = picking.Picks[0].Batch
	}
	if first.Expires.IsZero() {
		return nil
	}
	answer.FirstOutBatch, answer.FirstOutExpires = first.ID, first.Expires.AddDate(0, 0, -1).Format(time.DateOnly)
	basis.Assumptions = appendNew(basis.Assumptions, "what is left is taken to be of the newest deliveries: people open the oldest first (common practice, no source)")
	return nil
}

// lastingOf works out how long a material lasts.
func lastingOf(st shop.Stock, uses []shop.StockUse, since, now time.Time) (reorder.Result, error) {
	taken := make([]reorder.Use, 0, len(uses))
	for _, u := range uses {
		if !u.At.After(now) { // else the clock was put back since
			taken = append(taken, reorder.Use{At: u.At, Amount: u.Amount.Float()})
		}
	}
	f, err := reorder.Predict(taken, since, now)
	if err != nil {
		return reorder.Result{}, err
	}
	return reorder.Advise(reorder.Input{
		Forecast: f, Lead: reorder.LeadTime{Days: leadDays, SDDays: leadSDDays},
		OnHand: max(st.Now, 0).Float(), SetAt: st.ReorderAt.Float(),
	})
}

// lasting tells how long a material will last and how sure that is.
func lasting(r reorder.Result) string {
	f := r.Input.Forecast
	sure := fmt.Sprintf("from %d uses in %d weeks", f.Uses, f.Weeks)
	if f.Sure == reorder.Rough {
		sure = "rough, " + sure
	}
	low, high := math.Floor(r.DaysLow), math.Ceil(r.DaysHigh)
	switch {
	case r.Input.OnHand == 0:
		return "none left"
	case math.IsInf(high, 1):
		return fmt.Sprintf("at least %.0f days left; %s", low, sure)
	}
	if low == high {
		return fmt.Sprintf("about %.0f days left; %s", low, sure)
	}
	return fmt.Sprintf("about %.0f to %.0f days left; %s", low, high, sure)
}
