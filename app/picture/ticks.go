package picture

import (
	"math"
	"strconv"

	"gonum.org/v1/plot"

	"skegworth/valuation/day"
)

// A scale of ticks is offered from fine to coarse, and the first that fits without its labels touching
// is taken.

// steps are 1, 2 and 5 times the powers of ten, from about span/most upward to the first beyond span.
func steps(span float64, most int) []float64 {
	if !(span > 0) || math.IsInf(span, 0) {
		return nil
	}
	var out []float64
	for m := math.Floor(math.Log10(span / float64(most))); ; m++ {
		for _, digit := range []float64{1, 2, 5} {
			step := digit * math.Pow(10, m)
			if m < 0 {
				step = digit / math.Pow(10, -m) // 0.1, not 0.10000000000000001 and its like
			}
			if step > span {
				return append(out, step)
			}
			if span/step <= float64(most) {
				out = append(out, step)
			}
		}
	}
}

// niceStep is the smallest step of 1, 2 or 5 times a power of ten that cuts span into at most so many.
func niceStep(span float64, most int) float64 {
	if s := steps(span, most); len(s) > 0 {
		return s[0]
	}
	return 1
}

// every gives the multiples of step from least to most; none where they are so many, or numbers so large,
// that they cannot be told apart.
func every(step, least, most float64, label func(float64) string) []plot.Tick {
	if (most-least)/step > 1000 || math.Max(math.Abs(least), math.Abs(most))/step > 1e12 {
		return nil
	}
	var ticks []plot.Tick
	for i := math.Ceil(least/step - 1e-9); i*step <= most+step*1e-9; i++ {
		v := i*step + 0 // never -0
		ticks = append(ticks, plot.Tick{Value: v, Label: label(v)})
	}
	return ticks
}

// linearTicks are for a plain axis; no step is finer than finest.
func linearTicks(least, most, finest float64, count int, label func(float64) string, fits func([]plot.Tick) bool) []plot.Tick {
	var last []plot.Tick
	for _, step := range steps(most-least, count) {
		if step < finest {
			continue
		}
		ticks := every(step, least, most, label)
		if len(ticks) == 0 {
			break
		}
		if last = ticks; fits(ticks) {
			return ticks
		}
	}
	return last[:min(len(last), 1)]
}

// perDecade are the figures marked within each power of ten, from many to few, and then how many powers
// of ten go by from one mark to the next.
var perDecade = []struct {
	figures []float64
	decades float64
}{
	{[]float64{1, 1.5, 2, 3, 4, 5, 6, 8}, 1}, {[]float64{1, 2, 3, 5}, 1}, {[]float64{1, 2, 5}, 1}, {[]float64{1, 3}, 1}, {[]float64{1}, 1},
	{[]float64{1}, 2}, {[]float64{1}, 3}, {[]float64{1}, 6}, {[]float64{1}, 12}, {[]float64{1}, 48},
}

// logTicks are for a logarithmic axis; both ends are above 0. A short one is marked like a plain one.
func logTicks(least, most, finest float64, label func(float64) string, fits func([]plot.Tick) bool) []plot.Tick {
	if most/least < 4 {
		return linearTicks(least, most, finest, 8, label, fits)
	}
	var last []plot.Tick
	for _, scale := range perDecade {
		var ticks []plot.Tick
		for m := math.Floor(math.Log10(least)/scale.decades) * scale.decades; m <= math.Ceil(math.Log10(most)); m += scale.decades {
			for _, f := range scale.figures {
				v := f * math.Pow(10, m)
				if v >= least*(1-1e-9) && v <= most*(1+1e-9) && v >= finest {
					ticks = append(ticks, plot.Tick{Value: v, Label: label(v)})
				}
			}
		}
		if len(ticks) == 0 {
			break
		}
		if last = ticks; fits(ticks) {
			return ticks
		}
	}
	return last[:min(len(last), 1)]
}

// periodTicks mark where a new month, quarter, half-year or year begins in a run of days; at[i] is where
// the i-th stands on the axis. The first of a year carries the year, and so does the very first, so that
// no month stands without one.
func periodTicks(days []day.Day, at []float64, fits func([]plot.Tick) bool) []plot.Tick {
	for _, months := range []int{1, 3, 6, 12, 24, 60, 120, 240, 600, 1200} {
		var ticks []plot.Tick
		period, year := -1, 0
		for i, d := range days {
			p := (d.Year()*12 + int(d.Month()) - 1) / months
			if d == 0 || p == period {
				continue
			}
			label := strconv.Itoa(d.Year())
			switch {
			case months >= 12:
			case len(ticks) == 0:
				label = MonthName(d.Month()) + " " + label
			case d.Year() == year:
				label = MonthName(d.Month())
			}
			period, year = p, d.Year()
			ticks = append(ticks, plot.Tick{Value: at[i], Label: label})
		}
		if fits(ticks) {
			return ticks
		}
	}
	return nil
}
