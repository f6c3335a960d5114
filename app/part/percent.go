package part

import (
	"math"
	"strconv"
)

// Percent writes a probability for a person. The ends are never rounded to
// certainty: what is nearly certain reads "over 99 %".
func Percent(p float64) string {
	switch {
	case math.IsNaN(p):
		return "not known"
	case p <= 0:
		return "0 %"
	case p < 0.01:
		return "under 1 %"
	case p >= 1:
		return "100 %"
	case p > 0.99:
		return "over 99 %"
	}
	return strconv.Itoa(int(math.Round(p*100))) + " %"
}

// Minutes writes a time of work for a person.
func Minutes(m float64) string {
	n := int(math.Round(m))
	switch {
	case n < 1:
		return "under 1 min"
	case n < 90:
		return strconv.Itoa(n) + " min"
	case n%60 == 0:
		return strconv.Itoa(n/60) + " h"
	}
	return strconv.Itoa(n/60) + " h " + strconv.Itoa(n%60) + " min"
}

// Times says how far a finding of so many bits moved a fault's odds.
func Times(bits float64) string {
	factor := math.Exp2(math.Abs(bits))
	var n string
	switch {
	case math.IsNaN(bits):
		return "changes it by an unknown amount"
	case factor < 1.05:
		return "hardly changes it"
	case factor < 9.95:
		n = strconv.FormatFloat(math.Round(factor*10)/10, 'f', -1, 64)
	case factor < 1000:
		n = strconv.Itoa(int(math.Round(factor)))
	default:
		n = "over 1000"
	}
	if bits < 0 {
		return "makes it " + n + " times less likely"
	}
	return "makes it " + n + " times likelier"
}

// Share writes a small fixed share without rounding it to whole per cent.
func Share(p float64) string { return strconv.FormatFloat(p*100, 'f', -1, 64) + " %" }
