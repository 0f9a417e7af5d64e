// Package gearing answers how fast a vehicle goes at so many revs, how many revs
// at a speed, and what a change of tyre does to the speedometer. It is pure and
// may import unit only.
//
// # Model
//
// A tyre's design diameter is D = rim + 2·width·aspect (ISO 4000-1). A code that
// prints no aspect gets one by convention, and a range: 82 % for a radial (80 to
// 84), 95 % for a tyre sized in inches (88 to 98) (common practice, no source;
// the maker's data book comes first).
//
// A loaded tyre rolls less than π·D in a turn. The rolling circumference is taken
// as 3.05·D (ETRTO, from memory), 3 % less, and lies between 3.0·D and π·D: that
// and the aspect make the range of every Result. A circumference measured on the
// vehicle, or the maker's revolutions a mile, is better than any code.
//
//	v = n/(i_gear·i_final)·C
package gearing
