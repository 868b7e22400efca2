package costing_test

import (
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/day"
)

func TestEnteredAndLeft(t *testing.T) {
	d := func(n int) day.Day { return day.Day(n) }
	lines := []costing.Line{{Kind: costing.Trip, On: 5}, {Kind: costing.Purchase, On: 9}, {Kind: costing.PartNew, On: 30}}
	for _, c := range []struct {
		name         string
		r            costing.Record
		bought       bool
		entered      day.Day
		enteredKnown bool
		left         day.Day
		by           costing.Way
		leftKnown    bool
	}{
		{"on the bench", costing.Record{Stage: costing.Bench, BoughtOn: 10, Lines: lines}, true, d(10), true, 0, costing.StillHere, true},
		{"by its purchase line", costing.Record{Stage: costing.Bench, Lines: lines}, true, d(9), false, 0, costing.StillHere, true},
		{"by its first line", costing.Record{Stage: costing.Bench, Lines: lines[2:], Sessions: []costing.Session{{On: 28}}}, true, d(28), false, 0, costing.StillHere, true},
		{"by nothing", costing.Record{Stage: costing.Bench}, true, d(1), false, 0, costing.StillHere, true},
		{"sold", costing.Record{Stage: costing.Sold, BoughtOn: 10, Sale: &costing.Sale{Sold: 40}}, true, d(10), true, 40, costing.BySale, true},
		{"sold before it was bought", costing.Record{Stage: costing.Sold, BoughtOn: 50, Sale: &costing.Sale{Sold: 40}}, true, d(40), true, 40, costing.BySale, true},
		{"sold on no day", costing.Record{Stage: costing.Sold, BoughtOn: 10, Sale: &costing.Sale{}}, true, d(10), true, 0, costing.StillHere, false},
		{"kept", costing.Record{Stage: costing.Kept, BoughtOn: 10, LeftOn: 20}, true, d(10), true, 20, costing.ByKeeping, true},
		{"lost on no day", costing.Record{Stage: costing.Lost, BoughtOn: 10, Lines: lines}, true, d(10), true, 30, costing.ByLoss, false},
		{"broken", costing.Record{Stage: costing.Broken, BoughtOn: 10, LeftOn: 20}, true, d(10), true, 0, costing.StillHere, true},
		{"prospect", costing.Record{Stage: costing.Prospect, Lines: lines}, false, d(9), false, 0, costing.StillHere, true},
		{"history", costing.Record{Stage: costing.History, Sale: &costing.Sale{Sold: 40}}, false, d(1), false, 0, costing.StillHere, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.r.EverBought(); got != c.bought {
				t.Errorf("bought %v", got)
			}
			if on, known := c.r.Entered(); on != c.entered || known != c.enteredKnown {
				t.Errorf("entered %d %v, want %d %v", on, known, c.entered, c.enteredKnown)
			}
			if on, by, known := c.r.Left(); on != c.left || by != c.by || known != c.leftKnown {
				t.Errorf("left %d by %q %v, want %d by %q %v", on, by, known, c.left, c.by, c.leftKnown)
			}
		})
	}
}

func TestEveryWordHasItsOwnName(t *testing.T) {
	keys, names := map[string]bool{}, map[string]bool{}
	check := func(prefix, word, key, name string) {
		t.Helper()
		if key != prefix+word || name == "" || name == word && strings.Contains(word, "-") {
			t.Errorf("%s has the key %q and the name %q", word, key, name)
		}
		if keys[key] || names[prefix+name] {
			t.Errorf("%s shares the key %q or the name %q", word, key, name)
		}
		keys[key], names[prefix+name] = true, true
	}
	for _, k := range costing.Kinds {
		check("kind.", string(k), k.Name().Key, k.Name().String())
	}
	for _, g := range costing.Groups {
		check("group.", string(g), g.Name().Key, g.Name().String())
	}
	for _, s := range costing.Stages {
		check("stage.", string(s), s.Name().Key, s.Name().String())
	}
	for _, m := range costing.MoveKinds {
		check("move.", string(m), m.Name().Key, m.Name().String())
	}
	if got := costing.Kind("teleported").Name().String(); got != "teleported" {
		t.Errorf("a kind of a newer file is called %q", got)
	}
}

func TestSettings(t *testing.T) {
	s := costing.DefaultSettings()
	if err := s.Check(); err != nil {
		t.Errorf("the defaults: %v", err)
	}
	if got := s.TripCost(12.5); got != 500 { // 12.5 mi at 0.40
		t.Errorf("a trip costs %d", got)
	}
	s.Language = "de"
	c, err := s.Money()
	if err != nil || c.Format(123456) != "1.234,56" {
		t.Errorf("%v %v", c.Format(123456), err)
	}
	for field, change := range map[string]func(*costing.Settings){
		"fee rate":  func(s *costing.Settings) { s.FeeRate = 1 },
		"risk":      func(s *costing.Settings) { s.Risk = -0.1 },
		"trip rate": func(s *costing.Settings) { s.TripRate = -1 },
		"own rate":  func(s *costing.Settings) { s.OwnRate = -1 },
		"currency":  func(s *costing.Settings) { s.Currency = "gold" },
	} {
		bad := costing.DefaultSettings()
		change(&bad)
		if err := bad.Check(); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("want an error naming %q, got %v", field, err)
		}
	}
	s.Currency = "gold"
	if got := s.MoneyOrNone(); got.Code() != "XXX" || got.Format(150) != "1.50" {
		t.Errorf("no currency is %s, %s", got.Code(), got.Format(150))
	}
	s.Currency, s.Language = "USD", "not a language"
	if c, err = s.Money(); err != nil || c.Format(150000) != "1,500.00" {
		t.Errorf("%v %v", c.Format(150000), err)
	}
}
