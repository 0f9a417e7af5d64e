package say_test

import (
	"strings"
	"testing"

	"bayword/internal/say"

	"github.com/stretchr/testify/assert"
)

func TestAskSaysWhatIsUnderstoodAndAsksForTheRest(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind    string
		missing []string
		got     map[string]string
		choices []say.Choice
		want    string
	}{
		{"RecordFind", []string{"side"}, map[string]string{"job": "heron", "panel": "sill", "kind": "hole", "width_mm": "120", "height_mm": "40"}, nil,
			"Hole, sill, 120 × 40 mm, the heron: which side, nearside/left or offside/right?"},
		{"RecordFind", []string{"kind"}, map[string]string{"job": "the heron", "panel": "sill", "side": "left"}, nil,
			"Left sill, the heron: what is it: hole, rust, pitting, dent, filler, old repair, crack, missing or paint?"},
		{"RecordFind", []string{"panel"}, map[string]string{"kind": "old_repair"}, []say.Choice{{Label: "front arch", Say: "front arch"}, {Label: "rear arch", Say: "rear arch"}},
			"Old repair: which panel: front arch or rear arch?"},
		{"RecordUse", []string{"material"}, map[string]string{"amount": "0.3 L"}, nil, "0.3 L: which material?"},
		{"RecordUse", []string{"amount", "material"}, nil, nil, "How much was used; and which material?"},
		{"RecordCount", []string{"amount"}, map[string]string{"material": "P80 discs"}, nil, "P80 discs: how much did you count?"},
		{"RecordTorque", []string{"torque_nm"}, map[string]string{"fastener": "wheel nut", "job": "heron"}, nil, "Wheel nut, the heron: how tight, in N·m or lbf·ft?"},
		{"RecordTorque", []string{"job"}, map[string]string{"fastener": "wheel nut", "torque_nm": "81"}, nil, "Wheel nut, 81 N·m: which vehicle?"},
		{"ComputeTorque", []string{"grade"}, map[string]string{"thread": "M10x1.5"}, nil, "M10x1.5: which grade, such as 8.8 or the marks on the head?"},
		{"LogHours", []string{"hours"}, map[string]string{"job": "heron", "work": "metal"}, nil, "Metal, the heron: how many hours?"},
		{"RecordGap", []string{"edge"}, map[string]string{"panel": "door", "side": "left", "gap_mm": "3.5, 4"}, nil, "Left door, gap 3.5, 4 mm: which edge: front, rear, top or bottom?"},
		{"AdjustWrench", []string{"wrench_mm"}, map[string]string{"torque_nm": "40", "extension_mm": "75"}, nil,
			"40 N·m, extension 75 mm: how long is the wrench, from the middle of its drive to the middle of the grip, in mm?"},
		{"RecordCoat", []string{"material"}, map[string]string{"panels": "roof", "coats": "1", "job": "tern"}, nil, "Roof, 1 coat, the tern: which material?"},
		{"CheckClimate", []string{"humidity_pct"}, map[string]string{"air_c": "14"}, nil, "Air 14 °C: what is the humidity, in %?"},
		{"SizeCable", []string{"length_m"}, map[string]string{"amps": "15"}, nil, "Load 15 A: how long is the run one way, in m?"},
		{"AddTask", []string{"title"}, map[string]string{"job": "tern"}, nil, "The tern: what is to be done?"},
		{"StartTask", []string{"task"}, nil, []say.Choice{{Label: "3 replace the right sill", Say: "3"}, {Label: "5 epoxy the shell", Say: "5"}}, "Which task is begun, by its number or in words: 3 replace the right sill or 5 epoxy the shell?"},
		{"RecordOrder", []string{"part"}, map[string]string{"job": "pilot", "supplier": "Fenwright Fasteners", "due": "2026-03-19"}, nil, "Fenwright Fasteners, due Thu 19 Mar, the pilot: which part was ordered?"},
		{"RecordArrival", []string{"job"}, map[string]string{"part": "propshaft", "quantity": "1"}, nil, "Propshaft, quantity 1: which vehicle?"},
		{"AddSnag", []string{"text"}, map[string]string{"job": "pilot"}, nil, "The pilot: what is wrong?"},
		{"AddBrief", []string{"job"}, map[string]string{"text": "heated rear screen"}, nil, "Heated rear screen: which vehicle?"},
		{"MeetBrief", []string{"line"}, nil, nil, "Which line of the brief, by its number?"},
		{"CloseSnag", []string{"snag"}, map[string]string{"job": "pilot"}, nil, "The pilot: which snag, by its number?"},
		{"ProposeExtra", []string{"text"}, map[string]string{"job": "heron", "parts_cost": "410"}, nil, "410 for parts, the heron: what work is it, or which finds is it for?"},
		{"DecideExtra", []string{"agreed"}, map[string]string{"extra": "2"}, nil, "Extra 2: did the customer agree or decline?"},
		{"DecideExtra", []string{"extra"}, map[string]string{"agreed": "false", "job": "heron"}, nil, "Declined, the heron: which extra, by its number?"},
		{"Remind", []string{"at"}, map[string]string{"text": "turn the roof panel"}, nil, "Turn the roof panel: remind you when?"},
		{"Remind", []string{"text"}, map[string]string{"at": "2026-03-10T16:00"}, nil, "Tue 10 Mar 16:00: remind you of what?"},
		{"Forecast", []string{"job"}, nil, nil, "Which vehicle?"},
		{"Later", []string{"tyre_size"}, nil, nil, "What tyre size?"},
		{"Later", nil, nil, nil, "Which one?"},
	} {
		assert.Equal(t, c.want, say.Ask(c.kind, c.missing, c.got, c.choices).Text)
	}
}

func TestAskOffersSidesLeftFirst(t *testing.T) {
	t.Parallel()
	r := say.Ask("RecordFind", []string{"side"}, nil, nil)
	assert.Equal(t, []say.Choice{{Label: "left (nearside)", Say: "left"}, {Label: "right (offside)", Say: "right"}}, r.Choices)
	assert.False(t, r.Quiet)
}

func TestAskOffersAtMostFiveAndSaysThereAreMore(t *testing.T) {
	t.Parallel()
	var many []say.Choice
	for _, l := range strings.Fields("a b c d e f g") {
		many = append(many, say.Choice{Label: l, Say: l})
	}
	r := say.Ask("RecordFind", []string{"panel"}, nil, many)
	assert.Equal(t, "Which panel: a, b, c, d, e or another one?", r.Text)
	assert.Equal(t, many[:5], r.Choices)
}

func TestUnsureOffersTheNearest(t *testing.T) {
	t.Parallel()
	r := say.Unsure([]string{"how much epoxy have we got", "what are we low on", "used half a litre of clear", "a fourth"})
	assert.Equal(t, "I didn't get that, so nothing is recorded. I do things like:\n«how much epoxy have we got»\n«what are we low on»\n«used half a litre of clear»\nOr say «help».", r.Text)
	assert.Contains(t, say.Unsure(nil).Text, "help")
}
