package fit

import "testing"

// BenchmarkSolve is a door with gap and flush in three places on each of four edges, one corner of
// it beyond cure. The bay's bound is 2 ms.
func BenchmarkSolve(b *testing.B) {
	in := door(
		edge(Rear, 4, 0.5, gaps(4.9, 4.4, 4.1), flushes(-1.4, -0.9, -0.4)),
		edge(Front, 4, 0.5, gaps(3.2, 3.7, 2.1), flushes(0.2, 0.5, 1.1)),
		edge(Bottom, 5, 0.7, gaps(5.6, 6, 6.6), flushes(0.3, 0.1, -0.5)),
		edge(Top, 4, 0.7, gaps(3.1, 3, 2.7), flushes(0, -0.4, -0.9)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(in); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSolveDense is the same with nine readings an edge.
func BenchmarkSolveDense(b *testing.B) {
	var edges []EdgeReading
	for n, e := range []Edge{Rear, Front, Bottom, Top} {
		var g, f []float64
		for i := range 9 {
			g = append(g, 4+float64((i*7+n*5)%13-6)/8)
			f = append(f, float64((i*5+n*3)%11-5)/5)
		}
		edges = append(edges, edge(e, 4, 0.5, gaps(g...), flushes(f...)))
	}
	in := door(edges...)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Solve(in); err != nil {
			b.Fatal(err)
		}
	}
}
