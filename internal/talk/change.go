package talk

import (
	"context"
	"reflect"
	"slices"

	"bayword/internal/hear"
	"bayword/internal/say"
	"bayword/internal/surface"
)

// edited revises what a message recorded; one that recorded nothing is read anew.
func (t *Talk) edited(ctx context.Context, m surface.Message) (Turn, error) {
	old, ok, err := t.message(ctx, m.Target)
	if err != nil {
		return Turn{Outcome: Silent}, err
	}
	if !ok {
		// Nothing was said to the first version; the new one may be for the bot.
		return t.hearNew(ctx, m, m.Target)
	}
	p, err := t.place(ctx, m.Channel, m.Person)
	if err != nil {
		return Turn{Outcome: Silent}, err
	}
	own := ownRecords(old)
	if len(own) == 0 {
		p.Pending = slices.DeleteFunc(p.Pending, func(q pending) bool { return q.Message == m.Target })
		if err := t.forget(ctx, m.Target, old); err != nil {
			return Turn{Outcome: Silent}, err
		}
		c, err := t.context(ctx, m, p) // as things stand now: its question may be answered
		if err != nil {
			return Turn{Outcome: Silent}, err
		}
		c.Addressed = old.Context.Addressed
		return t.carryOut(ctx, m, m.Target, p, c)
	}
	c := old.Context
	heard := t.vocab.Hear(m.Text, c)
	w := t.work(m, p, c)
	w.c.Records = p.Records
	slices.Reverse(own) // oldest first, as the intents are
	switch {
	case len(heard.Intents) == 0 || slices.ContainsFunc(heard.Intents, func(in hear.Intent) bool { return len(in.Missing) > 0 }):
		w.turn = Turn{Outcome: Asked, Reply: &say.Reply{Text: "What you said before stays on record: I can't read the new wording. Say «scrap that» to take it back."}}
		return w.turn, t.keepReply(ctx, m.ID, m, w.turn)
	case sameKinds(own, heard.Intents):
		w.revise(ctx, own, heard.Intents)
	default:
		for _, d := range slices.Backward(own) {
			w.one(ctx, hear.Intent{Kind: "Undo", Fields: hear.Fields{}, Entry: d.Entry})
		}
		w.all(ctx, heard.Intents)
	}
	if w.failed != nil {
		return w.turn, w.failed
	}
	if len(w.records) > 0 {
		// The message now stands for what it says after the edit.
		slices.Reverse(own)
		reversed := slices.Clone(heard.Intents)
		slices.Reverse(reversed)
		old.Own = revised(own, reversed, w.records)
		old.Records = old.Own
		if err := t.save(ctx, "message/"+m.Target, old); err != nil {
			return w.turn, err
		}
	}
	if err := t.keepPlace(ctx, m.Channel, m.Person, p); err != nil {
		return w.turn, err
	}
	return w.turn, t.keepReply(ctx, m.ID, m, w.turn)
}

// ownRecords are the records that the message itself made, newest first.
func ownRecords(kept message) []hear.Done { return slices.Clone(kept.Own) }

// revised returns the records of an edited message: as they were with the new
// fields, or the new ones.
func revised(own []hear.Done, intents []hear.Intent, made []hear.Done) []hear.Done {
	if !sameKinds(own, intents) {
		return slices.DeleteFunc(slices.Clone(made), func(d hear.Done) bool { return d.Intent.Kind == "Undo" })
	}
	for i := range own {
		own[i].Intent = intents[i]
	}
	return own
}

func sameKinds(own []hear.Done, intents []hear.Intent) bool {
	if len(own) != len(intents) {
		return false
	}
	for i := range own {
		if own[i].Intent.Kind != intents[i].Kind {
			return false
		}
	}
	return true
}

// revise amends each record with the fields that the new wording changes.
func (w *work) revise(ctx context.Context, own []hear.Done, intents []hear.Intent) {
	for i, d := range own {
		changes := hear.Fields{}
		for f, v := range intents[i].Fields {
			if !reflect.DeepEqual(v, d.Intent.Fields[f]) && f != "material_choice" && f != "panel_choice" {
				changes[f] = v
			}
		}
		if len(changes) == 0 {
			continue
		}
		w.one(ctx, hear.Intent{Kind: "Amend", Fields: changes, Entry: d.Entry})
		if w.failed != nil {
			return
		}
	}
	w.sum()
}

// deleted takes back what a message recorded, and drops its open question.
func (t *Talk) deleted(ctx context.Context, m surface.Message) (Turn, error) {
	old, ok, err := t.message(ctx, m.Target)
	if err != nil || !ok {
		return Turn{Outcome: Silent}, err
	}
	p, err := t.place(ctx, old.Channel, old.Person)
	if err != nil {
		return Turn{Outcome: Silent}, err
	}
	p.Pending = slices.DeleteFunc(p.Pending, func(q pending) bool { return q.Message == m.Target })
	w := t.work(m, p, old.Context)
	for _, d := range ownRecords(old) {
		if d.Intent.Kind == "Amend" {
			continue // the record it corrected is another message's
		}
		w.one(ctx, hear.Intent{Kind: "Undo", Fields: hear.Fields{}, Entry: d.Entry})
		if w.failed != nil {
			return w.turn, w.failed
		}
	}
	w.sum()
	if err := t.forget(ctx, m.Target, old); err != nil {
		return w.turn, err
	}
	return w.turn, t.keepPlace(ctx, old.Channel, old.Person, p)
}

// forget empties what is kept of a message.
func (t *Talk) forget(ctx context.Context, id string, old message) error {
	return t.save(ctx, "message/"+id, message{Person: old.Person, Channel: old.Channel, Thread: old.Thread, At: old.At, Context: old.Context, Outcome: Silent})
}

func (t *Talk) keepReply(ctx context.Context, id string, m surface.Message, turn Turn) error {
	return t.save(ctx, "message/"+id, message{Person: m.Person, Channel: m.Channel, At: m.At, Outcome: turn.Outcome, Requests: turn.Requests, Reply: turn.Reply})
}

// pressed takes one of the choices that a reply offered.
func (t *Talk) pressed(ctx context.Context, m surface.Message) (Turn, error) {
	target := m.Target
	if target == "" {
		var o offered
		if _, err := t.load(ctx, choicesOf(m), &o); err != nil {
			return Turn{Outcome: Silent}, err
		}
		target = o.Message
	}
	old, ok, err := t.message(ctx, target)
	if err != nil {
		return Turn{Outcome: Silent}, err
	}
	if !ok || old.Reply == nil || m.Choice < 1 || m.Choice > len(old.Reply.Choices) {
		return Turn{Outcome: Unsure, Reply: &say.Reply{Text: "There is nothing to choose from just now."}}, nil
	}
	if old.Pressed {
		return Turn{Outcome: Unsure, Reply: &say.Reply{Text: "That one is answered already; nothing was recorded again."}}, nil
	}
	if m.Person != old.Person {
		return Turn{Outcome: Unsure, Reply: &say.Reply{Text: "That question is for " + old.Person + " to answer; nothing was recorded."}}, nil
	}
	p, err := t.place(ctx, old.Channel, old.Person)
	if err != nil {
		return Turn{Outcome: Silent}, err
	}
	i := slices.IndexFunc(p.Pending, func(q pending) bool { return q.Message == target })
	if i < 0 {
		return Turn{Outcome: Unsure, Reply: &say.Reply{Text: "That question is no longer open; say it again and I'll ask afresh."}}, nil
	}
	// The question pressed is the one that is answered, whatever else waits.
	q := p.Pending[i]
	p.Pending = append(slices.Delete(p.Pending, i, i+1), q)
	m.Text = old.Reply.Choices[m.Choice-1].Say
	c, err := t.context(ctx, m, p)
	if err != nil {
		return Turn{Outcome: Silent}, err
	}
	c.Pending, c.Again, c.Addressed = &q.Intent, false, true
	turn, err := t.carryOut(ctx, m, m.ID, p, c)
	if err != nil || turn.Outcome == Unsure {
		return turn, err
	}
	if old, _, err = t.message(ctx, target); err != nil { // its thread may have moved on
		return turn, err
	}
	old.Pressed = true
	return turn, t.save(ctx, "message/"+target, old)
}
