// Package reorder answers «when must it be ordered»: how fast a material goes and
// how sure that is, the level to reorder at, the days left, and which batch to
// open first. It is pure and may import unit only.
//
// # Model
//
// Use is counted in weeks back from today. The reorder point is what is used while
// a delivery is under way, and a safety stock for bad luck:
//
//	ROP = d·L + z·√(L·σd² + d²·σL²)
//
// with d and σd the mean and standard deviation of use a day, L and σL those of the
// lead time in days, z the normal quantile of the service level (Stevenson,
// Operations Management, chapter 13; Silver, Pyke and Thomas, Inventory and
// Production Management in Supply Chains, chapters 6 and 7). σL = 0 leaves z·σd·√L.
//
// Use that comes in lumps is told apart after Syntetos, Boylan and Croston (2005)
// and averaged after Croston (1972) with the correction of Syntetos and Boylan
// (2005). Chapters and years are from memory; the worked example was read.
//
// # Honesty
//
// A forecast says how sure it is. With few data it is a guess and says so, and the
// level that people set stands.
package reorder
