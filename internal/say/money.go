package say

import (
	"math"
	"strconv"
	"strings"

	"bayword/internal/unit"
)

// signs stand before a price; any other currency shows its code.
var signs = map[string]string{"GBP": "£", "EUR": "€", "USD": "$"}

// money is «£336», «£336.50», «£1,554» or «CHF 336».
func money(v float64, currency string) string {
	sign, ok := signs[currency]
	if c := short(currency); !ok && c != "" {
		sign = c + " "
	}
	if v < 0 {
		return "-" + sign + coins(-v)
	}
	return sign + coins(v)
}

// coins prints an amount of money to the hundredth, whole ones without. Its
// thousands are set apart.
func coins(v float64) string {
	if !(math.Abs(v) < 1e12) { // not a number included
		return unit.Number(v)
	}
	v = math.Round(v*100) / 100
	decimals := 2
	if v == math.Trunc(v) {
		decimals = 0
	}
	whole, part, _ := strings.Cut(strconv.FormatFloat(v, 'f', decimals, 64), ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if part != "" {
		return whole + "." + part
	}
	return whole
}

// aboutMoney is a price as good as an estimate is: to the ten from 100 up.
func aboutMoney(v float64, currency string) string {
	if math.Abs(v) >= 100 {
		return money(math.Round(v/10)*10, currency)
	}
	return money(math.Round(v), currency)
}

// aboutHours is hours as good as an estimate is: whole from 10 up, halves below.
func aboutHours(v float64) string {
	if math.Abs(v) >= 10 {
		return unit.Number(math.Round(v))
	}
	return figure(math.Round(2*v) / 2)
}
