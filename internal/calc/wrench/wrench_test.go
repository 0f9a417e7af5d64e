package wrench

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"bayword/internal/unit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Every row of the table: worked examples of handbooks and the cited formula.
func TestPublishedSettings(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../../testdata/numbers/wrench.csv")
	require.NoError(t, err)
	defer func() { assert.NoError(t, f.Close()) }()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"quantity", "inputs", "expected", "unit", "tolerance", "source", "provenance"}, rows[0])
	require.Len(t, rows, 1+7)
	toMM := map[string]float64{"mm": 1, "cm": 10, "in": unit.InchMM}
	for _, r := range rows[1:] {
		require.Equal(t, "wrench setting", r[0])
		require.NotEmpty(t, r[5])
		require.NotEmpty(t, r[6])
		in := Input{}
		perNM := 1.0
		for _, pair := range strings.Split(r[1], ";") {
			key, value, ok := strings.Cut(pair, "=")
			require.True(t, ok, "%q", pair)
			number, of, _ := strings.Cut(value, " ")
			v, err := strconv.ParseFloat(number, 64)
			require.NoError(t, err)
			name, length, _ := strings.Cut(key, "_")
			switch name {
			case "target":
				if of == "lbf·ft" {
					perNM = 1 / unit.LbfFtNM
				}
				in.TorqueNM = v / perNM
			case "L":
				in.WrenchMM = v * toMM[length]
			case "E":
				in.ExtensionMM = v * toMM[length]
			case "angle":
				in.AngleDeg = v
			default:
				t.Errorf("no reading of %q", pair)
			}
		}
		want, err := strconv.ParseFloat(r[2], 64)
		require.NoError(t, err)
		within, err := strconv.ParseFloat(strings.TrimPrefix(r[4], "abs:"), 64)
		require.NoError(t, err)
		got, err := Adjust(in)
		require.NoError(t, err, "%v", r)
		assert.InDelta(t, want, got.SettingNM*perNM, within, "%v", r)
	}
}

func TestSquareToTheWrenchChangesNothing(t *testing.T) {
	t.Parallel()
	for _, deg := range []float64{90, -90} {
		r, err := Adjust(Input{TorqueNM: 40, WrenchMM: 400, ExtensionMM: 75, AngleDeg: deg})
		require.NoError(t, err)
		assert.Equal(t, 40.0, r.SettingNM)
	}
}

func TestRefusesWhatCannotBe(t *testing.T) {
	t.Parallel()
	good := Input{TorqueNM: 40, WrenchMM: 400, ExtensionMM: 75}
	with := func(change func(*Input)) Input {
		in := good
		change(&in)
		return in
	}
	type refusal struct {
		in              Input
		field, accepted string
	}
	cases := []refusal{
		// Folded back, longer than the wrench: the arm would point the other way.
		{with(func(in *Input) { in.ExtensionMM, in.AngleDeg = 500, 180 }), "extension_mm", "at most 200 mm"},
		{with(func(in *Input) { in.ExtensionMM, in.AngleDeg = 400, 180 }), "extension_mm", "90 degrees"},
		{with(func(in *Input) { in.ExtensionMM, in.AngleDeg = 201, -180 }), "extension_mm", "at most 200 mm"},
		{with(func(in *Input) { in.ExtensionMM, in.AngleDeg = 410, 120 }), "extension_mm", "at most 400 mm"},
	}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		cases = append(cases,
			refusal{with(func(in *Input) { in.TorqueNM = v }), "torque_nm", "2000 N·m"},
			refusal{with(func(in *Input) { in.WrenchMM = v }), "wrench_mm", "2000 mm"},
			refusal{with(func(in *Input) { in.ExtensionMM = v }), "extension_mm", "1000 mm"})
	}
	for _, v := range []float64{181, -181, math.NaN(), math.Inf(1), 1e300} {
		cases = append(cases, refusal{with(func(in *Input) { in.AngleDeg = v }), "angle_deg", "straight ahead"})
	}
	for _, c := range cases {
		r, err := Adjust(c.in)
		var input *InputError
		require.ErrorAs(t, err, &input, "%+v", c.in)
		assert.Equal(t, c.field, input.Field)
		assert.Contains(t, input.Accepted, c.accepted)
		assert.Zero(t, r)
	}
	_, err := Adjust(with(func(in *Input) { in.ExtensionMM, in.AngleDeg = 200, 180 }))
	require.NoError(t, err, "what the refusal offers works")
}

func draw(t *rapid.T) Input {
	return Input{
		TorqueNM:    rapid.Float64Range(0.5, 2000).Draw(t, "torque"),
		WrenchMM:    rapid.Float64Range(50, 2000).Draw(t, "wrench"),
		ExtensionMM: rapid.Float64Range(5, 1000).Draw(t, "extension"),
		AngleDeg:    rapid.Float64Range(-180, 180).Draw(t, "angle"),
	}
}

// The torque wanted lies in the range said, and so does that of any inputs that
// are off by no more than said.
func TestRangeHoldsEveryError(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := draw(t)
		r, err := Adjust(in)
		if err != nil {
			return
		}
		off := func(name string, most float64) float64 { return rapid.Float64Range(-most, most).Draw(t, name) }
		l := in.WrenchMM + off("wrench length", 5)
		e := max(0, in.ExtensionMM+off("extension length", 5))
		angle := (in.AngleDeg + off("angle off", 5)) * math.Pi / 180
		is := r.SettingNM * (1 + off("wrench", wrenchOff(r.SettingNM))) * (1 + e*math.Cos(angle)/l)
		slack := 1e-9 * r.HighNM
		assert.GreaterOrEqual(t, is, r.LowNM-slack)
		assert.LessOrEqual(t, is, r.HighNM+slack)
		assert.Less(t, r.LowNM, in.TorqueNM)
		assert.Greater(t, r.HighNM, in.TorqueNM)
	})
}

// Ahead the setting is below the torque and falls with the extension; behind it is
// above; left and right are the same; the torque scales it.
func TestSettingFollowsTheArm(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := draw(t)
		r, err := Adjust(in)
		if err != nil {
			return
		}
		assert.InEpsilon(t, in.TorqueNM, r.SettingNM*(in.WrenchMM+in.ExtensionMM*math.Cos(in.AngleDeg*math.Pi/180))/in.WrenchMM, 1e-9)
		mirrored := in
		mirrored.AngleDeg = -in.AngleDeg
		m, err := Adjust(mirrored)
		require.NoError(t, err)
		assert.Equal(t, r.SettingNM, m.SettingNM)
		assert.Equal(t, r.LowNM, m.LowNM)
		if a := math.Abs(in.AngleDeg); a < 89 {
			assert.Less(t, r.SettingNM, in.TorqueNM)
			longer := in
			longer.ExtensionMM = rapid.Float64Range(in.ExtensionMM, 1000).Draw(t, "longer")
			l, err := Adjust(longer)
			require.NoError(t, err)
			assert.LessOrEqual(t, l.SettingNM, r.SettingNM)
		} else if a > 91 {
			assert.Greater(t, r.SettingNM, in.TorqueNM)
			assert.LessOrEqual(t, r.SettingNM, 2*in.TorqueNM*(1+1e-9))
		}
	})
}

func TestResultSaysItsGrounds(t *testing.T) {
	t.Parallel()
	r, err := Adjust(Input{TorqueNM: 40, WrenchMM: 400, ExtensionMM: 75})
	require.NoError(t, err)
	assert.Contains(t, strings.Join(r.Assumptions, "; "), "400 mm from drive to middle of the grip")
	assert.Contains(t, strings.Join(r.Assumptions, "; "), "4 %")
	assert.Contains(t, r.Source, "TM 9-254")
	assert.Contains(t, r.Caution, "brakes")
	// ISO 6789 allows small wrenches more.
	r, err = Adjust(Input{TorqueNM: 8, WrenchMM: 200, ExtensionMM: 20})
	require.NoError(t, err)
	assert.Contains(t, strings.Join(r.Assumptions, "; "), "6 %")
}

func FuzzAdjust(f *testing.F) {
	f.Add(40.0, 400.0, 75.0, 0.0)
	f.Add(40.0, 400.0, 400.0, 180.0)
	f.Add(math.NaN(), math.Inf(1), -1.0, 1e308)
	f.Fuzz(func(t *testing.T, torque, wrench, extension, angle float64) {
		r, err := Adjust(Input{TorqueNM: torque, WrenchMM: wrench, ExtensionMM: extension, AngleDeg: angle})
		if err != nil {
			var input *InputError
			require.ErrorAs(t, err, &input)
			return
		}
		require.True(t, r.SettingNM > 0 && r.SettingNM <= 2*torque*(1+1e-9))
		require.True(t, r.LowNM >= 0 && r.LowNM <= r.HighNM && !math.IsInf(r.HighNM, 0))
	})
}

func BenchmarkAdjust(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Adjust(Input{TorqueNM: 40, WrenchMM: 400, ExtensionMM: 75, AngleDeg: 30}); err != nil {
			b.Fatal(err)
		}
	}
}

// A wrench maker's manual: 50 lbf·ft wanted, 16 in wrench, 2 in extension straight
// ahead, set 44.44 lbf·ft.
func ExampleAdjust() {
	r, err := Adjust(Input{TorqueNM: 50 * unit.LbfFtNM, WrenchMM: 16 * unit.InchMM, ExtensionMM: 2 * unit.InchMM})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(unit.Format(r.SettingNM/unit.LbfFtNM, unit.LbfFt))
	// Output: 44.4 lbf·ft (60.3 N·m)
}
