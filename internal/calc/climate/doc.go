// Package climate answers «may I spray now»: the dew point of the air, how far
// the metal is above it, and the humidity. It is pure and may import unit only.
//
// # Model
//
// The saturation pressure of water vapour is the Magnus form with the constants
// of Sonntag (1990), which WMO-No. 8 (Guide to Instruments and Methods of
// Observation, Annex 4.B) gives for −45 to 60 °C over water:
//
//	es(t) = 6.112·exp(17.62·t/(243.12 + t)) hPa
//
// The dew point is the temperature at which es equals the vapour pressure of the
// air. Below freezing too it is counted over water, as hygrometers are.
//
// # Rules
//
// The metal must be at least 3 °C above the dew point (ISO 8502-4, ISO 12944-7);
// that humidity has a limit, and which, is common practice and the product's own
// affair. Too near the dew point is No; a humidity over the limit alone is Wait.
//
// The constants were read in libraries that cite WMO-No. 8, the 3 °C in articles
// that cite the two standards; numbers of annexes are from memory.
package climate
