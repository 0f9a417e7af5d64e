package talk

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// talked says the lines one after another and returns what came of the last.
func talked(t *testing.T, person, channel string, lines ...string) Turn {
	t.Helper()
	talk := New(shop(t), ShortMemory{})
	var last Turn
	for i, line := range lines {
		m := said("m"+strconv.Itoa(i), line, i)
		m.Person, m.Channel = person, channel
		last = turn(t, talk, m)
	}
	return last
}

// conversation is what one person says in a channel, and what comes of the last line:
// a reply with the words told in it.
type conversation struct {
	person, channel string
	lines           []string
	outcome         Outcome
	told            string
}

// hold checks what comes of conversations.
func hold(t *testing.T, all []conversation) {
	t.Helper()
	for _, c := range all {
		got := talked(t, c.person, c.channel, c.lines...)
		assert.Equal(t, c.outcome, got.Outcome, "%q", c.lines)
		if c.told != "" && assert.NotNil(t, got.Reply, "%q", c.lines) {
			assert.Contains(t, got.Reply.Text, c.told, "%q", c.lines)
		}
	}
}

// «The os door i mean», right after an answer, asks again and changes no record.
func TestAnAnswerIsAskedForAgainOfWhatWasMeant(t *testing.T) {
	t.Parallel()
	hold(t, []conversation{
		{"idris", "bay-2", []string{"ns door rear edge gap 3.5 4 4", "how do i shift that door", "the os door i mean"}, Answered, "Right door"},
		{"tomasz", "bay-2", []string{"whats the sump plug torque", "no, the tern"}, Answered, "tern"},
		{"idris", "stores", []string{"how many p80s have we got", "p320 i mean"}, Answered, "P320"},
	})
}

// What was understood in part is not recorded, and that is said.
func TestAPartOfARecordIsNone(t *testing.T) {
	t.Parallel()
	hold(t, []conversation{
		{"idris", "bay-2", []string{"os door rear edge gap 4 4 5, xxnt edge 5 5 4"}, Unsure, "only a part of that"},
		{"idris", "stores", []string{"counted the p80s, fzzty nine"}, Unsure, "nothing is recorded"},
		{"mabel", "bay-3", []string{"roof and bxwwt had 2 coats of clear"}, Unsure, "nothing is recorded"},
		{"idris", "bay-2", []string{"finished the left sill 4 hours, starting on the right"}, Unsure, "nothing is recorded"},
	})
}

func TestWhatStandsBeforeThatShouldBeIsSo(t *testing.T) {
	t.Parallel()
	hold(t, []conversation{
		{"idris", "bay-2", []string{"hole in the ns sill 35 by 25", "offside that should be"}, Recorded, "Changed: side left → right"},
		{"idris", "bay-2", []string{"ns door rear edge gap 3.5 4 4", "front edge that was, not rear"}, Recorded, "Left door, front edge"},
		{"mabel", "bay-3", []string{"1 coat of clear on the roof and the tailgate", "not the tailgate"}, Recorded, "on the roof, the osmere"},
		{"mabel", "bay-3", []string{"1 coat of clear on the roof", "not the tailgate"}, Silent, ""},
		{"mabel", "bay-3", []string{"1 coat of clear on the roof", "finished at 9"}, Recorded, "09:00"},
	})
}

// A question that follows another sum is none of that sum's.
func TestReadingsAreNoSum(t *testing.T) {
	t.Parallel()
	hold(t, []conversation{
		{"idris", "bay-2", []string{"sump plug torque", "in foot pounds", "ns door rear edge 3.5 4 4 an front edge 5 5 4"}, Recorded, "Left door, front edge"},
		{"idris", "stores", []string{"how many p80s have we got", "used 4 of them"}, Recorded, "4 P80"},
	})
}

func TestACorrectionAmendsTheRecordItNames(t *testing.T) {
	t.Parallel()
	hold(t, []conversation{
		{"idris", "bay-2", []string{"0.7 kg of mig wire used", "1 bottle of welding gas used", "the wire was 0.9 not 0.7"}, Recorded, "0.9 kg of 0.6 mig wire"},
		{"mabel", "bay-3", []string{"450 ml of clear used", "150 ml of thinner used", "the clear was 320"}, Recorded, "0.32 L clearcoat"},
		{"mabel", "bay-3", []string{"450 ml of clear used", "1 coat of clear on the roof", "the clear was 320"}, Recorded, "0.32 L clearcoat"},
		{"mabel", "bay-3", []string{"250 ml of the clear hardener used", "2 coats of clear on the roof", "the hardener was 275"}, Recorded, "0.275 L clear hardener"},
		{"wren", "bay-2", []string{"extra: let in a new scuttle, 4 hours", "extra: make up drip rails, 5 hours", "the scuttle one was 6.5 hours"}, Recorded, "let in a new scuttle, £338"},
		{"mabel", "bay-3", []string{"1 coat of clear on the bonnet", "1 coat of clear on the tailgate", "bonnet was 2 coats"}, Recorded, "2 coats of clearcoat on the bonnet"},
		{"idris", "bay-2", []string{"ns door front edge gap 3.5 4 4", "os door front edge gap 5 5 5", "the nearside was 4 4 4.5"}, Recorded, "Left door, front edge on the heron: 4, 4, 4.5 mm"},
		{"idris", "bay-2", []string{"ns door front edge gap 3.5 4 4", "os door front edge gap 5 5 5", "the ns one was 4 4 4.5"}, Recorded, "Changed: gap 3.5 4 4 → 4 4 4.5"},
		{"priya", "bay-2", []string{"4 hours on the seats", "1 hour on the carpets", "2 hours on the headlining", "carpets was 1.5 hours"}, Recorded, "Changed: hours 1 → 1.5"},
		{"priya", "bay-2", []string{"4 hours on the seats and 1 hour on the carpets", "the seats were 5 hours"}, Recorded, "Changed: hours 4 → 5"},
		{"wren", "bay-2", []string{"extra: let in a new scuttle, 4 hours", "extra: make up drip rails, 5 hours", "the aerial one was 6 hours"}, Silent, ""},
		{"mabel", "bay-3", []string{"1 coat of clear on the tailgate", "the roof was 2 coats"}, Silent, ""},
		{"idris", "bay-2", []string{"os sill has a hole 45 x 20", "the sill was 35 x 20 before"}, Silent, ""},
		{"idris", "bay-2", []string{"0.7 kg of mig wire used", "the wire needs 3 more"}, Silent, ""},
		{"priya", "bay-2", []string{"4 hours on the seats", "1 hour on the carpets", "no, seats 5 hours"}, Recorded, "Changed: hours 4 → 5"},
		{"priya", "bay-2", []string{"4 hours on the seats", "the seats were 3 hours late"}, Silent, ""},
		{"idris", "bay-1", []string{"5 hours mechanical", "idris was looking at the heron"}, Silent, ""},
	})
}

func TestTheRecordThatIsNamedIsTakenBack(t *testing.T) {
	t.Parallel()
	hold(t, []conversation{
		{"priya", "bay-2", []string{"remind me tomorrow at 9 to order the headlining cloth", "remind me at 3 to ring about the piping", "cancel the headlining"}, Recorded, "Taken back: reminder for Wed 11 Mar 09:00"},
		{"priya", "bay-2", []string{"new task: glue in the headlining, 8 hours", "2 hours on the seats", "cancel the headlining"}, Recorded, "Taken back: task 13"},
		{"idris", "bay-2", []string{"note: the torch slips in its clamp", "ns sill has a hole 45 x 20", "scrap the note"}, Recorded, "Taken back: note"},
		{"idris", "bay-2", []string{"ns sill has a hole 45 x 20", "scrap the note"}, Asked, "None of your records here fits «note». Find 5"},
		{"idris", "bay-2", []string{"4 hours metal", "1 kg of mig wire used", "delete the hours"}, Recorded, "Taken back: 4 h metal"},
		{"wren", "bay-2", []string{"ordered a heater tap, 12 quid", "1 kg of mig wire used", "undo the order"}, Recorded, "Taken back: the order of heater tap"},
		{"idris", "bay-2", []string{"hole in the os sill 45 x 20", "hole in the ns sill 65 x 25", "scrap the os one"}, Recorded, "hole, right sill"},
		{"idris", "bay-2", []string{"hole in the os sill 45 x 20", "4 hours metal", "scrap the hole"}, Recorded, "hole, right sill"},
		{"idris", "bay-2", []string{"0.5 kg of mig wire used", "0.7 kg of mig wire used", "scrap the first one"}, Recorded, "Taken back: 0.5 kg"},
		{"idris", "bay-2", []string{"snag: os mirror shakes", "note: mirror arm is from the spare car", "scrap the snag, not the note"}, Recorded, "Taken back: snag"},
		{"idris", "bay-2", []string{"snag: os mirror shakes", "note: mirror arm is from the spare car", "scrap that, not the note, the snag"}, Recorded, "Taken back: snag"},
		{"idris", "bay-2", []string{"snag: os mirror shakes", "note: mirror arm is from the spare car", "not the note, the snag"}, Asked, "Snag 2"},
		{"mabel", "bay-3", []string{"1 coat of clear on the bonnet", "450 ml of clear used", "scrap the coat"}, Recorded, "Taken back: 1 coat"},
		{"mabel", "bay-3", []string{"450 ml of clear used", "cancel the primer"}, Asked, "None of your records here fits «primer»"},
		{"mabel", "bay-3", []string{"1 coat of clear on the bonnet", "cancel the newspaper"}, Silent, ""},
		{"mabel", "bay-3", []string{"1 coat of clear on the bonnet", "scrap the bonnet"}, Silent, ""},
		{"idris", "bay-2", []string{"ns door front edge gap 3.5 4 4", "undo the door and have a feel"}, Silent, ""},
		{"priya", "bay-2", []string{"4 hours on the seats", "delete the seats picture"}, Silent, ""},
	})
}

func TestOnlyTheBeginningOfALongMessageIsKept(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "½ kg", shortened("½ kg"))
	assert.Len(t, []rune(shortened(strings.Repeat("½", saidKept+1))), saidKept)
}
