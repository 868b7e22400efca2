package costing

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// QuickShop is what a quick line is read against: words typed at the bench mean things of this shop.
type QuickShop struct {
	Currency money.Currency
	Today    day.Day
	Goods    []Good
	Jobs     []Job   // of the motor, not done
	Donors   []Thing // motors that a part can come off
	JobID    string  // the job chosen beside the line
}

// Thing is a motor by name.
type Thing struct{ ID, Name string }

// QuickReading is one thing that a quick line can mean: a cost, a draw from the shelf, time worked, or a
// part off another motor.
type QuickReading struct {
	Line    Line     // a cost, or with DonorID the part and its worth
	Core    *Line    // a core charge paid along with it
	Draw    *Drawn1  // in place of Line
	Session *Session // in place of Line
	DonorID string
	Words   say.Sentence // what is read, to be shown before anything is saved
}

// Drawn1 is so much of one good.
type Drawn1 struct {
	GoodID   string
	Quantity float64
	Unit     string
	On       day.Day
	JobID    string
}

// ReadQuick reads a quick line in every way that it can be meant. One reading is what it says; with
// several the user must choose, for nothing is guessed. On top of [ParseQuickLine] it reads
//
//	1.5h carbs              time, own; a word of a job card on the motor ties it to that job
//	2 h paid 18 helper      time paid at 18 an hour
//	oil 12 floz             drawn from the shelf: an amount in a unit and no price
//	draw plugs 4            the same, told outright
//	starter 128 core 40     a part and the core charge paid with it
//	donor lower unit 160 tornvik   a part worth 160 off that motor
//	... yesterday           also today, 12 may, may 12, 2026-05-12, first or last
func ReadQuick(text string, in QuickShop) ([]QuickReading, error) {
	shown := strings.Join(strings.Fields(strings.ToValidUTF8(text, "")), " ")
	switch {
	case shown == "":
		return nil, fmt.Errorf("nothing is written: %w", ErrQuickLine)
	case utf8.RuneCountInString(shown) > maxQuickLine:
		return nil, fmt.Errorf("%q... is too long: %w", string([]rune(shown)[:40]), ErrQuickLine)
	}
	words, on, err := takeDay(strings.Fields(shown), in.Today)
	if err != nil {
		return nil, err
	}
	q := quickText{QuickShop: in, words: words, on: on}
	for _, read := range []func() ([]QuickReading, bool, error){q.session, q.draw} {
		if all, meant, err := read(); meant {
			return all, err
		}
	}
	return q.cost()
}

type quickText struct {
	QuickShop
	words []string
	on    day.Day
}

// session reads time worked; meant is false when no time is written.
func (q quickText) session() (all []QuickReading, meant bool, err error) {
	if q.kind() != "" {
		return nil, false, nil
	}
	at, n, t, several := q.time()
	switch {
	case n == 0:
		return nil, false, nil
	case several:
		return nil, true, fmt.Errorf("hours: %q has two times in it; write one at a time", strings.Join(q.words, " "))
	}
	rest := slices.Concat(q.words[:at], q.words[at+n:])
	s := Session{On: q.on, Time: t, JobID: q.JobID}
	var task []string
	for i := 0; i < len(rest); i++ {
		switch strings.ToLower(rest[i]) {
		case "own":
		case "paid":
			s.Paid = true
			if i+1 < len(rest) {
				if a, ok := q.amount(rest[i+1]); ok {
					s.Rate, i = a, i+1
				}
			}
		default:
			task = append(task, rest[i])
		}
	}
	if s.Paid && s.Rate == 0 {
		return nil, true, fmt.Errorf("hours: say what is paid for one of them, as in  2 h paid 18 helper")
	}
	if !s.Paid && len(task) > 0 {
		if _, ok := q.amount(task[len(task)-1]); ok && strings.ContainsAny(task[len(task)-1], ".,@$") {
			return nil, true, fmt.Errorf("hours: own time has the shop's rate; for paid time write  paid %s", strings.TrimLeft(task[len(task)-1], "@"))
		}
	}
	s.Task = strings.Join(task, " ")
	fits := q.jobsCalled(task)
	if len(fits) == 0 {
		return []QuickReading{q.sessionReading(s)}, true, nil
	}
	for _, j := range fits {
		s.JobID = j.ID
		all = append(all, q.sessionReading(s))
	}
	return all, true, nil
}

// time finds the words that say a time, and whether others say another.
func (q quickText) time() (at, n int, t Hours, several bool) {
	for i := 0; i < len(q.words); i++ {
		h, used := timeAt(q.words[i:])
		if used == 0 {
			continue
		}
		if n > 0 {
			return at, n, t, true
		}
		at, n, t = i, used, h
		i += used - 1
	}
	return at, n, t, false
}

// timeAt reads "1.5h", "1h30", "90min", "1:30", "2 h" at the front of the words.
func timeAt(words []string) (Hours, int) {
	number, rest := leadingNumber(words[0])
	if _, isNumber := parseQuantity(number); !isNumber {
		return 0, 0
	}
	used := 1
	if rest == "" {
		if len(words) < 2 || !isTimeUnit(words[1]) {
			return 0, 0
		}
		rest, used = words[1], 2
	}
	low := strings.ToLower(rest)
	switch {
	case strings.HasPrefix(low, ":"):
		if len(number) > 2 || len(low) != 3 { // 1:30, and not the 50:1 of a mix
			return 0, 0
		}
	case isTimeUnit(low):
		if strings.HasPrefix(low, "m") {
			low = "min"
		} else {
			low = "h"
		}
	case strings.HasPrefix(low, "h") && len(low) > 1 && low[1] >= '0' && low[1] <= '9':
	default:
		return 0, 0
	}
	t, err := ParseHours(number + low)
	if err != nil {
		return 0, 0
	}
	return t, used
}

func isTimeUnit(word string) bool {
	switch strings.ToLower(word) {
	case "h", "hr", "hrs", "hour", "hours", "min", "mins", "minute", "minutes":
		return true
	}
	return false
}

// draw reads what is drawn from the shelf; meant is false when a price is written or no amount of a good.
func (q quickText) draw() (all []QuickReading, meant bool, err error) {
	words, told := q.words, false
	switch strings.ToLower(words[0]) {
	case "draw", "shelf":
		words, told = words[1:], true
	}
	if !told && q.kind() != "" {
		return nil, false, nil
	}
	quantity, unit, name, ok := amountOf(words)
	if !ok || (!told && unit == "") {
		if told {
			return nil, true, fmt.Errorf("draw: say how much, as in  draw oil 12 floz")
		}
		return nil, false, nil
	}
	if !told && q.hasPrice(name) {
		return nil, false, nil
	}
	if len(name) == 0 {
		return nil, true, fmt.Errorf("%q does not say of what: %w", strings.Join(q.words, " "), ErrQuickLine)
	}
	for _, g := range q.goodsCalled(name) {
		u := unit
		if u == "" {
			u = g.Unit
		}
		if _, err := Convert(quantity, u, g.Unit); err != nil {
			continue
		}
		all = append(all, q.drawReading(g, quantity, u))
	}
	if len(all) == 0 {
		what := strings.Join(name, " ")
		return nil, true, fmt.Errorf("nothing on the shelf that is measured so is called %q; if it was bought, write what it cost as well", what)
	}
	return all, true, nil
}

// hasPrice tells whether one of the words is an amount of money.
func (q quickText) hasPrice(words []string) bool {
	for _, w := range words {
		if _, ok := q.amount(w); ok {
			return true
		}
	}
	return false
}

// amountOf finds "12 floz", "12floz", "2 x" or a bare number last among the words; name is the rest.
func amountOf(words []string) (quantity float64, unit string, name []string, ok bool) {
	for i := range words {
		number, rest := leadingNumber(words[i])
		v, isNumber := parseQuantity(number)
		if !isNumber {
			continue
		}
		used := 1
		if rest == "" && i+1 < len(words) {
			rest, used = words[i+1], 2
		}
		if used <= 2 && i+used < len(words) && rest != "" {
			if u, two := goodsUnit(rest + " " + words[i+used]); two { // "fl oz"
				return v, u.Symbol, slices.Concat(words[:i], words[i+used+1:]), true
			}
		}
		if u, one := goodsUnit(rest); one {
			return v, u.Symbol, slices.Concat(words[:i], words[i+used:]), true
		}
	}
	if last := len(words) - 1; last >= 0 {
		if v, isNumber := parseQuantity(words[last]); isNumber {
			return v, "", words[:last], true
		}
	}
	return 0, "", nil, false
}

// cost reads a cost line, with a core charge or off a donor.
func (q quickText) cost() ([]QuickReading, error) {
	words, core := q.takeCore(q.words)
	line, rank, err := parseQuickLine(strings.Join(words, " "), q.Currency)
	if err != nil {
		return nil, err
	}
	line.On, line.JobID = q.on, q.JobID
	if line.Kind == PartDonor {
		return q.offDonor(line)
	}
	r := QuickReading{Line: line}
	if core > 0 {
		r.Core = &Line{Kind: CoreCharge, On: q.on, Text: line.Text, Quantity: 1, Each: core, Total: core, Supplier: line.Supplier}
	}
	r.Words = q.lineWords(r)
	all := []QuickReading{r}
	if rank > 1 || core > 0 || line.Kind != PartNew || line.Supplier != "" || line.Quantity != 1 {
		return all, nil
	}
	// "oil 2": two of the shelf's, or for 2 in money?
	if quantity, unit, name, ok := amountOf(words); ok && unit == "" {
		for _, g := range q.goodsCalled(name) {
			all = append(all, q.drawReading(g, quantity, g.Unit))
		}
	}
	return all, nil
}

// takeCore takes "core 40" off behind a part and its price.
func (q quickText) takeCore(words []string) ([]string, money.Amount) {
	for i := 2; i < len(words); i++ {
		if !strings.EqualFold(words[i], "core") {
			continue
		}
		n := i + 1
		if n < len(words) && strings.EqualFold(words[n], "charge") {
			n++
		}
		if n == len(words) {
			break
		}
		if a, ok := q.amount(words[n]); ok && q.hasPrice(words[:i]) {
			return slices.Concat(words[:i], words[n+1:]), a
		}
	}
	if len(words) > 1 && strings.EqualFold(words[0], "core") {
		if _, ok := q.amount(words[1]); ok { // "core 40": a charge alone
			return slices.Concat([]string{"core", "charge"}, words[1:]), 0
		}
	}
	return words, 0
}

// offDonor is the part off each motor that can be meant.
func (q quickText) offDonor(line Line) ([]QuickReading, error) {
	from := strings.TrimSpace(strings.TrimPrefix(strings.ToLower(line.Supplier)+" ", "off "))
	fits := q.Donors
	if from != "" {
		fits = nil
		for _, d := range q.Donors {
			if called(strings.Fields(from), d.Name) {
				fits = append(fits, d)
			}
		}
	}
	if len(fits) == 0 {
		if from == "" {
			return nil, fmt.Errorf("part off a donor: no motor is broken for its parts")
		}
		return nil, fmt.Errorf("part off a donor: no motor in the shop is called %q", from)
	}
	var all []QuickReading
	for _, d := range fits {
		r := QuickReading{Line: line, DonorID: d.ID}
		r.Line.Supplier = d.Name
		r.Words = say.New("quick.donor", "{{.What}} off {{.Motor}}, worth {{.Total}}{{if .Day}}, on {{.Day}}{{end}}",
			"What", line.Text, "Motor", d.Name, "Total", q.Currency.Format(line.Total), "Day", q.otherDay())
		all = append(all, r)
	}
	return all, nil
}

// kind is the kind of cost that a leading word names, "" for none.
func (q quickText) kind() Kind {
	for n := min(2, len(q.words)); n > 0; n-- {
		if k, ok := kindWords[strings.ToLower(strings.Join(q.words[:n], " "))]; ok {
			return k
		}
	}
	return ""
}

// amount reads a word as money.
func (q quickText) amount(word string) (money.Amount, bool) {
	plain, _ := unsigned(strings.TrimLeft(word, "@="), q.Currency)
	if !isNumber(plain) {
		return 0, false
	}
	a, err := q.Currency.Parse(plain)
	return a, err == nil && a > 0
}

func (q quickText) jobsCalled(task []string) []Job {
	var fits []Job
	for _, j := range q.Jobs {
		if len(task) > 0 && called(task, j.Name) {
			fits = append(fits, j)
		}
	}
	return fits
}

func (q quickText) goodsCalled(name []string) []Good {
	var fits []Good
	whole := strings.Join(name, " ")
	for _, g := range q.Goods {
		if strings.EqualFold(g.Name, whole) {
			return []Good{g}
		}
		if len(name) > 0 && called(name, g.Name) {
			fits = append(fits, g)
		}
	}
	return fits
}

// called tells whether every word begins a word of the name, a plural's s aside: "carbs" is carburettors.
func called(words []string, name string) bool {
	split := func(r rune) bool { return strings.ContainsRune(" -,/()", r) }
	of := strings.FieldsFunc(strings.ToLower(name), split)
	said := 0
	for _, w := range words {
		for _, part := range strings.FieldsFunc(strings.ToLower(w), split) {
			said++
			singular := part
			if len(part) > 3 {
				singular = strings.TrimSuffix(part, "s")
			}
			if !slices.ContainsFunc(of, func(o string) bool { return strings.HasPrefix(o, singular) }) {
				return false
			}
		}
	}
	return said > 0
}

// otherDay is the day where it is not today's, for saying.
func (q quickText) otherDay() string {
	if q.on == q.Today {
		return ""
	}
	return q.on.String()
}

func (q quickText) jobName(id string) string {
	for _, j := range q.Jobs {
		if j.ID == id {
			return j.Name
		}
	}
	return ""
}

func (q quickText) sessionReading(s Session) QuickReading {
	words := say.New("quick.own", "{{.Hours}} of your own time{{if .Task}} on {{.Task}}{{end}}{{if .Job}}, for the job {{.Job}}{{end}}{{if .Day}}, on {{.Day}}{{end}}",
		"Hours", s.Time.Words(), "Task", s.Task, "Job", q.jobName(s.JobID), "Day", q.otherDay())
	if s.Paid {
		words = say.New("quick.paid", "{{.Hours}} paid at {{.Rate}} an hour{{if .Task}}: {{.Task}}{{end}}{{if .Job}}, for the job {{.Job}}{{end}}{{if .Day}}, on {{.Day}}{{end}}",
			"Hours", s.Time.Words(), "Rate", q.Currency.Format(s.Rate), "Task", s.Task, "Job", q.jobName(s.JobID), "Day", q.otherDay())
	}
	return QuickReading{Session: &s, Words: words}
}

func (q quickText) drawReading(g Good, quantity float64, unit string) QuickReading {
	return QuickReading{Draw: &Drawn1{g.ID, quantity, unit, q.on, q.JobID},
		Words: say.New("quick.draw", "{{.Amount}} of {{.Good}} from the shelf{{if .Job}}, for the job {{.Job}}{{end}}{{if .Day}}, on {{.Day}}{{end}}",
			"Amount", Measure(quantity, unit), "Good", g.Name, "Job", q.jobName(q.JobID), "Day", q.otherDay())}
}

func (q quickText) lineWords(r QuickReading) say.Sentence {
	l, c := r.Line, q.Currency
	core := ""
	if r.Core != nil {
		core = c.Format(r.Core.Total)
	}
	each := ""
	if l.Quantity != 1 {
		each = c.Format(l.Each)
	}
	return say.New("quick.line", "{{.Kind}}{{if .What}}: {{.What}}{{end}}{{if .Each}}, {{.Amount}} at {{.Each}}{{end}}, {{.Total}}{{if .Core}}, and a core charge of {{.Core}}{{end}}{{if .From}}, from {{.From}}{{end}}{{if .Job}}, for the job {{.Job}}{{end}}{{if .Day}}, on {{.Day}}{{end}}",
		"Kind", l.Kind.Name(), "What", l.Text, "Amount", Measure(l.Quantity, l.Unit), "Each", each, "Total", c.Format(l.Total),
		"Core", core, "From", l.Supplier, "Job", q.jobName(l.JobID), "Day", q.otherDay())
}
