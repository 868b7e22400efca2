// Package prospects is the screen for the driveway: should I buy this motor, and what is the most to pay.
package prospects

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Screen lists the prospects and answers for the chosen one.
type Screen struct {
	*widgets.Listing[shop.ProspectRow]
	shop  *shop.Shop
	host  widgets.Host
	frame *widgets.Frame

	price   money.Amount
	priced  bool // the price was moved by hand
	verdict shop.Verdict

	curve *picture.ProfitCurve
	motor *motorPart
	plan  *planPart
	what  *pricePart
	worth *worthPart
	why   *widgets.SumsFold
	how   *howPart

	ways   *waysPart
	checks *checksPart
	doubts *doubtsPart
	jobs   *jobsPart
	lines  *linesPart

	cautions *widgets.Fold
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, curve: picture.NewProfitCurve(s.Currency())}
	p.Listing = widgets.NewListing(p.newTable())
	p.frame = p.Frame
	p.frame.Keep(s, "prospects", p.frame.Offset(), host.Failed)
	p.Rows, p.Draw = s.Prospects, p.draw
	p.OnChosen = func() { p.priced, p.ways.chosen = false, "" }
	p.doubts, p.jobs, p.lines, p.ways, p.checks = newDoubtsPart(p), newJobsPart(p), newLinesPart(p), newWaysPart(p), newChecksPart(p)
	p.motor, p.plan, p.what, p.worth, p.how = newMotorPart(p), newPlanPart(p), newPricePart(p), newWorthPart(p), newHowPart(p)
	p.why = widgets.NewSumsFold(lang.X("why.title", "Why this price"))
	p.cautions = cautions()
	p.curve.OnPrice = func(a money.Amount) { p.setPrice(a); p.showPrice() }
	add := func() *widgets.Button {
		return widgets.NewMainButton(lang.X("prospects.new", "New prospect"), theme.ContentAddIcon(), p.New)
	}
	p.Empty = widgets.NewEmpty(theme.SearchIcon(), lang.X("prospects.empty", "No prospects yet"),
		lang.X("prospects.empty.words", "Write down a motor you may buy. Its power, year, stroke and state are enough for a first answer: the most to pay."),
		add(), widgets.NewButton(lang.X("app.example", "Open the example shop"), nil, host.OpenExample))
	p.Blank = widgets.NewEmpty(theme.SearchIcon(), lang.X("prospects.blank", "Choose a prospect"),
		lang.X("prospects.blank.words", "or write down a new one."), add())
	return p
}

func (p *Screen) newTable() *widgets.Table[shop.ProspectRow] {
	c := p.shop.Currency()
	amount := func(a money.Amount) string {
		if a == 0 {
			return ""
		}
		return c.Whole(a)
	}
	t := widgets.NewTable(func(r shop.ProspectRow) string { return r.Record.ID },
		widgets.TableColumn[shop.ProspectRow]{Key: "motor", Title: lang.X("column.motor", "Motor"), Grow: true,
			Text: func(r shop.ProspectRow) string { return nameOf(r.Record) }},
		widgets.TableColumn[shop.ProspectRow]{Key: "asked", Title: lang.X("column.asked", "Asked"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.ProspectRow) string { return amount(r.Record.SellerAsks) },
			Less: func(a, b shop.ProspectRow) bool { return a.Record.SellerAsks < b.Record.SellerAsks }},
		widgets.TableColumn[shop.ProspectRow]{Key: "pay", Title: lang.X("column.pay", "Pay up to"), Align: fyne.TextAlignTrailing,
			Text: func(r shop.ProspectRow) string { return payOf(r, c) },
			Tone: toneOf,
			Less: func(a, b shop.ProspectRow) bool { return a.Top < b.Top }},
	)
	t.Keep(p.shop, "prospects", p.host.Failed)
	t.OnDelete = func(r shop.ProspectRow) { p.remove(r.Record.ID) }
	t.SetTools(widgets.NewMainButton(lang.X("prospects.new", "New prospect"), theme.ContentAddIcon(), p.New))
	return t
}

func nameOf(r costing.Record) string {
	if name := r.Name(); name != "" {
		return name
	}
	return lang.X("prospects.unnamed", "New prospect")
}

func payOf(r shop.ProspectRow, c money.Currency) string {
	switch {
	case r.Record.Stage == costing.Passed:
		return lang.X("prospects.passed", "passed on")
	case !r.Ready:
		return lang.X("prospects.unready", "not yet")
	case r.Thin:
		return lang.X("prospects.thin", "leave it")
	}
	return c.Whole(r.Top)
}

// toneOf stresses by colour what the figures say: the seller asks no more than the top price, or more.
func toneOf(r shop.ProspectRow) fyne.ThemeColorName {
	switch {
	case r.Record.Stage == costing.Passed || !r.Ready:
		return look.Quiet
	case r.Thin || r.Record.SellerAsks > 0 && r.Room < 0:
		return look.Bad
	case r.Record.SellerAsks > 0:
		return look.Good
	}
	return look.Plain
}

// titleOf is the chosen prospect in a line: "Halvard 90, 2003, does not run, asked 1,400".
func (p *Screen) titleOf(r costing.Record) string {
	words := nameOf(r)
	if r.Motor.State != "" {
		words += ", " + widgets.Say(r.Motor.State.Label())
	}
	if r.SellerAsks > 0 {
		words += ", " + lang.X("prospects.title.asked", "asked {{.Price}}", map[string]any{"Price": p.shop.Currency().Whole(r.SellerAsks)})
	}
	return words
}

// New writes down a new prospect and puts the keyboard on its power.
func (p *Screen) New() {
	id, err := p.shop.AddProspect()
	if err != nil {
		p.host.Failed(err)
		return
	}
	p.Table.SetFilter("")
	p.Show(id)
	p.motor.fold.SetOpen(true)
	if w := p.host.Window(); w != nil { // the form may be too new for the window to know it is its own
		w.Canvas().Focus(p.motor.form.Control("power").(fyne.Focusable))
	}
}

// draw lays the answer, the picture and the working out, if the prospect is one still.
func (p *Screen) draw(id string) bool {
	r, err := p.shop.Record(id)
	if err != nil || r.Stage != costing.Prospect && r.Stage != costing.Passed {
		return false
	}
	v, err := p.shop.Appraise(id)
	if err != nil {
		v.Record, v.Ready = r, false
		p.frame.SetAnswer(widgets.ErrorText(err))
	} else {
		p.frame.SetAnswer(widgets.Say(v.Answer))
	}
	p.verdict = v
	p.lay(r, v)
	return true
}

func (p *Screen) lay(r costing.Record, v shop.Verdict) {
	p.frame.SetTitle(p.titleOf(r))
	p.frame.SetSecond(widgets.Say(v.Limit))
	p.frame.SetWarnings(v.Warnings)
	p.frame.SetActions(p.actions(r)...)
	p.motor.show(v)
	p.plan.show(v)
	p.doubts.show(v)
	p.jobs.show(r)
	p.lines.show(v)
	p.checks.show(v)
	p.what.asked.SetValue(r.SellerAsks)
	p.frame.SetPicture(p.curve) // from the beginning, so that nothing jumps when the answer comes
	if !v.Ready {
		p.curve.SetPoints(nil)
		p.what.span(p.curve)
		p.what.show(0, lang.X("prospects.wait", "What a price would come to shows here as soon as the four things are known."))
		p.motor.fold.SetOpen(true)
		p.frame.SetWorking(p.what.row, p.motor.fold, p.plan.fold, p.cautions)
		return
	}
	if !p.priced {
		p.price = v.Top
		if r.SellerAsks > 0 {
			p.price = r.SellerAsks
		}
	}
	outcomes := p.shop.Curve(v)
	points := make([]picture.ProfitPoint, len(outcomes))
	for i, o := range outcomes {
		points[i] = picture.ProfitPoint{Price: o.Price, Expected: o.BeforeOwnTime, Low: o.Low, High: o.High, Loss: widgets.ChanceText(o.Loss)}
	}
	p.curve.SetPoints(points)
	p.what.span(p.curve)
	p.curve.SetMarks(picture.ProfitMarks{Top: v.Top, Asked: r.SellerAsks})
	p.ways.show(v)
	p.worth.show(v)
	why, err := p.shop.WhyResale(v)
	widgets.ShowSums(p.why, why.Lines, true, why.Wider, why.Note, say.Sentence{}, err)
	p.how.show(v)
	p.showPrice()
	p.frame.SetWorking(p.what.row, p.ways.box, p.motor.fold, p.checks.fold, p.plan.fold, p.worth.fold, p.why.Fold, p.cautions, p.how.fold)
}

func (p *Screen) setPrice(a money.Amount) { p.price, p.priced = a, true }

// showPrice says what the price under the marker comes to.
func (p *Screen) showPrice() {
	if !p.verdict.Ready {
		return
	}
	p.curve.SetPrice(p.price)
	p.what.show(p.price, widgets.Say(p.shop.AtPrice(p.verdict, p.price)))
}

func (p *Screen) actions(r costing.Record) []fyne.CanvasObject {
	remove := widgets.NewQuietButton(lang.X("prospects.remove", "Remove"), theme.DeleteIcon(), func() { p.remove(r.ID) })
	if r.Stage == costing.Passed {
		return []fyne.CanvasObject{
			widgets.NewMainButton(lang.X("prospects.again", "Look at it again"), nil, func() { p.host.Failed(p.shop.Reconsider(r.ID)) }),
			remove,
		}
	}
	return []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("prospects.bought", "Bought it…"), theme.ConfirmIcon(), func() { p.askBought(r) }),
		widgets.NewButton(lang.X("prospects.pass", "Pass on it"), nil, func() { p.host.Failed(p.shop.Pass(r.ID)) }),
		remove,
	}
}

func (p *Screen) remove(id string) { p.host.Failed(p.shop.Delete(id)) }
