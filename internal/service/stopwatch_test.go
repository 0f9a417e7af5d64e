package service_test

import (
	"testing"
	"time"
)

// stopwatch adds up how long calls take, for benchmarks.
type stopwatch struct {
	sum time.Duration
	n   int
}

func (w *stopwatch) time(call func() error, b *testing.B) {
	begin := time.Now()
	err := call()
	w.sum += time.Since(begin)
	w.n++
	if err != nil {
		b.Fatal(err)
	}
}
