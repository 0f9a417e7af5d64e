package shop

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"bayword/internal/calc/fastener"
)

// TorqueReference is a book value and who set it.
type TorqueReference struct {
	TorqueSet
	Said
}

// SignOff is a torque sign-off and who did it.
type SignOff struct {
	TorqueRecorded
	Said
}

// TorqueLookUp is what is on record about a fastener.
type TorqueLookUp struct {
	References []TorqueReference // best first
	LastDone   *SignOff
	Critical   bool // by its name, or by its book entry
}

// LookUpTorque finds the book values of a fastener on a job.
func (s *State) LookUpTorque(jobID, name string) (TorqueLookUp, error) {
	if err := missing(need{"job", jobID != ""}, need{"fastener", name != ""}); err != nil {
		return TorqueLookUp{}, err
	}
	j, err := s.job(jobID)
	if err != nil {
		return TorqueLookUp{}, err
	}
	l := TorqueLookUp{References: s.torqueReferences(s.jobAt[jobID], name), Critical: fastener.Critical(name)}
	asked := normalFastener(name)
	if len(l.References) == 1 {
		asked = normalFastener(l.References[0].Fastener)
	}
	for _, r := range l.References {
		l.Critical = l.Critical || r.Critical || fastener.Critical(r.Fastener)
	}
	for _, i := range slices.Backward(j.recs) {
		if e, ok := s.details[i].(TorqueRecorded); ok && fits(asked, normalFastener(e.Fastener)) == 0 {
			l.LastDone = &SignOff{e, s.said(i)}
			break
		}
	}
	return l, nil
}

const maxFits = 5

// torqueReferences finds what is in force on a job under a name: the one that is
// called so, or else those that fit, best first.
func (s *State) torqueReferences(job uint16, name string) []TorqueReference {
	asked := normalFastener(name)
	if list := s.torques[torqueKey{job, asked}]; len(list) > 0 {
		return []TorqueReference{s.torqueOf(list[len(list)-1])}
	}
	type fit struct {
		how int
		ref TorqueReference
	}
	var found []fit
	for k, list := range s.torques {
		if k.job != job {
			continue
		}
		if how := fits(asked, k.fastener); how >= 0 {
			found = append(found, fit{how, s.torqueOf(list[len(list)-1])})
		}
	}
	slices.SortFunc(found, func(a, b fit) int {
		return cmp.Or(cmp.Compare(a.how, b.how), cmp.Compare(a.ref.Fastener, b.ref.Fastener))
	})
	refs := make([]TorqueReference, 0, maxFits)
	for _, f := range found[:min(len(found), maxFits)] {
		refs = append(refs, f.ref)
	}
	return refs
}

func (s *State) torqueOf(i uint32) TorqueReference {
	e, _ := s.details[i].(TorqueSet)
	return TorqueReference{e, s.said(i)}
}

// bookValue is the one value a fastener's name stands for on a job; nil when
// there is none, or more than one.
func (s *State) bookValue(job uint16, name string) *TorqueReference {
	refs := s.torqueReferences(job, name)
	if len(refs) == 1 {
		return &refs[0]
	}
	return nil
}

// calledSo is the one value whose fastener is called so, or ends so in two words
// or more («caliper bolt» of «brake caliper bolt»): a looser fit must not replace
// a book value. nil when there is none.
func (s *State) calledSo(job uint16, name string) *TorqueReference {
	book := s.bookValue(job, name)
	if book == nil {
		return nil
	}
	on := normalFastener(book.Fastener)
	if on == name || strings.Contains(name, " ") && strings.HasSuffix(on, " "+name) {
		return book
	}
	return nil
}

// NewTorque asks to sign off a torque, or to set a book value.
type NewTorque struct {
	Job, Fastener string
	Torque        *float64
	Count         *int   // of a sign-off
	Source        string // of a book value
}

// DecideSignOff decides a torque sign-off.
func (s *State) DecideSignOff(by string, r NewTorque) (Decision, error) {
	if err := s.may(by, taskSignOff); err != nil {
		return Decision{}, err
	}
	return s.decideSignOff(r)
}

func (s *State) decideSignOff(r NewTorque) (Decision, error) {
	if err := s.checkTorque(r); err != nil {
		return Decision{}, err
	}
	e := TorqueRecorded{Job: r.Job, Fastener: normalFastener(r.Fastener), Torque: *r.Torque}
	if r.Count != nil {
		if err := countSpan.check(float64(*r.Count)); err != nil {
			return Decision{}, err
		}
		e.Count = *r.Count
	}
	d := Decision{}
	critical := fastener.Critical(r.Fastener)
	book := s.bookValue(s.jobAt[r.Job], r.Fastener)
	if book == nil {
		if critical {
			d.Warnings = append(d.Warnings, "No book value is on record for this: check it in the maker's manual.")
		}
	} else {
		e.Fastener = book.Fastener
		critical = critical || book.Critical
		if ratio := *r.Torque / book.Torque; ratio > impossible || ratio < 1/impossible {
			return Decision{}, outOfRange("torque_nm", number(*r.Torque), "near "+number(book.Torque)+" N·m, the book value ("+book.Source+")")
		}
		if off := *r.Torque/book.Torque - 1; math.Abs(off) > bookTolerance {
			d.Warnings = append(d.Warnings, fmt.Sprintf("The book value is %s N·m (%s): %s N·m is %.0f %% %s it.",
				number(book.Torque), book.Source, strconv.FormatFloat(*r.Torque, 'g', 4, 64), math.Abs(off)*100, overUnder(off)))
		}
	}
	if critical {
		d.Warnings = append(d.Warnings, signOffCaution)
	}
	d.Event = e
	return d, nil
}

func overUnder(off float64) string {
	if off > 0 {
		return "over"
	}
	return "under"
}

// Cautions are common practice, no source.
const (
	signOffCaution = "Safety-critical: the maker's book rules; have it checked with a second wrench, and again after the first run where the book asks for it."

	// TorqueCaution goes with every book value of a safety-critical fastener.
	TorqueCaution = "Safety-critical: the maker's book rules. Clean, sound threads as the book says, new locking parts where it asks for them, wheels re-torqued after the first run."
)

func (s *State) checkTorque(r NewTorque) error {
	if err := missing(need{"job", r.Job != ""}, need{"fastener", r.Fastener != ""}, need{"torque_nm", r.Torque != nil}); err != nil {
		return err
	}
	if _, err := s.job(r.Job); err != nil {
		return err
	}
	return torqueSpan.check(*r.Torque)
}

// DecideTorqueSet decides the setting of a book value.
func (s *State) DecideTorqueSet(by string, r NewTorque) (Decision, error) {
	if err := s.may(by, taskSetTorque); err != nil {
		return Decision{}, err
	}
	return s.decideTorqueSet(r)
}

func (s *State) decideTorqueSet(r NewTorque) (Decision, error) {
	if err := s.checkTorque(r); err != nil {
		return Decision{}, err
	}
	e := TorqueSet{Job: r.Job, Fastener: normalFastener(r.Fastener), Torque: *r.Torque, Source: r.Source, Critical: fastener.Critical(r.Fastener)}
	d := Decision{}
	if old := s.calledSo(s.jobAt[r.Job], e.Fastener); old != nil {
		e.Fastener, e.Thread, e.Critical = old.Fastener, old.Thread, e.Critical || old.Critical
		if len(old.Stages) > 0 && old.Torque != *r.Torque {
			d.Warnings = append(d.Warnings, "The stages of the old value were left out: look up those of the new one.")
		}
		if len(old.Stages) > 0 && old.Torque == *r.Torque {
			e.Stages = old.Stages
		}
	}
	if e.Source == "" {
		d.Warnings = append(d.Warnings, "No source was given: say the book and page.")
	}
	d.Event = e
	return d, nil
}
