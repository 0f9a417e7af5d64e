package coating

import (
	"fmt"
	"math"
	"slices"
)

// Component is one of the liquids of a mix on the shelf.
type Component struct {
	ID      string
	OnHand  Volume
	Planned Volume // what other planned coats will take of it; see Taken
}

// Plan is a mix that some other job is going to take.
type Plan struct {
	Ratio Ratio
	IDs   []string // components in the order of the ratio
	Total Volume
}

// Taken is what plans together take of each component. It fails with *InputError.
func Taken(plans []Plan) (map[string]Volume, error) {
	taken := make(map[string]Volume)
	for _, p := range plans {
		if len(p.IDs) != p.Ratio.n {
			return nil, refuse("with", len(p.IDs), "the mix %s has %d components; name each", p.Ratio, p.Ratio.n)
		}
		parts, err := p.Ratio.Split(p.Total)
		if err != nil {
			return nil, err
		}
		for i, id := range p.IDs {
			if taken[id] > math.MaxInt64-MaxVolume {
				return nil, refuse("amount_l", p.Total.Litres(), "the plans take more than can be counted; check their amounts")
			}
			taken[id] += parts[i]
		}
	}
	return taken, nil
}

// Answer says whether there is enough.
type Answer string

// The answers.
const (
	Enough Answer = "enough" // also at the highest loss
	Tight  Answer = "tight"  // only if little is lost
	Short  Answer = "short"  // not even then
)

// Count is one component, counted.
type Count struct {
	ID        string
	Low, High Volume // what the job takes, at the ends of the loss range
	OnHand    Volume
	Planned   Volume // what other planned coats take
	Free      Volume // OnHand − Planned; negative when promised twice
	Missing   Volume // High − Free, 0 when there is enough
	Answer    Answer
}

// Check is whether the shelf has what a job takes.
type Check struct {
	Need       Need
	Ratio      Ratio
	Components []Count // in the order of the ratio
	Answer     Answer  // the worst of the components'
	Limit      int     // index of the component that ends first
	Makes      Volume  // ready-to-spray material that the free stock makes
	Coats      int     // whole coats of these panels that it is enough for, at the highest loss

	Assumptions []string
	Source      string
	Caution     string
}

// CheckEnough counts every component of a mix against its stock, less what other
// planned coats take. Components are in the order of the ratio, each once.
// It fails with *InputError.
func CheckEnough(n Need, r Ratio, stock []Component) (Check, error) {
	if n.Plan <= 0 {
		return Check{}, refuse("panels", 0, "give a need as NeedOf makes it")
	}
	if len(stock) != r.n {
		return Check{}, refuse("with", len(stock), "the mix %s has %d components; give the stock of each", r, r.n)
	}
	free := make([]Volume, len(stock))
	for i, c := range stock {
		if err := checkComponent(stock[:i], c); err != nil {
			return Check{}, err
		}
		free[i] = c.OnHand - c.Planned
	}
	makes, limit, err := r.Makes(free)
	if err != nil {
		return Check{}, err
	}
	c := Check{Need: n, Ratio: r, Makes: makes, Limit: limit, Answer: Enough}
	low, high := r.split(n.Low), r.split(n.High)
	c.Components = make([]Count, len(stock))
	for i, s := range stock {
		// Rounding can give a part a millionth more of the smaller total.
		count := Count{ID: s.ID, Low: min(low[i], high[i]), High: high[i], OnHand: s.OnHand, Planned: s.Planned, Free: free[i], Missing: max(high[i]-free[i], 0), Answer: Enough}
		switch {
		case count.Free < count.Low:
			count.Answer, c.Answer = Short, Short
		case count.Missing > 0:
			count.Answer = Tight
			if c.Answer == Enough {
				c.Answer = Tight
			}
		}
		c.Components[i] = count
	}
	c.Coats = int(int64(makes) * int64(n.Job.Coats) / int64(n.High))
	// A part rounded up can leave the sum a millionth short of what it is for.
	if c.Answer == Enough {
		c.Coats = max(c.Coats, n.Job.Coats)
	}
	c.Assumptions = append(slices.Clone(n.Assumptions), "what other jobs' planned coats take is not counted as there")
	c.Source = fmt.Sprintf("%s; mix %s of the product's sheet", n.Source, r)
	c.Caution = n.Caution
	return c, nil
}

func checkComponent(before []Component, c Component) error {
	if c.ID == "" {
		return refuse("with", "", "name every component")
	}
	for _, b := range before {
		if b.ID == c.ID {
			return refuse("with", c.ID, "name each component once")
		}
	}
	if c.OnHand < 0 || c.OnHand > MaxVolume {
		return refuse("on_hand", c.OnHand.Litres(), "give 0 to %g litres of %s", MaxVolume.Litres(), orPanel(c.ID))
	}
	if c.Planned < 0 || c.Planned > MaxVolume {
		return refuse("planned", c.Planned.Litres(), "give 0 to %g litres of %s", MaxVolume.Litres(), orPanel(c.ID))
	}
	return nil
}
