package shelf

import (
	"strings"
	"testing"

	"skegworth/app/widgets"
	"skegworth/costing"
)

func TestAPartIsTakenOffADonorAndPutBack(t *testing.T) {
	s, h, p := seat(t, true)
	donor := s.Shelf().Donors[0]
	p.Show(donor.Record.ID)
	before, err := s.DonorOf(donor.Record.ID)
	if err != nil {
		t.Fatal(err)
	}
	if got := p.frame.Second(); !strings.Contains(got, s.Currency().Format(donor.Left)+" of its cost is still on it") {
		t.Errorf("says %q", got)
	}
	if len(before.Taken) != 2 || before.Taken[0].To != "T. Merrow" || before.Taken[1].ToID == "" {
		t.Errorf("taken in the example: %+v", before.Taken)
	}
	h.Press("Take a part…")
	h.Press("Take it")
	if closed(h) || !reads(h, "Choose the motor it goes onto") {
		t.Error("a part for no motor was taken, or refused without a word")
	}
	to := s.Receivers()[2]
	asked[*widgets.Choice](h, 0).SetSelectedIndex(2)
	h.Type(asked[*widgets.Entry](h, 0), "cowl")
	h.Type(asked[*widgets.MoneyEntry](h, 0), "9999")
	h.Press("Take it")
	if closed(h) || !reads(h, "what is left on the donor") {
		t.Error("a part took more than was left")
	}
	h.Type(asked[*widgets.MoneyEntry](h, 0), "40")
	h.Press("Take it")
	after, err := s.DonorOf(donor.Record.ID)
	if err != nil || !closed(h) || after.Left != donor.Left-4000 || len(after.Taken) != 3 || after.Taken[0].ToID != to.ID {
		t.Fatalf("after taking the cowl: %+v, %v", after, err)
	}
	p.donor.table.Select(after.Taken[0].Line.ID)
	h.Press("Put the chosen part back")
	if back, err := s.DonorOf(donor.Record.ID); err != nil || back.Left != donor.Left {
		t.Errorf("with the cowl put back %d is left, before %d; %v", back.Left, donor.Left, err)
	}
	if r, err := s.Record(to.ID); err != nil || len(r.Lines) != len(to.Lines) {
		t.Error("the other motor still bears the cowl")
	}
	h.Press("Write off what is left")
	h.Press("Write it off")
	if len(s.Shelf().Donors) != 0 {
		t.Error("the donor is still on the shelf")
	}
	if h.Err != nil {
		t.Error(h.Err)
	}
}

func TestPremixIsWorkedOutAndBooked(t *testing.T) {
	s, h, p := seat(t, true)
	v := of(t, p, "two-stroke oil")
	p.mix.fold.SetOpen(true)
	if !reads(h, "Write how much fuel, and the ratio") {
		t.Error("what is needed is not said")
	}
	h.Type(p.mix.fuel, "6")
	h.Type(p.mix.ratio, "fifty")
	if p.mix.ratio.Problem() == nil {
		t.Error("a ratio of fifty was taken without a word")
	}
	h.Type(p.mix.ratio, "50:1")
	if !reads(h, "15.4 fl oz (454 mL) of oil in 6 gal of fuel is 50:1.") || !reads(h, "common practice is double the oil: 30.7 fl oz (908 mL)") {
		t.Error("the oil is not said")
	}
	h.Press("Book it on the motor")
	if !strings.Contains(p.mix.booked.Problem(), "Choose the motor") {
		t.Errorf("booked on no motor: %q", p.mix.booked.Problem())
	}
	motor := s.Receivers()[0]
	p.mix.motor.SetSelectedIndex(1)
	h.Type(p.mix.hours, "1")
	if !reads(h, motor.Name()+" burns about ") {
		t.Error("what a first run burns is not said")
	}
	h.Press("Mix that much")
	if p.mix.fuel.Value().Value != p.mix.run.Fuel || p.mix.which.Value() != "first" {
		t.Errorf("the mix is of %v, %s", p.mix.fuel.Value(), p.mix.which.Value())
	}
	if p.mix.oil.Value() != v.Good.ID {
		t.Error("the oil is not drawn from the good on show")
	}
	h.Press("Book it on the motor")
	oil, err := costing.Convert(p.mix.run.Fuel*2/50, "gal", "qt")
	if err != nil {
		t.Fatal(err)
	}
	after := now(t, s, v.Good.ID)
	if got := v.Stock.Quantity - after.Stock.Quantity; p.mix.booked.Problem() != "" || got < oil-1e-9 || got > oil+1e-9 || after.History[0].Move.MotorID != motor.ID {
		t.Errorf("drew %v qt, want %v; %q", got, oil, p.mix.booked.Problem())
	}
	if h.Said == "" {
		t.Error("nothing says that it was booked")
	}
}
