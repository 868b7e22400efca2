package widgets

import (
	"errors"
	"fmt"
	"testing"

	"skegworth/valuation"
	"skegworth/valuation/say"
)

func TestSay(t *testing.T) {
	for _, c := range []struct {
		name string
		in   say.Sentence
		want string
	}{
		{"nothing", say.Sentence{}, ""},
		{"no hole", say.New("test.plain", "No sales yet."), "No sales yet."},
		{"a hole", say.New("test.hole", "{{.Sales}} sales", "Sales", 54), "54 sales"},
		{"no key", say.New("", "{{.N}} left", "N", 3), "3 left"},
		{"a sentence in a hole", say.New("test.nested", "it {{.State}}", "State", valuation.Dead.Label()), "it does not run"},
	} {
		if got := Say(c.in); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestSayAllLeavesOutTheSilent(t *testing.T) {
	got := SayAll([]say.Sentence{say.New("test.a", "a"), {}, say.New("test.b", "b")})
	if fmt.Sprint(got) != "[a b]" {
		t.Errorf("got %v", got)
	}
}

func TestErrorText(t *testing.T) {
	var m valuation.Motor
	bad := m.Set("year", "soon")
	for _, c := range []struct {
		in   error
		want string
	}{
		{nil, ""},
		{errors.New("read a date: no"), "Read a date: no"},
		{bad, `"soon" is not a year; write 2003 or about 2003`},
		{fmt.Errorf("save the motor: %w", bad), `"soon" is not a year; write 2003 or about 2003`},
		{errors.New("écrire"), "Écrire"},
	} {
		if got := ErrorText(c.in); got != c.want {
			t.Errorf("%v: got %q, want %q", c.in, got, c.want)
		}
	}
}

func TestWholeSentence(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"no sales of your own yet", "No sales of your own yet."},
		{"No parts are planned.", "No parts are planned."},
		{"looks 1 to 5 (condition)", "Looks 1 to 5 (condition)."},
		{"élan", "Élan."},
		{"Is it there?", "Is it there?"},
		{"", ""},
	} {
		if got := WholeSentence(c.in); got != c.want {
			t.Errorf("%q became %q, want %q", c.in, got, c.want)
		}
	}
}
