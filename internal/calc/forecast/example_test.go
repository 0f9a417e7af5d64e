package forecast_test

import (
	"fmt"
	"math/rand/v2"

	"bayword/internal/calc/forecast"
)

// Malcolm, Roseboom, Clark and Fazar, 1959: te = (a + 4m + b)/6.
func ExampleCriticalPath() {
	p, err := forecast.CriticalPath([]forecast.Task{
		{ID: "cut out", Low: 2, Likely: 3, High: 4},
		{ID: "make the patch", Low: 1, Likely: 2, High: 3},
		{ID: "weld in", Low: 3, Likely: 4, High: 11, After: []string{"cut out", "make the patch"}},
	}, 7.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v, %.0f hours\n", p.Path, p.Duration)
	// Output: [cut out weld in], 8 hours
}

// What cannot vary takes what it takes: two days of work for one person.
func ExampleSimulate() {
	r, err := forecast.Simulate(forecast.Input{
		Tasks:  []forecast.Task{{ID: "first", Low: 7.5, Likely: 7.5, High: 7.5}, {ID: "second", Low: 7.5, Likely: 7.5, High: 7.5}},
		People: []forecast.Person{{ID: "one", HoursPerDay: 7.5}},
	}, rand.NewPCG(1, 2))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Finish.P50, "working days")
	// Output: 2 working days
}
