package coating

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Two coats of clear, 50 % solids, 30 µm, on a bonnet of 1.25 m²: 16.7 m²/L, 0.15 L
// with nothing lost.
func clearOnBonnet(m Method) Job {
	return Job{Panels: []Panel{{"bonnet", 1.25}}, Coats: 2, SolidsPct: 50, DFTUMPerCoat: 30, Method: m}
}

func needOf(t require.TestingT, j Job) Need {
	n, err := NeedOf(j)
	require.NoError(t, err)
	return n
}

func TestWhatABonnetTakes(t *testing.T) {
	t.Parallel()
	n := needOf(t, clearOnBonnet(HVLP))
	assert.Equal(t, Volume(150_000), n.Theoretical)
	assert.InDelta(t, 0.15/0.65, n.Low.Litres(), 1e-6)
	assert.InDelta(t, 0.30, n.High.Litres(), 1e-6)
	assert.Equal(t, n.High, n.Plan)
	assert.InDelta(t, 16.667, n.RateM2PerL, 0.001)
	assert.InDelta(t, 8.333, n.RateLowM2PerL, 0.001)
	assert.InDelta(t, 60, n.WetUMPerCoat, 1e-9)
	assert.InDelta(t, 60, n.DryUM, 1e-9)
	said := strings.Join(n.Assumptions, "; ")
	assert.Contains(t, said, "bonnet 1.25 m²")
	assert.Contains(t, said, "35 to 50 % of the material misses the panel (common practice, no source)")
	assert.Contains(t, n.Caution, "air-fed mask")
}

func TestWithNoMethodTheRangeSpansAllGuns(t *testing.T) {
	t.Parallel()
	n := needOf(t, clearOnBonnet(Unsaid))
	for _, m := range []Method{HVLP, Conventional, Airless} {
		assert.LessOrEqual(t, needOf(t, clearOnBonnet(m)).High, n.High, "%s", m)
	}
	assert.Contains(t, strings.Join(n.Assumptions, "; "), "was not said")
}

func TestHostileJobs(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for field, change := range map[string]func(*Job){
		"panels":          func(j *Job) { j.Panels = nil },
		"area_m2":         func(j *Job) { j.Panels[0].AreaM2 = nan },
		"coats":           func(j *Job) { j.Coats = 0 },
		"solids_pct":      func(j *Job) { j.SolidsPct = 101 },
		"dft_um_per_coat": func(j *Job) { j.DFTUMPerCoat = math.Inf(1) },
		"method":          func(j *Job) { j.Method = Method(strings.Repeat("x", 10_000)) },
	} {
		j := clearOnBonnet(HVLP)
		change(&j)
		_, err := NeedOf(j)
		refused(t, field, err)
	}
	for _, a := range []float64{0, -1, 101} {
		_, err := NeedOf(Job{Panels: []Panel{{"", a}}, Coats: 1, SolidsPct: 50, DFTUMPerCoat: 30})
		refused(t, "area_m2", err)
	}
	j := Job{Panels: []Panel{{"hall", 100}, {"hall", 100}}, Coats: 20, SolidsPct: 1, DFTUMPerCoat: 5000}
	_, err := NeedOf(j)
	refused(t, "panels", err)
}

func TestHostileFilms(t *testing.T) {
	t.Parallel()
	for _, v := range []float64{0, -5, math.NaN(), math.Inf(1), 1e308} {
		_, err := SpreadingRate(v, 30)
		refused(t, "solids_pct", err)
		_, err = WetFilm(v, 50, 0)
		refused(t, "dft_um_per_coat", err)
		_, err = DryFilm(v, 50, 0)
		refused(t, "wet_um", err)
		_, err = WetFilmAtRate(v)
		refused(t, "rate_m2_per_l", err)
		_, err = PracticalRate(v, 10)
		refused(t, "rate_m2_per_l", err)
		_, err = Litres(v, 50, 30, 1, 10)
		refused(t, "area_m2", err)
	}
	_, err := WetFilm(30, 50, -1)
	refused(t, "thinner_pct", err)
	_, err = DryFilm(30, 50, math.NaN())
	refused(t, "thinner_pct", err)
	_, err = PracticalRate(10, 100)
	refused(t, "loss_pct", err)
	_, err = Litres(1, 50, 30, 1, 100)
	refused(t, "loss_pct", err)
	_, err = Litres(1, 50, 30, math.MaxInt, 10)
	refused(t, "coats", err)
}

func TestFilmPhysics(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		vs := rapid.Float64Range(5, 100).Draw(t, "solids")
		dft := rapid.Float64Range(5, 500).Draw(t, "dry film")
		thinner := rapid.Float64Range(0, 100).Draw(t, "thinner")
		area := rapid.Float64Range(0.1, 50).Draw(t, "area")
		coats := rapid.IntRange(1, 5).Draw(t, "coats")

		wet, err := WetFilm(dft, vs, thinner)
		require.NoError(t, err)
		dry, err := DryFilm(wet, vs, thinner)
		require.NoError(t, err)
		assert.InDelta(t, dft, dry, 1e-9*dft, "films turn round")
		assert.GreaterOrEqual(t, wet*(1+1e-12), dft, "nothing grows by drying")

		// Unthinned, what the theoretical rate lays down is the wet film.
		rate, err := SpreadingRate(vs, dft)
		require.NoError(t, err)
		laid, err := WetFilmAtRate(rate)
		require.NoError(t, err)
		unthinned, err := WetFilm(dft, vs, 0)
		require.NoError(t, err)
		assert.InDelta(t, unthinned, laid, 1e-9*laid)

		job := Job{Panels: []Panel{{"a", area}}, Coats: coats, SolidsPct: vs, DFTUMPerCoat: dft, Method: Conventional}
		n := needOf(t, job)
		assert.LessOrEqual(t, n.Theoretical, n.Low)
		assert.LessOrEqual(t, n.Low, n.High)
		practical, err := PracticalRate(rate, n.Loss.HighPct)
		require.NoError(t, err)
		assert.InDelta(t, area*float64(coats)/practical, n.High.Litres(), 1.1e-6, "the rate and the litres agree")

		more := job
		more.Coats++
		assert.Greater(t, needOf(t, more).High, n.High, "a coat more takes more")
		more = job
		more.DFTUMPerCoat *= 1.1
		assert.Greater(t, needOf(t, more).High, n.High, "a thicker film takes more")
		more = job
		more.Panels = []Panel{{"a", area}, {"b", 0.5}}
		assert.Greater(t, needOf(t, more).High, n.High, "a panel more takes more")
		more = job
		more.SolidsPct = vs * 0.9
		assert.Greater(t, needOf(t, more).High, n.High, "thinner material takes more")
	})
}

func BenchmarkNeedOf(b *testing.B) {
	j := clearOnBonnet(HVLP)
	for b.Loop() {
		if _, err := NeedOf(j); err != nil {
			b.Fatal(err)
		}
	}
}
