// Package wiring answers «what cable» for a low-voltage circuit of a vehicle: the
// smallest cross-section that keeps the voltage drop, carries the current and
// carries its fuse. It is pure and may import unit only.
//
// # Model
//
// The drop is ΔU = I·L·R', over twice the length when a wire comes back. R' is
// the greatest resistance the standard allows a conductor at 20 °C, IEC 60228
// class 5 unless road-vehicle cable is asked for, corrected for temperature after
// IEC 60228 Annex A. The size is chosen at the conductor temperature given, 20 °C
// when none is; the Result says the drop of a conductor as warm as its current
// rating lets it get.
//
// Current ratings are law for another vehicle with a battery and a hot engine
// bay: 33 CFR 183.425 Table 5, for small craft. A cross-section in mm² takes the
// figure of the thickest AWG size that is not thicker, in the column of the
// poorest insulation.
//
// # Fuse
//
// A fuse protects the wire, not the load: the load is at most 80 % of the fuse,
// the fuse at most the rating of the wire (common practice, no source).
package wiring
