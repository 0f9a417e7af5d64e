package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestMend(t *testing.T) {
	t.Parallel()
	m := NewMender([]string{"torque", "nearside", "bottom", "sill", "hole", "rust", "humidity", "bellhousing", "bonnet", "front", "clear", "lacquer", "epoxy", "mixing", "whats", "watts", "panel", "plane", "metres", "meters"})
	for said, want := range map[string]string{
		"torqe":       "torque",
		"nearisde":    "nearside",
		"botom":       "bottom",
		"bellhosuing": "bellhousing",
		"humidty":     "humidity",
		"bonet":       "bonnet",
		"laquer":      "lacquer",
		"mixign":      "mixing",
		"wahts":       "whats", // a swap is likelier than a wrong letter
		"waths":       "whats",
		"panle":       "panel",
		"whatss":      "whats", // a letter typed twice
		"meters":      "meters",
		"metrs":       "meters", // or metres, which is the same
		"rest":        "rest",   // English, one letter from rust
		"whole":       "whole",  // English, one letter from hole
		"seal":        "seal",
		"asdf":        "asdf",
		"qwer":        "qwer",
		"ep":          "ep",
	} {
		assert.Equal(t, want, m.Mend(said), said)
	}
}

func TestNearest(t *testing.T) {
	t.Parallel()
	first, ok := Nearest("weel", []string{"wheel", "spoke"})
	assert.True(t, ok)
	assert.Equal(t, "wheel", first)
	_, ok = Nearest("weel", []string{"wheel", "weed"})
	assert.False(t, ok, "two are as near")
	_, ok = Nearest("gearbox", []string{"engine"})
	assert.False(t, ok)
}

func TestMendNeverChangesEnglishAndIsStable(t *testing.T) {
	t.Parallel()
	m := NewMender([]string{"torque", "nearside", "bottom", "sill", "bonnet"})
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.StringMatching(`[a-z]{1,12}`).Draw(t, "word")
		got := m.Mend(w)
		if m.English(w) {
			assert.Equal(t, w, got)
		}
		assert.Equal(t, got, m.Mend(got))
	})
}
