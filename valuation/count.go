package valuation

import (
	"strconv"

	"skegworth/valuation/say"
)

// Count is a small number as a sentence writes it: "eight" times in ten. From thirteen on, and below
// nothing, it is figures.
func Count(n int) say.Sentence {
	switch n {
	case 0:
		return say.New("count.0", "none")
	case 1:
		return say.New("count.1", "one")
	case 2:
		return say.New("count.2", "two")
	case 3:
		return say.New("count.3", "three")
	case 4:
		return say.New("count.4", "four")
	case 5:
		return say.New("count.5", "five")
	case 6:
		return say.New("count.6", "six")
	case 7:
		return say.New("count.7", "seven")
	case 8:
		return say.New("count.8", "eight")
	case 9:
		return say.New("count.9", "nine")
	case 10:
		return say.New("count.10", "ten")
	case 11:
		return say.New("count.11", "eleven")
	case 12:
		return say.New("count.12", "twelve")
	}
	return say.New("count.figures", "{{.N}}", "N", strconv.Itoa(n))
}
