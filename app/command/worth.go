package command

import (
	"fmt"
	"math"
	"strings"

	"github.com/alecthomas/kong"

	"skegworth/app/shop"
	"skegworth/data/intake"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// motorFlags are the words of the intake header. All are text here: valuation reads them, so that a
// terminal and a file take the same words and refuse with the same sentences.
type motorFlags struct {
	Power    string `group:"motor" placeholder:"90" help:"Rated power, hp; or with its unit: 67kW."`
	Year     string `group:"motor" placeholder:"2003" help:"Model year."`
	Stroke   string `group:"motor" placeholder:"two" help:"two or four."`
	State    string `group:"motor" placeholder:"rebuilt" help:"parts, dead, runs, serviced or rebuilt."`
	Make     string `group:"motor" help:"Maker."`
	Model    string `group:"motor" help:"Model."`
	Fuel     string `group:"motor" help:"carburettor, injected or direct."`
	Shaft    string `group:"motor" help:"Shaft length in inches."`
	Start    string `group:"motor" help:"pull or electric."`
	Lift     string `group:"motor" help:"manual, assist or power."`
	Steering string `group:"motor" help:"tiller or remote."`
	Water    string `group:"motor" help:"fresh, salt or mixed."`
	Hours    string `group:"motor" help:"Engine hours run."`
	Looks    string `group:"motor" aliases:"condition" help:"Appearance, 1 to 5."`
	Oil      string `group:"motor" help:"Oil injection: working, removed or none."`

	Cylinders     string `group:"motor" help:"Cylinders."`
	Compression   string `group:"motor" help:"Readings per cylinder, psi: 118,121,95."`
	Turns         string `group:"motor" help:"Turns by hand: yes or no."`
	Submerged     string `group:"motor" help:"Was under water once: yes or no."`
	LowerUnit     string `group:"motor" help:"Lower unit there and complete: yes or no."`
	Welded        string `group:"motor" help:"Welded or sleeved: yes or no."`
	PartsSupplied string `group:"motor" help:"Parts still supplied: yes or no."`
	Plate         string `group:"motor" help:"Serial plate present: yes or no."`
	ShownRunning  string `group:"motor" help:"Shown running at the sale: yes or no."`
	Controls      string `group:"motor" help:"Controls and harness included: yes or no."`
	Propeller     string `group:"motor" help:"Propeller included: yes or no."`
	Tank          string `group:"motor" help:"Tank included: yes or no."`
	Helm          string `group:"motor" help:"Steering gear included: yes or no."`
	Warranty      string `group:"motor" help:"Warranty given, days."`
}

type worthWord struct {
	Shop string `arg:"" help:"Path of the shop file."`
	motorFlags
	On     string `placeholder:"DATE" help:"Day of the sale, as 2026-04-30; today if not given. For a day gone by it answers as if asked then."`
	Level  string `default:"0.8" help:"How often the range should hold, between 0 and 1."`
	Motors string `placeholder:"FILE" help:"A CSV or XLSX file of motors instead: a band a row."`
	JSON   bool   `name:"json" help:"Print JSON."`
}

func (w *worthWord) Run(p Program, c *kong.Context) error {
	level, err := readLevel(w.Level)
	if err != nil {
		return err
	}
	var motor valuation.Motor
	given := false
	for _, flag := range c.Selected().Flags {
		if flag.Group == nil || flag.Group.Key != "motor" || !flag.Set {
			continue
		}
		given = true
		if err := motor.Set(flag.Name, flag.Target.String()); err != nil {
			return err
		}
	}
	if given && w.Motors != "" {
		return fmt.Errorf("motors: a file of motors and a motor of the command line cannot be valued together")
	}
	on, err := onFlag{w.On}.day()
	if err != nil {
		return err
	}
	s, err := shop.Open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	if on == 0 {
		on = s.Today()
	}
	if w.Motors != "" {
		return w.many(p, s, level, on)
	}
	if motor.Power == 0 {
		return fmt.Errorf("power: say the rated power, as in --power 90")
	}
	if motor.Year == 0 {
		return fmt.Errorf("year: say the model year, as in --year 2003")
	}
	if motor.Stroke == "" {
		return fmt.Errorf("stroke: say two or four, as in --stroke two")
	}
	askedOn(s, on)
	band, err := s.Worth(motor, on)
	if err != nil {
		return err
	}
	if w.JSON {
		return printJSON(p.Out, bandJSON(s.Currency(), band, level))
	}
	return p.printWorth(s, motor, band, level, on)
}

// askedOn has the shop answer as if asked on a day gone by; of a day to come it is asked today.
func askedOn(s *shop.Shop, on day.Day) {
	s.AsOf(0)
	if on < s.Today() {
		s.AsOf(on)
	}
}

func (w *worthWord) many(p Program, s *shop.Shop, level float64, on day.Day) error {
	batch, notes, err := intake.ReadMotors(w.Motors, s.IntakeOptions())
	if err != nil {
		return fmt.Errorf("motors: %w", err)
	}
	type row struct {
		Row int `json:"row"`
		worthJSON
	}
	rows := make([]row, 0, len(batch))
	for _, m := range batch {
		if m.Err != nil {
			return fmt.Errorf("line %d: %w", m.Line, m.Err)
		}
		when := m.On
		if when == 0 {
			when = on
		}
		askedOn(s, when)
		band, err := s.Worth(m.Motor, when)
		if err != nil {
			return fmt.Errorf("line %d: %w", m.Line, err)
		}
		rows = append(rows, row{len(rows) + 1, bandJSON(s.Currency(), band, level)})
	}
	if w.JSON {
		return printJSON(p.Out, struct {
			Motors []row    `json:"motors"`
			Notes  []string `json:"notes"`
		}{rows, say.Strings(notes)})
	}
	t := newTable("rlrrrrl", "row", "motor", "low", "mid", "high", "own sales", "warnings")
	for i, r := range rows {
		t.row(fmt.Sprint(r.Row), batch[i].Motor.Name(), r.Low.String(), r.Mid.String(), r.High.String(), fmt.Sprint(r.OwnSales), strings.Join(r.Warnings, "; "))
	}
	if err := t.print(p.Out); err != nil {
		return err
	}
	printWarnings(p.Out, notes)
	return nil
}

func (p Program) printWorth(s *shop.Shop, motor valuation.Motor, band valuation.Band, level float64, on day.Day) error {
	cur := s.Currency()
	fmt.Fprintf(p.Out, "%s, sold on %s, in %s\n%s\n\n", motor.Name(), on, cur.Code(), s.BandSentence(band))
	levels := bandLevels
	if !contains(levels, level) {
		levels = append([]float64{level}, levels...)
	}
	t := newTable("r", "holds", "low", "high")
	for _, l := range levels {
		low, high := band.Interval(l)
		t.row(fmt.Sprintf("%g %%", math.Round(l*1000)/10), cur.Format(low), cur.Format(high))
	}
	if err := t.print(p.Out); err != nil {
		return err
	}
	near, err := s.Comparables(motor, on, 5)
	if err != nil {
		return err
	}
	if len(near) > 0 {
		fmt.Fprintln(p.Out, "\nthe nearest of your own sales, adjusted to this motor")
		t := newTable("llr", "motor", "sold on", "for", "as this motor")
		for _, c := range near {
			t.row(c.Sale.Motor.Name(), c.Sale.Sold.String(), cur.Short(c.Sale.Price), cur.Whole(c.AdjustedPrice))
		}
		if err := t.print(p.Out); err != nil {
			return err
		}
	}
	printWarnings(p.Out, band.Warnings())
	return nil
}

func contains(levels []float64, level float64) bool {
	for _, l := range levels {
		if l == level {
			return true
		}
	}
	return false
}
