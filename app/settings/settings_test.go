package settings

import (
	"strings"
	"testing"

	"skegworth/app/screentest"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

func TestTheAnchorLeadsToTheWholePrior(t *testing.T) {
	s, h := screentest.Shop(t, false), screentest.Seat(t)
	h.Put(s, New(s, h))
	h.Press("Read all that is believed before any sale")
	if h.Screen != widgets.RecordScreen || h.ID != widgets.PriorPart {
		t.Errorf("it goes to %q on %q", h.Screen, h.ID)
	}
}

// Every amount, number and word of the settings is saved as typed, and shown again.
func TestSettingsAreSavedAsTyped(t *testing.T) {
	s, h := screentest.Shop(t, false), screentest.Seat(t)
	p := New(s, h)
	h.Put(s, p)
	amounts := screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Content())
	if len(amounts) != 8 {
		t.Fatalf("%d amounts", len(amounts))
	}
	for i, text := range []string{"1,300", "400", "35", "30", "0.70", "4.50", "0.25", "5,000"} {
		h.Type(amounts[i], text)
	}
	numbers := screentest.Fields[*widgets.NumberEntry](h.Win.Canvas().Content())
	h.Type(numbers[0], "12.5")
	h.Type(numbers[1], "2")
	for i, text := range []string{"10", "7.5", "6", "9", "14"} { // buyer's fee, tax, cost of money, places, hours a week
		h.Type(numbers[2+i], text)
	}
	got := s.Settings()
	if got.SpaceADay != 25 || got.Cash != 500000 || got.CashOn != s.Today() || got.BuyerFeeRate != 0.1 || got.PurchaseTaxRate != 0.075 ||
		got.CostOfMoney != 0.06 || got.Places != 9 || got.HoursAWeek != 14 {
		t.Errorf("saved %+v", got)
	}
	if got.Anchor != 130000 || got.Profit != 40000 || got.PerHour != 3500 || got.OwnRate != 3000 || got.TripRate != 70 || got.PerWorkHour != 450 || got.FeeRate != 0.125 || got.HalfLife != 2 {
		t.Errorf("saved %+v", got)
	}
	if answer := p.frame.Answer(); !strings.Contains(answer, "400 before your own time and 35 an hour") {
		t.Errorf("the answer says %q", answer)
	}
	h.Type(numbers[1], "0")
	if s.Settings().HalfLife != 2 {
		t.Errorf("a half-life of %v was saved", s.Settings().HalfLife)
	}
	for _, c := range screentest.Fields[*widgets.Choice](h.Win.Canvas().Content()) {
		if c.Value() == "hp" {
			h.Letter(c, 'k')
		}
		if c.Value() == "1" {
			h.Letter(c, 'A')
		}
		if c.Value() == "9" {
			h.Letter(c, 'N')
		}
	}
	if got := s.Settings(); got.SeasonFrom != 3 || got.SeasonTo != 11 {
		t.Errorf("the season runs from month %d to %d", got.SeasonFrom, got.SeasonTo)
	}
	if got := s.Settings(); got.PowerUnit != "kW" || got.FiscalMonth != 4 {
		t.Errorf("power in %s, the year from month %d", got.PowerUnit, got.FiscalMonth)
	}
}

func TestCurrencyOfAnEmptyShopOnly(t *testing.T) {
	s, h := screentest.Shop(t, false), screentest.Seat(t)
	if err := s.ChangeCurrency("JPY"); err != nil || s.Currency().Code() != "JPY" || s.Settings().OwnRate != 25 {
		t.Errorf("%v: %s, an hour at %d", err, s.Currency().Code(), s.Settings().OwnRate)
	}
	if err := s.ChangeCurrency("dollars"); err == nil {
		t.Error("dollars was taken for a currency")
	}
	if _, err := s.AddProspect(); err != nil {
		t.Fatal(err)
	}
	if err := s.ChangeCurrency("EUR"); err == nil {
		t.Error("the currency changed under written amounts")
	}
	h.Put(s, New(s, h))
}

func TestScaleIsKeptAndShownAtOnce(t *testing.T) {
	s, h := screentest.Shop(t, false), screentest.Seat(t)
	p := New(s, h)
	h.Put(s, p)
	before := h.Win.Canvas().Content().MinSize().Height
	if err := p.prefer("scale", "2"); err != nil {
		t.Fatal(err)
	}
	if s.Preference("scale") != "2" {
		t.Error("the size was not kept")
	}
	if after := p.frame.MinSize().Height; after < before {
		t.Errorf("at twice the size the screen wants %v of %v", after, before)
	}
}

func TestAnOwnRateFromADayOn(t *testing.T) {
	s, h := screentest.Shop(t, false), screentest.Seat(t)
	h.Put(s, New(s, h))
	before := s.Settings().OwnRate
	h.Press("Another own rate from a day on…")
	entry := screentest.Fields[*widgets.MoneyEntry](h.Win.Canvas().Overlays().Top())[0]
	h.Type(entry, "31")
	h.Press("Keep it")
	if s.Settings().OwnRate != 3100 || s.OwnRate(s.Today()-1) != before {
		t.Errorf("today %d, yesterday %d", s.Settings().OwnRate, s.OwnRate(s.Today()-1))
	}
	if len(s.Rates()) != 1 {
		t.Errorf("rates %v", s.Rates())
	}
}

func TestTaxFromADayOn(t *testing.T) {
	s, h := screentest.Shop(t, false), screentest.Seat(t)
	h.Put(s, New(s, h))
	h.Press("Tax from a day on…")
	h.Press("Keep it")
	if h.Win.Canvas().Overlays().Top() == nil || len(s.TaxRules()) != 0 {
		t.Fatalf("a rule without a rate was kept: %v", s.TaxRules())
	}
	top := h.Win.Canvas().Overlays().Top()
	h.Type(screentest.Fields[*widgets.NumberEntry](top)[0], "7.75")
	h.Press("Keep it")
	rules := s.TaxRules()
	if len(rules) != 1 || rules[0].Scheme != costing.TaxAdded || rules[0].Rate != 0.0775 || rules[0].From != s.Today() {
		t.Fatalf("kept %+v", rules)
	}
	h.Press("Tax from a day on…")
	top = h.Win.Canvas().Overlays().Top()
	h.Letter(screentest.Fields[*widgets.Choice](top)[0], 'o')
	h.Type(screentest.Fields[*widgets.NumberEntry](top)[0], "20")
	h.Type(screentest.Fields[*widgets.DateEntry](top)[0], "2020-01-01")
	h.Press("Keep it")
	if rules = s.TaxRules(); len(rules) != 2 || rules[0].Scheme != costing.TaxMargin || rules[0].Rate != 0.2 {
		t.Fatalf("kept %+v", rules)
	}
	h.Press("Remove the chosen rule")
	if len(s.TaxRules()) != 2 {
		t.Error("a rule went with none chosen")
	}
	table := screentest.Fields[*widgets.Table[costing.TaxRule]](h.Win.Canvas().Content())[0]
	table.Select(rules[1].ID)
	h.Press("Remove the chosen rule")
	if rules = s.TaxRules(); len(rules) != 1 || rules[0].Scheme != costing.TaxMargin {
		t.Errorf("left %+v", rules)
	}
}

func TestPaperIsChosen(t *testing.T) {
	s, h := screentest.Shop(t, false), screentest.Seat(t)
	h.Put(s, New(s, h))
	for _, want := range []shop.PaperFormat{shop.PaperFormats[0], shop.PaperFormats[1]} {
		for _, c := range screentest.Fields[*widgets.Choice](h.Win.Canvas().Content()) {
			if c.Value() == string(s.PaperChosen()) && len(c.Options) == 3 && c.Options[1] == string(shop.PaperFormats[0]) {
				h.Letter(c, rune(string(want)[0]))
			}
		}
		if s.PaperSize() != want {
			t.Errorf("prints on %s, want %s", s.PaperSize(), want)
		}
	}
}
