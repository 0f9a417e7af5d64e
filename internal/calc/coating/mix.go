package coating

import (
	"math"
	"strconv"
	"strings"
)

// Volume is an amount of liquid in millionths of a litre.
type Volume int64

// Litre is one litre.
const Litre Volume = 1_000_000

// MaxVolume is the most that one sum may be about.
const MaxVolume = 10_000 * Litre

// VolumeOf is a number of litres as a Volume, to the nearest millionth. It fails
// with *InputError unless litres is 0.001 to 10,000.
func VolumeOf(litres float64) (Volume, error) {
	if err := within("amount_l", litres, 0.001, MaxVolume.Litres(), "litres"); err != nil {
		return 0, err
	}
	return Volume(math.Round(litres * float64(Litre))), nil
}

// Litres is the volume in litres.
func (v Volume) Litres() float64 { return float64(v) / float64(Litre) }

// Ratio is a mix by volume, the material first: 4:1:0.5. Its zero value is no
// ratio; get one by ParseRatio. Ratios compare with ==.
type Ratio struct {
	parts [maxParts]int64 // thousandths of a part
	n     int
}

const (
	maxParts    = 6
	ratioDigits = 3
	ratioScale  = 1000
)

const ratioForm = "give parts by volume, the material first, as in 2:1 or 4:1:0.5; one to 6 parts of 0.001 to 1000, at most three decimals"

// ParseRatio reads «2:1» or «4:1:0.5»; space around a part does not count, and «1»
// is a material used as it comes. It fails with *InputError.
func ParseRatio(s string) (Ratio, error) {
	// The longest that can be right is six parts of eight digits, with some space.
	if len(s) > 100 {
		return Ratio{}, refuse("mix", s, ratioForm)
	}
	var r Ratio
	for part := range strings.SplitSeq(s, ":") {
		v, ok := parsePart(strings.TrimSpace(part))
		if !ok || r.n == maxParts {
			return Ratio{}, refuse("mix", s, ratioForm)
		}
		r.parts[r.n] = v
		r.n++
	}
	return r, nil
}

// parsePart reads a plain decimal as thousandths, without a detour over binary
// fractions.
func parsePart(s string) (int64, bool) {
	whole, fraction, dotted := strings.Cut(s, ".")
	if whole == "" || len(whole) > 4 || len(fraction) > ratioDigits || dotted && fraction == "" {
		return 0, false
	}
	digits := whole + fraction + strings.Repeat("0", ratioDigits-len(fraction))
	if strings.Trim(digits, "0123456789") != "" {
		return 0, false
	}
	v, err := strconv.ParseInt(digits, 10, 64)
	return v, err == nil && v > 0 && v <= 1000*ratioScale
}

// String is the ratio as ParseRatio reads it.
func (r Ratio) String() string {
	var b strings.Builder
	for i, p := range r.parts[:r.n] {
		if i > 0 {
			b.WriteByte(':')
		}
		b.WriteString(strconv.FormatFloat(float64(p)/ratioScale, 'f', -1, 64))
	}
	return b.String()
}

// Parts is how many components are mixed.
func (r Ratio) Parts() int { return r.n }

// sum is all parts together, in thousandths.
func (r Ratio) sum() int64 {
	var sum int64
	for _, p := range r.parts[:r.n] {
		sum += p
	}
	return sum
}

// Split divides a total mixed volume into its components, in the order of the
// ratio. They sum to the total exactly; each is less than a millionth of a litre
// from its true share (largest remainder). It fails with *InputError.
func (r Ratio) Split(total Volume) ([]Volume, error) {
	if r.n == 0 {
		return nil, refuse("mix", "", ratioForm)
	}
	if total < Litre/1000 || total > MaxVolume {
		return nil, refuse("amount_l", total.Litres(), "give a total mixed volume of 0.001 to %g litres", MaxVolume.Litres())
	}
	return r.split(total), nil
}

func (r Ratio) split(total Volume) []Volume {
	// At most 1e10 · 1e6: far from the end of 64 bits.
	sum, left := r.sum(), total
	out := make([]Volume, r.n)
	var rest [maxParts]int64
	for i, p := range r.parts[:r.n] {
		share := int64(total) * p
		out[i], rest[i] = Volume(share/sum), share%sum
		left -= out[i]
	}
	for ; left > 0; left-- {
		most := 0
		for i := range r.n {
			if rest[i] > rest[most] {
				most = i
			}
		}
		out[most]++
		rest[most] = -1
	}
	return out
}

// Makes is the most ready-to-spray material that the stock of each component, in
// the order of the ratio, is enough for, and which component ends it.
// It fails with *InputError.
func (r Ratio) Makes(stock []Volume) (most Volume, limit int, err error) {
	if r.n == 0 {
		return 0, 0, refuse("mix", "", ratioForm)
	}
	if len(stock) != r.n {
		return 0, 0, refuse("with", len(stock), "the mix %s has %d components; give the stock of each", r, r.n)
	}
	sum := r.sum()
	for i, have := range stock {
		if have > MaxVolume {
			return 0, 0, refuse("on_hand", have.Litres(), "give at most %g litres", MaxVolume.Litres())
		}
		if m := Volume(int64(max(have, 0)) * sum / r.parts[i]); i == 0 || m < most {
			most, limit = m, i
		}
	}
	return most, limit, nil
}

// Mix is what to pour for a total mixed volume.
type Mix struct {
	Ratio       Ratio
	Total       Volume
	Parts       []Volume // in the order of the ratio; they sum to Total
	Assumptions []string
	Source      string
	Caution     string
}

// PlanMix says what to pour of each component for a total mixed volume. It fails
// with *InputError.
func PlanMix(r Ratio, total Volume) (Mix, error) {
	parts, err := r.Split(total)
	if err != nil {
		return Mix{}, err
	}
	return Mix{
		Ratio: r, Total: total, Parts: parts,
		Assumptions: []string{"parts by volume, the material first; the amount is the total mixed volume"},
		Source:      "arithmetic on the product's own mix " + r.String(),
		Caution:     Isocyanate,
	}, nil
}

// Isocyanate is the usual caution with two-pack paint; common practice, no source.
const Isocyanate = "Hardeners of two-pack paint can hold isocyanate: air-fed mask, extraction or booth, covered skin; a filter mask is not enough. The product's safety sheet comes first."
