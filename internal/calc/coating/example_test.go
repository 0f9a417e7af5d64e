package coating_test

import (
	"fmt"

	"bayword/internal/calc/coating"
)

// A paint maker's table: 60 % solids at 125 µm dry, 4.8 m²/L; a spray loss of 50 %
// leaves half of it.
func ExampleSpreadingRate() {
	rate, err := coating.SpreadingRate(60, 125)
	if err != nil {
		fmt.Println(err)
		return
	}
	practical, err := coating.PracticalRate(rate, 50)
	fmt.Printf("%.1f m²/L, %.1f m²/L practical %v\n", rate, practical, err)
	// Output: 4.8 m²/L, 2.4 m²/L practical <nil>
}

// A painting adviser's example: spread at 8 m²/L, the wet film is 125 µm.
func ExampleWetFilmAtRate() {
	wet, err := coating.WetFilmAtRate(8)
	fmt.Printf("%.0f µm %v\n", wet, err)
	// Output: 125 µm <nil>
}

// 1.1 litres of a high-build primer that is mixed 4:1:0.5.
func ExamplePlanMix() {
	ratio, err := coating.ParseRatio("4:1:0.5")
	if err != nil {
		fmt.Println(err)
		return
	}
	mix, err := coating.PlanMix(ratio, 1_100_000)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, part := range mix.Parts {
		fmt.Println(part.Litres(), "L")
	}
	// Output:
	// 0.8 L
	// 0.2 L
	// 0.1 L
}

func ExampleParseRatio() {
	_, err := coating.ParseRatio("2:0")
	fmt.Println(err)
	// Output: mix "2:0" cannot be used: give parts by volume, the material first, as in 2:1 or 4:1:0.5; one to 6 parts of 0.001 to 1000, at most three decimals
}
