// Package prospects is the screen for the driveway: should I buy this motor, and what is the most to pay.
package prospects

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Screen lists the prospects and answers for the chosen one.
type Screen struct {
	*widgets.Listing[entry]
	shop  *shop.Shop
	host  widgets.Host
	frame *widgets.Frame

	price   money.Amount
	priced  bool // the price was moved by hand
	verdict shop.Verdict

	over        bool // what was passed over is listed, not what may be bought
	passedCount int
	toolsOver   bool // the buttons over the list are those of this view
	toolsMade   bool
	marked      map[string]bool // to be compared
	markOrder   []string

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
	papers *papersPart
	passed *passedPart
	looks  *looksPart
	lot    *lotPart

	cautions *widgets.Fold
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, marked: map[string]bool{}, curve: picture.NewProfitCurve(s.Currency())}
	p.Listing = widgets.NewListing(p.newTable())
	p.frame = p.Frame
	p.frame.Keep(s, "prospects", 0.362, host.Failed)
	p.Rows, p.Draw = p.rows, p.draw
	p.OnChosen = func() { p.priced, p.ways.chosen = false, "" }
	p.doubts, p.jobs, p.lines, p.ways, p.checks = newDoubtsPart(p), newJobsPart(p), newLinesPart(p), newWaysPart(p), newChecksPart(p)
	p.papers, p.passed, p.looks = newPapersPart(p), newPassedPart(p), newLooksPart(p)
	p.lot = newLotPart(p)
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
	p.over = false
	p.Table.SetFilter("")
	p.Refresh()
	p.Show(id)
	p.motor.fold.SetOpen(true)
	if w := p.host.Window(); w != nil { // the form may be too new for the window to know it is its own
		w.Canvas().Focus(p.motor.form.Control("power").(fyne.Focusable))
	}
}

// draw lays the answer, the picture and the working out, if the prospect is one still.
func (p *Screen) draw(id string) bool {
	if p.drawLot(id) {
		return true
	}
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
	p.frame.SetQuiet(p.quiet())
	p.frame.SetWarnings(v.Warnings)
	p.frame.SetActions(p.actions(r)...)
	p.motor.show(v)
	p.plan.show(v)
	p.doubts.show(v)
	p.jobs.show(r)
	p.lines.show(v)
	p.papers.show(r)
	p.passed.show(r)
	p.looks.show(r)
	p.checks.show(v)
	p.what.asked.SetValue(r.SellerAsks)
	p.frame.SetPicture(p.curve) // from the beginning, so that nothing jumps when the answer comes
	if !v.Ready {
		p.curve.SetPoints(nil)
		p.what.span(p.curve)
		p.what.show(0, lang.X("prospects.wait", "What a price would come to shows here as soon as the four things are known."))
		p.motor.fold.SetOpen(true)
		p.frame.SetWorking(p.passed.box, p.what.row, p.motor.fold, p.papers.fold, p.plan.fold, p.cautions)
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
	p.frame.SetWorking(p.passed.box, p.what.row, p.ways.box, p.motor.fold, p.checks.fold, p.papers.fold, p.plan.fold, p.worth.fold, p.why.Fold, p.cautions, p.how.fold)
}

// quiet is what money, room and time there is, or, of those passed over, what became of them.
func (p *Screen) quiet() string {
	if p.over {
		return widgets.Say(p.shop.PassedOver().Summary)
	}
	return strings.Join(widgets.SayAll(p.shop.Capacity().Lines), " ")
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
	remove := widgets.NewQuietButton(lang.X("prospects.remove", "Remove"), theme.DeleteIcon(), func() { p.host.Failed(p.shop.Delete(r.ID)) })
	page := widgets.NewButton(lang.X("prospects.print", "Print page…"), theme.DocumentPrintIcon(), func() { p.askPaper(r, shop.PaperPage) })
	if r.Stage == costing.Passed {
		return []fyne.CanvasObject{
			widgets.NewMainButton(lang.X("prospects.again", "Look at it again"), nil, func() { p.reconsider(r) }),
			page, remove,
		}
	}
	return []fyne.CanvasObject{
		widgets.NewMainButton(lang.X("prospects.bought", "Bought it…"), theme.ConfirmIcon(), func() { p.askBought(r) }),
		widgets.NewButton(lang.X("prospects.pass", "Pass on it…"), nil, func() { p.askPass(r) }),
		widgets.NewButton(lang.X("prospects.sheet", "Check sheet…"), theme.DocumentPrintIcon(), func() { p.askPaper(r, shop.PaperChecks) }),
		page, remove,
	}
}

// reconsider makes a prospect again of one that was passed over, and shows it among them.
func (p *Screen) reconsider(r costing.Record) {
	if err := p.shop.Reconsider(r.ID); err != nil {
		p.host.Failed(err)
		return
	}
	p.Show(r.ID)
}

// remove takes a row off the list: a prospect, or a lot, whose motors stay.
func (p *Screen) remove(e entry) {
	if e.lot {
		p.host.Failed(p.shop.DeleteLot(e.id))
		return
	}
	p.host.Failed(p.shop.Delete(e.id))
}

// Show implements [widgets.Screen], in the view that the prospect stands in.
func (p *Screen) Show(id string) {
	if _, err := p.shop.Lot(id); err == nil && p.over {
		p.over = false
		p.Refresh()
	}
	if r, err := p.shop.Record(id); err == nil && p.over != (r.Stage == costing.Passed) {
		p.over = !p.over
		p.Refresh()
	}
	p.Listing.Show(id)
}
