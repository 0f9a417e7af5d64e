package reorder

import (
	"strings"
	"testing"

	"bayword/internal/calc/published"

	"github.com/stretchr/testify/require"
)

func TestPublishedReorder(t *testing.T) {
	t.Parallel()
	for _, r := range published.Table(t, "reorder", 17) {
		switch r.Quantity {
		case "inventory: normal quantile z":
			z, err := Quantile(r.Num(t, "p"))
			require.NoError(t, err)
			r.Holds(t, z)
		case "inventory: safety stock":
			r.Holds(t, SafetyStock(r.Num(t, "z"), 0, r.Num(t, "sigma_LT"), LeadTime{1, 0}))
		case "inventory: reorder point":
			f, lead, service := Forecast{Pattern: Smooth, Sure: Fair}, LeadTime{}, 0.0
			if _, given := r.In["mean_LT_demand"]; given {
				f.PerDay, f.SDPerDay, lead.Days, service = r.Num(t, "mean_LT_demand"), r.Num(t, "sigma_LT"), 1, 1-r.Num(t, "stockout_risk")
			} else {
				f.PerDay, f.SDPerDay, lead.Days, service = r.Num(t, "d"), r.Num(t, "sigma_d"), r.Num(t, "L"), r.Num(t, "service")
			}
			a, err := Advise(Input{Forecast: f, Lead: lead, Service: service})
			require.NoError(t, err)
			r.Holds(t, a.Point)
		case "inventory: reorder point, demand and lead time random":
			d, lead := r.Num(t, "d"), LeadTime{r.Num(t, "L"), r.Num(t, "sigma_L")}
			r.Holds(t, d*lead.Days+SafetyStock(r.Num(t, "z"), d, r.Num(t, "sigma_d"), lead))
		case "inventory: Student's t":
			z, err := Quantile(r.Num(t, "p"))
			require.NoError(t, err)
			r.Holds(t, studentT(z, r.Num(t, "nu")))
		case "inventory: intermittent use a period":
			require.InDelta(t, smoothing, r.Num(t, "alpha"), 0)
			var series []float64
			for s := range strings.SplitSeq(r.In["series"], "+") {
				series = append(series, published.Number(t, s))
			}
			r.Holds(t, croston(series))
		default:
			t.Errorf("no check for %q", r.Quantity)
		}
	}
}
