package shop

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"
)

// The ids of notices name all that would make another notice of it: what is put off
// after it was told is told again.

// ReminderNotice is the id of the notice of a reminder: of the ledger entry that
// made it, and when it is due, local.
func ReminderNotice(entry uint64, local string) string {
	return fmt.Sprintf("reminder-%d-%s", entry, local)
}

// CoatNotice is the id of a notice of a coat: of the ledger entry that made it, and
// what is told as CoatTold has it.
func CoatNotice(entry uint64, told string) string { return fmt.Sprintf("coat-%d-%s", entry, told) }

// coatWords are the words for what is told of a coat.
var coatWords = map[NoticeKind]string{NoticePotLife: "pot", NoticeRecoatCloses: "closes", NoticeSand: "sand"}

// CoatTold says what is told of a coat and when, local: sand-2026-03-10T19:30.
func CoatTold(kind NoticeKind, local string) string { return coatWords[kind] + "-" + local }

// IsCoatTold tells whether a text is one of CoatTold.
func IsCoatTold(text string) bool {
	word, local, _ := strings.Cut(text, "-")
	_, err := time.Parse(minuteLayout, local)
	return err == nil && slices.Contains(slices.Collect(maps.Values(coatWords)), word)
}

// PartNotice is the id of the notice of a part that is due on a day.
func PartNotice(number int, due Day) string { return fmt.Sprintf("part-%d-%s", number, due) }

// MorningNotice is the id of a lead's note of a morning.
func MorningNotice(day Day, person string) string { return fmt.Sprintf("morning-%s-%s", day, person) }

// Of says what a notice of a part or of a morning was about; ok is false for the
// others, which an entry of this ledger has to explain.
func (e NoticeSent) Of() (part int, person string, day Day, ok bool) {
	kind, rest, _ := strings.Cut(e.ID, "-")
	switch kind {
	case "part":
		number, due, _ := strings.Cut(rest, "-")
		part, _ = strconv.Atoi(number)
		day, ok = ParseDay(due)
		return part, "", day, ok && part > 0
	case "morning":
		if at := len(dayLayout); len(rest) > at+1 && rest[at] == '-' {
			person = rest[at+1:]
			day, ok = ParseDay(rest[:at])
		}
	}
	return 0, person, day, ok
}

// sentOf gives what was told of coats, by the entry that made them.
func (s *State) sentOf() map[uint64][]string {
	of := map[uint64][]string{}
	for id := range s.sent {
		kind, rest, _ := strings.Cut(id, "-")
		entry, told, _ := strings.Cut(rest, "-")
		if n, err := strconv.ParseUint(entry, 10, 64); err == nil && kind == "coat" {
			of[n] = append(of[n], told)
		}
	}
	for _, told := range of {
		slices.Sort(told)
	}
	return of
}

// sentOthers gives the notices sent of parts and people there are, in the order
// they were sent.
func (s *State) sentOthers() []Kept {
	ids := slices.SortedFunc(maps.Keys(s.sent), func(a, b string) int { return cmp.Compare(s.sent[a], s.sent[b]) })
	var all []Kept
	for _, id := range ids {
		e := NoticeSent{id}
		part, person, _, ok := e.Of()
		_, ordered := s.things[thing{kind: recPart, number: part}]
		_, known := s.personAt[person]
		if ok && (ordered || known) {
			all = append(all, Kept{Told: Told{Event: e}})
		}
	}
	return all
}
