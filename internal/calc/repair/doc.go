// Package repair answers «patch or panel»: what putting right the finds on one
// panel takes in cutting, welding, material, hours and money, each find patched or
// dressed, a part panel let in, or the whole panel replaced. It is pure and may
// import calc/metal only.
//
// # Model
//
// A find is as large as it looks or larger, and is cut back by a margin m beyond
// that to sound metal: of a find w by h that is a cut
// and a butt weld of 2·(w + h + 4·m) and a patch of (w + 2·m)·(h + 2·m). A part
// panel is a rectangle twice as long as high around all of them, one long side on
// the panel's flange and plug welded, the rest butt welded. A whole panel is plug
// welded all round but for one short side, or hung. Hours are lengths, areas and
// counts times rates; wire and gas are those of calc/metal.
//
// Every rate has a low, a likely and a high value: common practice, no source.
// Cases are simulated with each rate triangular between them, all ways by the same
// rates in each case, so that what they share does not blur which is cheaper.
//
// # The shop's own record
//
// All hours are multiplied by one factor, log-normal, that the shop's closed repairs
// teach: the conjugate update of a normal mean with known spread of ln(actual /
// predicted) (Gelman and others, Bayesian Data Analysis, 3rd ed., section 2.5, from
// memory).
//
// # What it never does
//
// It never puts a patch on an old repair or on rust, never takes a panel without a
// price for free, and gives no welding procedure: structure is for somebody licensed
// to look at it.
package repair
