// Package metal answers what a sheet weighs, what a gauge is in millimetres, and
// what a run of MIG weld or a flange of plug welds takes in wire, gas and number.
// It is pure and may import unit only.
//
// # Models
//
//	sheet mass    m = ρ·A·t
//	fillet        m = ½·a²·L·ρ, wire = m/efficiency
//	wire          length a kg = 1/(π/4·d²·ρ)
//	gas           V = Q·L/v, while the arc burns
//	plug welds    V = n·π/4·d²·t·overfill
//
// The weld formulas are those of the ESAB filler metal and MIG handbooks. How
// many plug welds hold a flange is no formula: it is the spacing of the trade, or
// better the number of spot welds the maker put there.
package metal
