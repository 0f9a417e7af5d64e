package wiring

// fuses are the ratings fuses are sold in, in A: blade fuses to 40 A, then large
// blade and bolted ones (ISO 8820, from memory).
var fuses = []float64{3, 4, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300}

// fuseLoad is the part of its rating a fuse carries for long (common practice, no
// source).
const fuseLoad = 0.8

// Fuse is the smallest fuse in A that carries a continuous load in A: the load is
// at most 80 % of it. The wire must carry the fuse. It fails with *InputError.
func Fuse(loadA float64) (float64, error) {
	for _, f := range fuses {
		// A hair of tolerance, so that 12 A is the 80 % of 15 A that it is.
		if loadA > 0 && loadA <= fuseLoad*f*(1+1e-9) {
			return f, nil
		}
	}
	return 0, refuse("amps", loadA, "give more than 0 and at most %g A, 80 %% of the largest fuse", fuseLoad*fuses[len(fuses)-1])
}
