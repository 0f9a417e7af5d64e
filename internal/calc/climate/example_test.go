package climate_test

import (
	"fmt"

	"bayword/internal/calc/climate"
)

// A worked example of a paint inspection course: air 16 °C, 71 %, steel 13 °C. The
// dew point is 10.7 °C and the steel 2.3 °C above it: do not paint.
func ExampleCheck() {
	steel := 13.0
	r, err := climate.Check(climate.Input{AirC: 16, HumidityPct: 71, SurfaceC: &steel})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: dew point %.1f °C, metal %.1f °C above it, needs %.1f °C\n", r.Verdict, r.DewPointC, r.MarginC, r.SurfaceNeededC)
	// Output: no: dew point 10.7 °C, metal 2.3 °C above it, needs 13.7 °C
}

// A coating glossary's example: at 30 °C and 55 % the dew point is 20 °C.
func ExampleDewPoint() {
	dew, err := climate.DewPoint(30, 55)
	fmt.Printf("%.0f °C %v\n", dew, err)
	// Output: 20 °C <nil>
}
