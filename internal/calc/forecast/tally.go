package forecast

import "math"

// tally keeps what the runs gave.
type tally struct {
	hours, finish []float64
	byStage       [][]float64
	starts, ends  [][]float64 // by task
	critical      []int       // by task
	stage         []float64   // of the run at hand
}

func newTally(tasks, stages, runs int) *tally {
	t := &tally{hours: make([]float64, runs), finish: make([]float64, runs), critical: make([]int, tasks), stage: make([]float64, stages)}
	rows := func(n int) [][]float64 {
		all := make([]float64, n*runs)
		out := make([][]float64, n)
		for i := range out {
			out[i] = all[i*runs : (i+1)*runs]
		}
		return out
	}
	t.byStage, t.starts, t.ends = rows(stages), rows(tasks), rows(tasks)
	return t
}

// take adds a run.
func (t *tally) take(s *sim, run int) {
	clear(t.stage)
	last, finish := -1, 0.0
	for i := range s.nodes {
		t.hours[run] += s.hours[i]
		t.stage[s.nodes[i].stage] += s.hours[i]
		t.starts[i][run], t.ends[i][run] = s.start[i], s.end[i]
		if last < 0 || s.end[i] > finish {
			last, finish = i, s.end[i]
		}
	}
	for k, h := range t.stage {
		t.byStage[k][run] = h
	}
	t.finish[run] = finish
	for ; last >= 0; last = s.cause[last] {
		t.critical[last]++
	}
}

// shares gives what half and four in five of the values are at or below.
func shares(values []float64) Share { return Share{quantile(values, 0.5), quantile(values, 0.8)} }

// quantile is the least value that a share p of the values are at or below
// (definition 1 of Hyndman and Fan, The American Statistician 50(4):361, 1996,
// from memory). It reorders the values; of none it is 0.
func quantile(values []float64, p float64) float64 {
	n := len(values)
	if n == 0 {
		return 0
	}
	k := max(int(math.Ceil(p*float64(n)-slack))-1, 0)
	lo, hi := 0, n-1
	for lo < hi { // Hoare's FIND
		pivot := values[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for values[i] < pivot {
				i++
			}
			for values[j] > pivot {
				j--
			}
			if i <= j {
				values[i], values[j] = values[j], values[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return values[k]
		}
	}
	return values[k]
}
