package paper

import "skegworth/valuation/say"

// Line is one line of a statement.
type Line struct {
	Name   say.Sentence
	Figure string
	Sum    bool // closes the lines above it
}

// Month is one month of the year.
type Month struct {
	Name, Sold, Sales, Profit string
}

// SoldMotor is one motor of the year, its figures written out.
type SoldMotor struct {
	Name, Day, NetSale, Costs, Profit, Hours, PerHour string
}

// Schedule is the year's schedule of cost of sales and what it earned.
type Schedule struct {
	Year       string
	Period     string
	Answer     say.Sentence
	In, Out    []Line // how stock turned into cost of sales, and where it went
	Identity   say.Sentence
	Earned     []Line
	Bridge     []Line
	Months     []Month
	Motors     []SoldMotor
	Warnings   []say.Sentence
	Notes      []say.Sentence
	Disclaimer say.Sentence
}

func (p Schedule) name() say.Sentence { return say.New("page.schedule", "schedule of cost of sales") }
func (p Schedule) of() string         { return p.Year }

func (p Schedule) lay(s *sheet) {
	s.title(s.say(say.New("page.schedule.title", "The year {{.Year}}", "Year", p.Year)),
		s.say(say.New("page.schedule.below", "{{.Period}}, in {{.Currency}}", "Period", p.Period, "Currency", s.Currency.Code())))
	s.flow(s.say(p.Answer), saidText)
	s.bullets(s.said(p.Warnings...), plainText)
	s.section(say.New("page.schedule.in", "How stock turned into cost of sales"), 40, func() { s.statement(p.In) })
	s.section(say.New("page.schedule.out", "Where what went out of stock went"), 25, func() {
		s.statement(p.Out)
		s.flow(s.say(p.Identity), noteText)
	})
	s.section(say.New("page.schedule.earned", "What the year earned"), 40, func() { s.statement(p.Earned) })
	if len(p.Bridge) > 0 {
		s.section(say.New("page.schedule.bridge", "From the motors sold to the profit of the year"), 30, func() { s.statement(p.Bridge) })
	}
	s.section(say.New("page.schedule.months", "Month by month"), 30, func() {
		t := grid{columns: []column{{head: say.New("page.schedule.month", "month"), share: 4}, {head: say.New("page.schedule.sold", "motors sold"), share: 2, figure: true},
			{head: say.New("page.schedule.sales", "sales"), share: 3, figure: true}, {head: say.New("page.schedule.profit", "profit before own time"), share: 3, figure: true}}}
		for _, m := range p.Months {
			t.rows = append(t.rows, []string{m.Name, m.Sold, m.Sales, m.Profit})
		}
		s.table(t)
	})
	if len(p.Motors) > 0 {
		s.section(say.New("page.schedule.motors", "Motor by motor, each over its whole life"), 25, func() {
			t := grid{size: 8.5, columns: []column{{head: say.New("page.schedule.motor", "motor"), share: 5}, {head: say.New("page.schedule.day", "sold on"), share: 2.4},
				{head: say.New("page.schedule.net", "net sale"), share: 2.5, figure: true}, {head: say.New("page.schedule.costs", "costs"), share: 2.5, figure: true},
				{head: say.New("page.schedule.before", "before own time"), share: 2.5, figure: true}, {head: say.New("page.schedule.hours", "own hours"), share: 1.8, figure: true},
				{head: say.New("page.schedule.per-hour", "for each hour"), share: 2.2, figure: true}}}
			for _, m := range p.Motors {
				t.rows = append(t.rows, []string{m.Name, m.Day, m.NetSale, m.Costs, m.Profit, m.Hours, m.PerHour})
			}
			s.table(t)
		})
	}
	s.section(say.New("page.schedule.notes", "How it was drawn up"), 15, func() {
		s.bullets(s.said(p.Notes...), noteText)
		s.flow(s.say(p.Disclaimer), boldText)
	})
}

func (s *sheet) statement(lines []Line) {
	t := grid{columns: []column{{share: 7}, {share: 3, figure: true}}, sums: map[int]bool{}}
	for i, l := range lines {
		t.rows = append(t.rows, []string{capital(s.say(l.Name)), l.Figure})
		t.sums[i] = l.Sum
	}
	s.table(t)
}
