package main

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// Every figure of the Prospects screen stands in the JSON, under names that others may rely on.
func TestOffersInTheTerminal(t *testing.T) {
	home := t.TempDir()
	shop := filepath.Join(home, "shop.skegworth")
	must(t, home, "example", shop)
	var o struct {
		Currency string
		Asking   float64
		Top      float64 `json:"top_price"`
		Limit    string
		Sentence string
		Exits    []struct {
			Exit, Limit          string
			Low, Mid, High, Cost float64
			Hours, Profit        float64
			Holding              float64
			PerHour              *float64 `json:"per_hour"`
			Loss                 float64  `json:"chance_of_loss"`
			Days                 int
			Top                  float64 `json:"top_price"`
		}
		Checks []struct {
			Check       string
			Worth, Cost float64
		}
		Hinges []struct {
			Input, Words string
			Low, High    *float64
		}
		Capacity struct {
			Cash   *float64 `json:"cash_free"`
			Places *int
			Taken  int     `json:"places_taken"`
			Queued float64 `json:"hours_queued"`
		}
		Warnings []string
	}
	decode(t, must(t, home, "offer", shop, "Halvard 90", "--json"), &o)
	if o.Currency != "USD" || o.Asking != 1400 || o.Top <= 0 || o.Limit == "" || !strings.HasPrefix(o.Sentence, "Pay up to") || len(o.Exits) != 5 {
		t.Fatalf("%+v", o)
	}
	best := 0.0
	for _, x := range o.Exits {
		if x.Low > x.Mid || x.Mid > x.High || x.Cost < 0 || x.Holding <= 0 || x.Days <= 0 || x.Loss < 0 || x.Loss > 1 || x.Limit == "" || x.Exit == "" {
			t.Errorf("%+v", x)
		}
		if (x.PerHour == nil) != (x.Hours == 0) {
			t.Errorf("%s: %v hours, an hour at %v", x.Exit, x.Hours, x.PerHour)
		}
		best = max(best, x.Top)
	}
	if best != o.Top {
		t.Errorf("the best way out bears %v, the answer is %v", best, o.Top)
	}
	if len(o.Checks) == 0 || len(o.Hinges) < 3 || o.Hinges[0].Low == nil && o.Hinges[0].High == nil || len(o.Warnings) == 0 {
		t.Errorf("checks %v, hinges %v, warnings %v", o.Checks, o.Hinges, o.Warnings)
	}
	if o.Capacity.Cash == nil || o.Capacity.Places == nil || o.Capacity.Taken == 0 || o.Capacity.Queued <= 0 {
		t.Errorf("capacity %+v", o.Capacity)
	}
	var lot struct {
		Top     float64 `json:"top_price"`
		Asking  float64
		Choices []struct {
			Best bool
			Top  float64 `json:"top_price"`
		}
		Members []struct{ Carries float64 }
	}
	decode(t, must(t, home, "offer", shop, "lowfield clear-out", "--json"), &lot)
	sum := 0.0
	for _, m := range lot.Members {
		sum += m.Carries
	}
	if len(lot.Choices) < 5 || lot.Choices[0].Top != lot.Top || math.Round(100*sum) != math.Round(100*lot.Asking) {
		t.Errorf("%+v, carried %v", lot, sum)
	}
	var all struct {
		Prospects []struct{ Motor string }
		Lots      []struct{ Lot string }
	}
	decode(t, must(t, home, "offer", shop, "--json"), &all)
	if len(all.Prospects) < 5 || len(all.Lots) != 1 {
		t.Errorf("%+v", all)
	}
	if text := must(t, home, "offer", shop); !strings.Contains(text, "Lowfield clear-out") || !strings.Contains(text, "places are taken") {
		t.Error(text)
	}
}
