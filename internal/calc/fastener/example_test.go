package fastener_test

import (
	"fmt"

	"bayword/internal/calc/fastener"
	"bayword/internal/unit"
)

// A clean dry M10 of class 8.8. VDI 2230-1 Table A1 has 29.6 kN and 48 to 49 N·m
// at friction 0.12, the lowest taken for dry.
func ExampleTighten() {
	thread, err := fastener.ParseThread("M10")
	if err != nil {
		fmt.Println(err)
		return
	}
	grade, err := fastener.ParseGrade("8.8")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := fastener.Tighten(fastener.Input{Thread: thread, Grade: grade, Lubrication: fastener.Dry})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Input.Thread, unit.Format(r.TorqueNM, unit.NM))
	fmt.Printf("%.1f to %.1f kN\n", r.PreloadLowKN, r.PreloadHighKN)
	// Output:
	// M10x1.5 48.3 N·m (35.7 lbf·ft)
	// 16.0 to 29.6 kN
}

// The short-form equation as a hardware table has it: 3/8-16 SAE grade 2, K = 0.2,
// 3197 lbf, 20 lbf·ft.
func ExampleShortForm() {
	nm := fastener.ShortForm(0.2, 0.375*unit.InchMM, 3197*unit.PoundForceN)
	fmt.Println(unit.Format(nm/unit.LbfFtNM, unit.LbfFt))
	// Output: 20 lbf·ft (27.1 N·m)
}

// M8 of tensile strength 800 MPa into metal of 140 MPa shear strength: by
// Le = As·Rm/(0.875·π·d·τ) the bolt breaks before the hole strips from 9.5 mm on.
func ExampleEngagementToBreak() {
	thread, err := fastener.ParseThread("M8")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f mm\n", fastener.EngagementToBreak(thread, 800, 140))
	// Output: 9.51 mm
}

func ExampleCritical() {
	fmt.Println(fastener.Critical("lug nuts"), fastener.Critical("flywheel bolt"))
	// Output: true false
}
