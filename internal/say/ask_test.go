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
	assert.Equal(t, "I didn't get that, so nothing is recorded. The nearest things I do:\n«how much epoxy have we got»\n«what are we low on»\n«used half a litre of clear»\nOr say «help».", r.Text)
	assert.Contains(t, say.Unsure(nil).Text, "help")
}
