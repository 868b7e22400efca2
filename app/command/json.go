package command

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"

	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// bandLevels are the levels every band is shown at.
var bandLevels = []float64{0.5, 0.8, 0.95}

type levelJSON struct {
	Level float64     `json:"level"`
	Low   json.Number `json:"low"`
	High  json.Number `json:"high"`
}

type worthJSON struct {
	Currency          string      `json:"currency"`
	Level             float64     `json:"level"`
	Low               json.Number `json:"low"`
	Mid               json.Number `json:"mid"`
	High              json.Number `json:"high"`
	Bands             []levelJSON `json:"bands"`
	OwnSales          int         `json:"own_sales"`
	OutsideExperience bool        `json:"outside_experience"`
	Warnings          []string    `json:"warnings"`
}

func bandJSON(c money.Currency, b valuation.Band, level float64) worthJSON {
	low, high := b.Interval(level)
	out := worthJSON{
		Currency: c.Code(), Level: level, Low: amount(c, low), Mid: amount(c, b.Median()), High: amount(c, high),
		OwnSales: b.OwnSales(), OutsideExperience: b.Outside(), Warnings: say.Strings(b.Warnings()),
	}
	for _, l := range bandLevels {
		low, high := b.Interval(l)
		out.Bands = append(out.Bands, levelJSON{l, amount(c, low), amount(c, high)})
	}
	return out
}

// amount is a sum of money as a JSON number with the currency's own digits: 2150.00.
func amount(c money.Currency, a money.Amount) json.Number { return json.Number(c.Plain(a)) }

func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

func printWarnings(w io.Writer, warnings []say.Sentence) {
	if len(warnings) == 0 {
		return
	}
	fmt.Fprintln(w, "\nbear in mind")
	for _, s := range warnings {
		fmt.Fprintf(w, "- %s\n", s)
	}
}

func readLevel(text string) (float64, error) {
	level, err := strconv.ParseFloat(text, 64)
	if err != nil || !(level > 0 && level < 1) {
		return 0, fmt.Errorf("level: %q is not a share between 0 and 1, such as 0.8", text)
	}
	return level, nil
}
