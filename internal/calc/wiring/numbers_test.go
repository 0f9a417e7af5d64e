package wiring

import (
	"strconv"
	"strings"
	"testing"

	"bayword/internal/calc/published"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPublishedTables(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "wiring", 66) {
		switch r.Quantity {
		case "max DC resistance 20 °C, class 5 plain Cu", "max DC resistance 20 °C, road-vehicle copper cable":
			cable := Class5
			if strings.HasSuffix(r.Quantity, "road-vehicle copper cable") {
				cable = RoadVehicle
			}
			got, err := Resistance(cable, r.Num(t, "area_mm2"), 20)
			require.NoError(t, err)
			r.Holds(t, got)
		case "AWG cross-section":
			got, err := AWG(r.Num(t, "AWG")).AreaMM2()
			require.NoError(t, err)
			r.Holds(t, got)
		case "AWG solid-copper resistance 20 °C":
			got, err := AWG(r.Num(t, "AWG")).SolidResistance()
			require.NoError(t, err)
			r.Holds(t, got)
		case "voltage drop, single conductor, body return":
			got, err := VoltageDrop(Input{Amps: r.Num(t, "I_A"), LengthM: r.Num(t, "length_m")}, r.Num(t, "area_mm2"))
			require.NoError(t, err)
			r.Holds(t, got)
		case "voltage drop, two-wire run":
			got, err := VoltageDrop(Input{Amps: r.Num(t, "I_A"), LengthM: r.Num(t, "one_way_m"), TwoWire: true}, r.Num(t, "area_mm2"))
			require.NoError(t, err)
			r.Holds(t, got)
		case "temperature factor kt (R20=Rt*kt)":
			cold, err := Resistance(Class5, 2.5, 20)
			require.NoError(t, err)
			warm, err := Resistance(Class5, 2.5, r.Num(t, "T_C"))
			require.NoError(t, err)
			r.Holds(t, cold/warm)
		case "next standard blade fuse with continuous load <= 80 %":
			var blades []string
			for _, f := range fuses {
				if f <= 30 {
					blades = append(blades, strconv.FormatFloat(f, 'f', -1, 64))
				}
			}
			assert.Equal(t, r.In["series"], strings.Join(blades, ","))
			got, err := Fuse(r.Num(t, "load_A"))
			require.NoError(t, err)
			r.Holds(t, got)
		case "allowable continuous current":
			found := false
			for _, g := range ratings {
				if g.gauge == AWG(r.Num(t, "AWG")) {
					found = true
					r.Holds(t, map[string]float64{"60": g.at60, "105": g.at105}[r.In["insulation_C"]])
				}
			}
			assert.True(t, found, "%v", r.In)
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}

// An independent look at both resistance tables: annealed copper has 17.24 mΩ·mm²/m
// (IEC 60028); what a standard allows for stranding, tolerance and a true area that
// is not the nominal one stays within 17 % of it.
func TestTablesAreOfCopper(t *testing.T) {
	t.Parallel()
	for _, c := range []Cable{Class5, RoadVehicle} {
		sizes, _, err := c.sizes()
		require.NoError(t, err)
		for i, s := range sizes {
			specific := s.areaMM2 * s.mohmM
			assert.Greater(t, specific, 17.24, "%v", s)
			assert.Less(t, specific, 17.24*1.17, "%v", s)
			if i > 0 {
				assert.Greater(t, s.areaMM2, sizes[i-1].areaMM2)
				assert.Less(t, s.mohmM, sizes[i-1].mohmM)
			}
		}
	}
}

// The column for 60 °C is also what cable for 105 °C may carry in an engine space:
// 33 CFR 183.425 Table 5 note 1 has 0.85 for it.
func TestRatingHoldsInAnEngineBay(t *testing.T) {
	t.Parallel()
	for i, r := range ratings {
		assert.LessOrEqual(t, r.at60, 0.85*r.at105, "%s", r.gauge)
		if i > 0 {
			assert.Greater(t, r.at60, ratings[i-1].at60)
			assert.Greater(t, r.gauge.area(), ratings[i-1].gauge.area())
		}
	}
}
