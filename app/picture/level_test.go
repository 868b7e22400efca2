package picture

import (
	"testing"

	"skegworth/app/look"
)

func TestLevelReadsOut(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	l := exampleLevel()
	w := shown(t, l, 480, 260)
	if got, want := hover(l, l.now().at(0.8, 0.79)), "bands of 80 % held 79 % of the time; counted over 54 sales"; got != want {
		t.Errorf("read out %q, want %q", got, want)
	}
	write(t, w.Canvas().Capture(), "hover-level.png")
}

// A level that kept its promise lies on the dashed line: both axes run alike.
func TestPromiseKeptIsTheDiagonal(t *testing.T) {
	inTheme(t, look.Theme{Mode: look.Light})
	l := NewLevelPicture()
	l.SetLevels([]Level{{0.5, 0.2, 10}, {0.8, 0.8, 10}, {0.95, 1, 10}})
	s := l.sheet(500, 300, 1, true)
	for _, v := range []float64{0.3, 0.5, 0.8, 1} {
		if s.x.share(v) != s.y.share(v) {
			t.Errorf("%v stands at %v of one axis and %v of the other", v, s.x.share(v), s.y.share(v))
		}
	}
	if s.y.least > 0.2 || s.y.most < 1 {
		t.Errorf("the axis from %v to %v leaves a level out", s.y.least, s.y.most)
	}
}
