package say

import (
	"encoding/json"
	"testing"
)

func TestSentence(t *testing.T) {
	for _, c := range []struct {
		s    Sentence
		want string
	}{
		{New("a", "no sales of your own yet"), "no sales of your own yet"},
		{New("b", "{{.Sales}} sales, {{.Low}} to {{.High}}", "Sales", 54, "Low", "2,150", "High", "2,900"), "54 sales, 2,150 to 2,900"},
		{New("c", "a hole {{.Missing}} stays as written"), "a hole {{.Missing}} stays as written"},
		{New("d", "a slip {{.X", "X", 1), "a slip {{.X"},
		{New("e", "{{.Name}}", "Name", `<b> & "quotes"`), `<b> & "quotes"`},
		{Sentence{}, ""},
	} {
		if got := c.s.String(); got != c.want {
			t.Errorf("%s says %q, want %q", c.s.Key, got, c.want)
		}
	}
	if !(Sentence{}).Empty() || New("a", "b").Empty() {
		t.Error("what is empty")
	}
}

func TestStringsShowsAnEmptyList(t *testing.T) {
	b, err := json.Marshal(Strings(nil))
	if err != nil || string(b) != "[]" {
		t.Errorf("no warnings are %s in JSON, %v", b, err)
	}
}

func TestOddPairsPanic(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a hole without a value was taken")
		}
	}()
	New("x", "{{.A}}", "A")
}
