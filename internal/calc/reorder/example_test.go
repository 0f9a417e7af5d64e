package reorder_test

import (
	"fmt"

	"bayword/internal/calc/reorder"
)

// Stevenson, Operations Management, chapter 13: mean use during the lead time 50
// units, standard deviation 5, a risk of 3 % to run out. Safety stock 9.4, reorder
// point 59.4.
func ExampleAdvise() {
	r, err := reorder.Advise(reorder.Input{
		Forecast: reorder.Forecast{PerDay: 50, SDPerDay: 5, Pattern: reorder.Smooth, Sure: reorder.Fair},
		Lead:     reorder.LeadTime{Days: 1},
		Service:  0.97,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f of safety, order at %.1f\n", r.Safety, r.Point)
	// Output: 9.4 of safety, order at 59.4
}
