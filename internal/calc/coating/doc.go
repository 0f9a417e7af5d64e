// Package coating answers the paint shop's sums: how much ready-to-spray material
// panels need, what to pour of each component, whether the shelf has it, when a
// coat may be flatted or recoated, and how its solvent stands to the law. It is
// pure and may import unit only.
//
// # Films
//
// What stays on the metal is the solids: a litre of VS % solids by volume covers
// 10·VS/DFT m² at DFT µm dry, the theoretical spreading rate of paint makers' tables
// (ISO 23811 computes it too; from memory).
// Loss is what misses the panel; it is a range by method, never one number, and
// common practice. Work is planned with the high end of the range.
//
// # Amounts
//
// Volumes are whole millionths of a litre (Volume), so that the parts of a mix sum
// to its total exactly.
//
// # Times
//
// Windows repeat the product's own times from a coat's finish. Temperature adds
// words and moves no figure.
package coating
