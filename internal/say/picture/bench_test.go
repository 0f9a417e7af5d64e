package picture_test

import (
	"testing"

	"bayword/internal/say/picture"

	"github.com/stretchr/testify/require"
)

func BenchmarkFit(b *testing.B) {
	r := door()
	for b.Loop() {
		_, err := picture.Fit(r)
		require.NoError(b, err)
	}
}

func BenchmarkTightening(b *testing.B) {
	for b.Loop() {
		_, err := picture.Tightening("cylinder head nut", []float64{30, 50, 68}, 0)
		require.NoError(b, err)
	}
}

func BenchmarkOutline(b *testing.B) {
	finds := wholeEstate()
	for b.Loop() {
		_, err := picture.Outline("five-door estate", finds)
		require.NoError(b, err)
	}
}

func BenchmarkForecast(b *testing.B) {
	r := heronForecast()
	for b.Loop() {
		_, err := picture.Forecast(r)
		require.NoError(b, err)
	}
}
