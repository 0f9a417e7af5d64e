package coating

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var (
	noon      = time.Date(2026, time.March, 10, 12, 0, 0, 0, time.UTC)
	highBuild = Times{FlashMin: 10, RecoatFromH: 0.3, RecoatUntilH: 24, SandAfterH: 4, PotLifeMin: 60}
)

func windowsOf(t require.TestingT, c Coat) Windows {
	w, err := WindowsOf(c)
	require.NoError(t, err)
	return w
}

func TestWindowsAreTheProductsOwnTimes(t *testing.T) {
	t.Parallel()
	w := windowsOf(t, Coat{Times: highBuild, FinishedAt: noon, MixedAt: noon.Add(-20 * time.Minute)})
	assert.Equal(t, noon.Add(10*time.Minute), w.FlashedAt)
	assert.Equal(t, noon.Add(18*time.Minute), w.RecoatFrom)
	assert.Equal(t, noon.Add(24*time.Hour), w.RecoatUntil)
	assert.Equal(t, noon.Add(4*time.Hour), w.SandFrom)
	assert.Equal(t, noon.Add(40*time.Minute), w.PotLifeEnds)
	assert.False(t, w.PotLifeIsLatest)
	assert.NotEmpty(t, w.Source)
	assert.NotEmpty(t, w.Caution)
}

func TestUnknownMixingIsSaid(t *testing.T) {
	t.Parallel()
	w := windowsOf(t, Coat{Times: highBuild, FinishedAt: noon})
	assert.Equal(t, noon.Add(time.Hour), w.PotLifeEnds)
	assert.True(t, w.PotLifeIsLatest)
	assert.Contains(t, strings.Join(w.Assumptions, "; "), "ends earlier than said")
}

func TestWhatTheSheetLeavesOutIsLeftOut(t *testing.T) {
	t.Parallel()
	w := windowsOf(t, Coat{FinishedAt: noon, MixedAt: noon})
	for _, at := range []time.Time{w.FlashedAt, w.RecoatFrom, w.RecoatUntil, w.SandFrom, w.PotLifeEnds} {
		assert.True(t, at.IsZero())
	}
	phase, sandable := w.At(noon)
	assert.Equal(t, Open, phase)
	assert.False(t, sandable, "nobody gave a time to sand")
}

func TestPhases(t *testing.T) {
	t.Parallel()
	w := windowsOf(t, Coat{Times: highBuild, FinishedAt: noon})
	for after, want := range map[time.Duration]Phase{
		0: Flashing, 9 * time.Minute: Flashing, 10 * time.Minute: Closed, 18 * time.Minute: Open, 24 * time.Hour: Open, 24*time.Hour + time.Second: Past,
	} {
		got, sandable := w.At(noon.Add(after))
		assert.Equal(t, want, got, "%s", after)
		assert.Equal(t, after >= 4*time.Hour, sandable, "%s", after)
	}
}

// The clocks go forward in the night to 29 March 2026: 16 hours from 16:00 is 09:00.
func TestAnHourStaysAnHour(t *testing.T) {
	t.Parallel()
	gmt, bst := time.FixedZone("GMT", 0), time.FixedZone("BST", 3600)
	w := windowsOf(t, Coat{Times: Times{SandAfterH: 16}, FinishedAt: time.Date(2026, time.March, 28, 16, 0, 0, 0, gmt)})
	assert.True(t, time.Date(2026, time.March, 29, 9, 0, 0, 0, bst).Equal(w.SandFrom))
}

func TestTemperatureMovesNoFigure(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := Coat{Times: highBuild, FinishedAt: noon}
		plain := windowsOf(t, c)
		temperature := rapid.Float64Range(-20, 100).Draw(t, "temperature")
		c.TemperatureC = &temperature
		w := windowsOf(t, c)
		require.Len(t, w.Assumptions, len(plain.Assumptions)+1)
		w.Coat, plain.Coat, w.Assumptions, plain.Assumptions = Coat{}, Coat{}, nil, nil
		assert.Equal(t, plain, w)
	})
}

func TestTemperatureInWords(t *testing.T) {
	t.Parallel()
	for c, want := range map[float64]string{
		20: "should hold", 21: "should hold", 30: "about twice as fast", 25: "somewhat faster", 40: "several times faster",
		15: "somewhat slower", 10: "about twice as long", 2: "not to cure at all",
	} {
		w := windowsOf(t, Coat{Times: highBuild, FinishedAt: noon, TemperatureC: &c})
		assert.Contains(t, strings.Join(w.Assumptions, "; "), want, "%g °C", c)
	}
}

func TestHostileCoats(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for field, change := range map[string]func(*Coat){
		"at":             func(c *Coat) { c.FinishedAt = time.Time{} },
		"flash_min":      func(c *Coat) { c.Times.FlashMin = -1 },
		"recoat_from_h":  func(c *Coat) { c.Times.RecoatFromH = nan },
		"recoat_until_h": func(c *Coat) { c.Times.RecoatUntilH = 0.1 },
		"sand_after_h":   func(c *Coat) { c.Times.SandAfterH = math.Inf(1) },
		"pot_life_min":   func(c *Coat) { c.Times.PotLifeMin = 1e300 },
		"mixed_at":       func(c *Coat) { c.MixedAt = noon.Add(time.Second) },
		"temperature_c":  func(c *Coat) { c.TemperatureC = &nan },
	} {
		c := Coat{Times: highBuild, FinishedAt: noon}
		change(&c)
		_, err := WindowsOf(c)
		refused(t, field, err)
	}
}

func BenchmarkWindowsOf(b *testing.B) {
	temperature := 18.0
	c := Coat{Times: highBuild, FinishedAt: noon, TemperatureC: &temperature}
	for b.Loop() {
		if _, err := WindowsOf(c); err != nil {
			b.Fatal(err)
		}
	}
}
