package hear

import (
	"strconv"
	"strings"
)

var units19 = map[string]float64{
	"zero": 0, "nought": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
	"ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
}

// pronounOne are words after which «one» stands for a thing.
var pronounOne = wordSet("last first other this that which another left right ns os nearside offside new old rear front back clear second third big small same")

var fractionNames = map[string]float64{"eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16, "thirtysecond": 32, "thirtyseconds": 32}

var tens = map[string]float64{"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}

// numberAt reads the number that begins at token i: digits, fractions, words
// («three and a half», «one twenty», «point nine», «three quarters of an»).
// It returns the value and the index after it, or ok false.
func (r *reading) numberAt(i int) (value float64, next int, ok bool) {
	w := r.word(i)
	if w == "" {
		return 0, i, false
	}
	if (w == "minus" && r.word(i-1) != "or" && r.word(i-1) != "plus") || w == "negative" {
		if v, n, ok := r.numberAt(i + 1); ok {
			return -v, n, true
		}
		return 0, i, false
	}
	if isDigit(w[0]) || w[0] == '-' {
		v, ok := parseDigits(w)
		if !ok {
			return 0, i, false
		}
		next = i + 1
		// «1 1/2», «4 and a half»
		if f := r.word(next); strings.Contains(f, "/") && v == float64(int(v)) {
			if frac, ok := parseDigits(f); ok && frac < 1 {
				return v + frac, next + 1, true
			}
		}
		if add, n, ok := r.fractionTail(next); ok {
			return v + add, n, true
		}
		return v, next, true
	}
	switch w {
	case "half":
		// «half three» is a time, not a number.
		if _, digit := parseDigits(r.word(i + 1)); digit {
			return 0, i, false
		}
		if r.word(i+1) == "of" && (r.word(i+2) == "a" || r.word(i+2) == "an") {
			return 0.5, i + 3, true
		}
		if r.word(i+1) == "a" || r.word(i+1) == "an" {
			return 0.5, i + 2, true
		}
		return 0.5, i + 1, true
	case "quarter":
		if r.word(i+1) == "of" && (r.word(i+2) == "a" || r.word(i+2) == "an") {
			return 0.25, i + 3, true
		}
		return 0, i, false
	case "a", "an":
		switch r.word(i + 1) {
		case "half":
			return 0.5, skipOfA(r, i+2), true
		case "quarter":
			return 0.25, skipOfA(r, i+2), true
		case "third":
			return 1.0 / 3, skipOfA(r, i+2), true
		case "hundred":
			return r.hundreds(1, i+2)
		case "dozen":
			return 12, i + 2, true
		case "couple":
			if r.word(i+2) == "of" {
				return 2, i + 3, true
			}
			return 2, i + 2, true
		case "pair":
			if r.word(i+2) == "of" {
				return 2, i + 3, true
			}
			return 2, i + 2, true
		}
		return 0, i, false
	case "point":
		if d, n, ok := r.decimals(i + 1); ok {
			return d, n, true
		}
		return 0, i, false
	case "hundred":
		return r.hundreds(1, i+1)
	}
	if w == "one" && i > r.lo && pronounOne[r.word(i-1)] && !(r.word(i+1) == "and" && (r.word(i+2) == "a" || r.word(i+2) == "an")) {
		return 0, i, false // «the last one», «os one»
	}
	if u, isUnit := units19[w]; isUnit {
		if (w == "three" && (r.word(i+1) == "quarters" || r.word(i+1) == "quarter")) || (w == "two" && r.word(i+1) == "thirds") || (w == "one" && r.word(i+1) == "third") {
			v := map[string]float64{"three": 0.75, "two": 2.0 / 3, "one": 1.0 / 3}[w]
			return v, skipOfA(r, i+2), true
		}
		if div := fractionNames[r.word(i+1)]; div > 0 {
			return u / div, i + 2, true // «three sixteenths»
		}
		if r.word(i+1) == "hundred" {
			return r.hundreds(u, i+2)
		}
		if r.word(i+1) == "thousand" {
			if more, n, ok := r.numberAt(i + 2); ok && more > 0 && more < 1000 {
				return u*1000 + more, n, true // «two thousand eight hundred»
			}
			return u * 1000, i + 2, true
		}
		if r.word(i+1) == "point" {
			if d, n, ok := r.decimals(i + 2); ok {
				return u + d, n, true
			}
		}
		// «one twenty» is 120.
		if t, isTens := tens[r.word(i+1)]; isTens && u >= 1 && u <= 9 {
			v := u*100 + t
			if more, ok := units19[r.word(i+2)]; ok && more >= 1 && more <= 9 && r.word(i+3) != "and" {
				return v + more, i + 3, true
			}
			return v, i + 2, true
		}
		// «one ten» is 110, where it measures.
		if t, ok := units19[r.word(i+1)]; ok && t >= 10 && t <= 19 && u >= 1 && u <= 9 && (r.word(i-1) == "by" || r.word(i-1) == "x" || r.word(i+2) == "by" || r.word(i+2) == "x") {
			return u*100 + t, i + 2, true
		}
		if add, n, ok := r.fractionTail(i + 1); ok {
			return u + add, n, true
		}
		return u, i + 1, true
	}
	if t, isTens := tens[w]; isTens {
		v, n := t, i+1
		if more, ok := units19[r.word(n)]; ok && more >= 1 && more <= 9 {
			v, n = v+more, n+1
		}
		if r.word(n) == "point" {
			if d, m, ok := r.decimals(n + 1); ok {
				return v + d, m, true
			}
		}
		if add, m, ok := r.fractionTail(n); ok {
			return v + add, m, true
		}
		return v, n, true
	}
	return 0, i, false
}

// hundreds finishes a number of h hundreds at token i.
func (r *reading) hundreds(h float64, i int) (float64, int, bool) {
	v, n := h*100, i
	if r.word(n) == "and" {
		n++
	}
	if t, ok := tens[r.word(n)]; ok {
		v, n = v+t, n+1
		if u, ok := units19[r.word(n)]; ok && u >= 1 && u <= 9 {
			v, n = v+u, n+1
		}
		return v, n, true
	}
	if u, ok := units19[r.word(n)]; ok && n > i {
		return v + u, n + 1, true
	}
	return v, i, true
}

// decimals reads the digits said after «point».
func (r *reading) decimals(i int) (float64, int, bool) {
	digits, n := "", i
	for {
		w := r.word(n)
		if u, ok := units19[w]; ok && u <= 9 && len(digits) < 3 {
			if digits != "" && r.word(n+1) == "point" {
				break // «four point two, four point five»
			}
			digits += strconv.Itoa(int(u))
			n++
			if r.toks[n-1].stop || r.toks[n-1].end {
				break // «three point eight, four»
			}
			continue
		}
		if digits == "" && w != "" && isDigit(w[0]) && !strings.ContainsAny(w, "./") {
			digits = w
			n++
		}
		break
	}
	if digits == "" {
		return 0, i, false
	}
	v, err := strconv.ParseFloat("0."+digits, 64)
	return v, n, err == nil
}

// fractionTail reads «and a half», «and three quarters» at token i.
func (r *reading) fractionTail(i int) (float64, int, bool) {
	if r.word(i) != "and" {
		return 0, i, false
	}
	j := i + 1
	if r.word(j) == "a" {
		j++
	}
	switch r.word(j) {
	case "half":
		return 0.5, j + 1, true
	case "quarter":
		return 0.25, j + 1, true
	case "third":
		return 1.0 / 3, j + 1, true
	case "3/4":
		return 0.75, j + 1, true
	case "1/2":
		return 0.5, j + 1, true
	case "1/4":
		return 0.25, j + 1, true
	case "three", "3":
		if r.word(j+1) == "quarters" || r.word(j+1) == "quarter" {
			return 0.75, j + 2, true
		}
	}
	return 0, i, false
}

func skipOfA(r *reading, i int) int {
	if r.word(i) == "of" && (r.word(i+1) == "a" || r.word(i+1) == "an") {
		return i + 2
	}
	if r.word(i) == "a" || r.word(i) == "an" {
		return i + 1
	}
	return i
}

// parseDigits reads a number written in digits: 3, -3.5, 3/16.
func parseDigits(w string) (float64, bool) {
	start, slash, dots := 0, -1, 0
	if w != "" && w[0] == '-' {
		start = 1
	}
	if start >= len(w) || !isDigit(w[start]) || !isDigit(w[len(w)-1]) {
		return 0, false
	}
	for i := start; i < len(w); i++ {
		switch c := w[i]; {
		case isDigit(c):
		case c == '.' && dots == 0 && slash < 0:
			dots++
		case c == '/' && slash < 0 && dots == 0 && start == 0:
			slash = i
		default:
			return 0, false
		}
	}
	if slash > 0 {
		x, _ := strconv.ParseFloat(w[:slash], 64)
		y, _ := strconv.ParseFloat(w[slash+1:], 64)
		if y == 0 {
			return 0, false
		}
		return x / y, true
	}
	v, err := strconv.ParseFloat(w, 64)
	return v, err == nil
}
