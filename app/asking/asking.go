// Package asking is the screen for a finished motor: what to ask, what to take, and the sale itself.
package asking

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// Screen lists the motors that are ready or offered and advises on the chosen one.
type Screen struct {
	*widgets.Listing[shop.AskRow]
	shop  *shop.Shop
	host  widgets.Host
	frame *widgets.Frame

	by      map[string]day.Day // the day by which a motor is wished to be gone, for as long as the screen lives
	answer  shop.AskAnswer
	priced  bool   // answer is one
	buttons string // which actions stand there now

	curve  *picture.AskCurve
	price  *pricePart
	offers *offersPart
	holds  *holdsPart
	story  *widgets.Story
	near   *nearPart
	worth  *worthPart
	why    *widgets.SumsFold
	raise  *widgets.SumsFold
	advert *advertPart
	motor  *motorPart
	how    *howPart
	away   *fyne.Container // what is seldom done
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, by: map[string]day.Day{}, curve: picture.NewAskCurve(s.Currency())}
	p.Listing = widgets.NewListing(p.newTable())
	p.frame = p.Frame
	p.Rows, p.Draw = s.AskRows, p.draw
	p.OnChosen = func() { p.price.reset(); p.offers.reset() }
	p.frame.Keep(s, "asking", 0.45, host.Failed) // the whole name, and where it stands
	p.price, p.offers, p.holds, p.story = newPricePart(p), newOffersPart(p), newHoldsPart(p),
		widgets.NewStory(lang.X("asking.story", "How the selling goes"), s.Currency(), widgets.DateOrder(s.DateOrder()))
	p.near, p.worth, p.advert, p.motor, p.how = newNearPart(p), newWorthPart(p), newAdvertPart(p), newMotorPart(p), newHowPart()
	p.away = widgets.Flow(look.Gap,
		widgets.NewButton(lang.X("asking.back", "Back to the bench"), nil, p.backToBench),
		widgets.NewButton(lang.X("bench.writedown", "Write down…"), nil, func() { p.writeDown(p.chosenRecord()) }))
	p.why = widgets.NewSumsFold(lang.X("why.title", "Why this price"))
	p.raise = widgets.NewSumsFold(lang.X("raise.title", "What would raise it"))
	p.Empty = widgets.NewEmpty(theme.InfoIcon(), lang.X("asking.empty", "Nothing is ready to sell"),
		lang.X("asking.empty.words", "A motor comes here when it is marked finished on the Bench."),
		widgets.NewMainButton(lang.X("asking.tobench", "Go to the Bench"), nil, func() { host.Go(widgets.BenchScreen, "") }),
		widgets.NewButton(lang.X("app.example", "Open the example shop"), nil, host.OpenExample))
	p.Blank = widgets.NewEmpty(nil, lang.X("asking.blank", "Choose a motor"), lang.X("asking.blank.words", "in the list, to see what to ask for it."))
	return p
}

// draw lays the answer, the picture and the working out, if the motor still stands here.
func (p *Screen) draw(id string) bool {
	r, err := p.shop.Record(id)
	if err != nil || r.Stage != costing.Finished && r.Stage != costing.Listed {
		return false
	}
	p.frame.SetTitle(nameOf(r))
	p.showActions(r)
	p.motor.show(r)
	a, err := p.ask(id)
	p.answer, p.priced = a, err == nil
	p.holds.show(r)
	p.offers.show(r)
	p.advert.show(r)
	p.showStory(r)
	held, overdue := p.heldWords(r)
	if err != nil {
		p.frame.SetAnswer(widgets.ErrorText(err))
		p.frame.SetSecond(held)
		p.frame.SetQuiet("")
		p.frame.SetWarnings(overdue)
		p.frame.SetPicture(nil)
		p.motor.fold.SetOpen(true)
		p.frame.SetWorking(p.motor.fold, p.offers.fold, p.holds.fold, p.story.Fold, p.advert.fold, p.away)
		return true
	}
	p.frame.SetAnswer(widgets.Say(a.Answer))
	p.frame.SetSecond(strings.TrimSpace(held + " " + widgets.Say(a.Present)))
	p.frame.SetQuiet(strings.Join(widgets.SayAll([]say.Sentence{a.Spent, a.Behind}), " "))
	p.frame.SetWarnings(append(overdue, a.Warnings...))
	p.price.show(a)
	p.frame.SetPicture(p.curve)
	p.frame.SetPictureHeight(300)
	p.near.show(a)
	p.worth.show(a)
	p.how.show(a)
	why, err := p.shop.Why(r.Motor, p.shop.Today())
	widgets.ShowSums(p.why, why.Lines, true, why.Wider, why.Note, say.Sentence{}, err)
	raise, err := p.shop.Raise(id)
	widgets.ShowSums(p.raise, raise.Lines, false, raise.Unsaid, raise.Note, raise.Best, err)
	p.frame.SetWorking(p.price.box, p.offers.fold, p.holds.fold, p.story.Fold, p.near.fold, p.worth.fold, p.why.Fold, p.raise.Fold,
		p.advert.fold, p.motor.fold, p.how.fold, p.away)
	return true
}

// ask is the advice, by the day wished for while that is ahead.
func (p *Screen) ask(id string) (shop.AskAnswer, error) {
	by := p.by[id]
	if by <= p.shop.Today() {
		by = 0
	}
	return p.shop.AskingBy(id, by)
}

// heldWords says for whom the motor is held, "" where it is for nobody; past its last day that is a warning.
func (p *Screen) heldWords(r costing.Record) (words string, overdue []say.Sentence) {
	h, held := p.shop.HeldFor(r)
	switch {
	case !held:
		return "", nil
	case h.Overdue:
		return "", []say.Sentence{h.Words}
	}
	return widgets.WholeSentence(widgets.Say(h.Words)), nil
}

// do runs a use-case and shows a failure where it will be seen.
func (p *Screen) do(err error) bool {
	p.host.Failed(err)
	return err == nil
}

// chosenRecord is the motor on show as it now is.
func (p *Screen) chosenRecord() costing.Record {
	r, _ := p.shop.Record(p.Chosen())
	return r
}

// showActions makes the buttons anew only when others are wanted, so that the keyboard is not thrown off one
// while it is being pressed.
func (p *Screen) showActions(r costing.Record) {
	_, held := r.OpenHold()
	state := r.ID + string(r.Stage)
	if held {
		state += " held"
	}
	if state == p.buttons {
		return
	}
	p.buttons = state
	// One button stands out, the one that comes next: offered first, then sold.
	button := widgets.NewMainButton
	var all []fyne.CanvasObject
	if r.Stage != costing.Listed {
		button = widgets.NewButton
		all = append(all, widgets.NewMainButton(lang.X("asking.list", "Offer it for sale…"), nil, func() { p.askList(p.chosenRecord(), 0) }))
	}
	all = append(all, button(lang.X("asking.sold", "Sold…"), theme.ConfirmIcon(), func() { p.askSold(p.chosenRecord(), nil) }))
	if !held {
		all = append(all, widgets.NewButton(lang.X("asking.hold", "Hold it for a buyer…"), nil, func() { p.askHold(p.chosenRecord(), costing.Hold{}) }))
	}
	for _, kind := range p.shop.PapersOf(r) {
		all = append(all, widgets.NewButton(lang.X("asking.paper", "{{.Page}}…", map[string]any{"Page": widgets.Capital(widgets.Say(kind.Name()))}),
			theme.DocumentPrintIcon(), func() { p.askPaper(p.chosenRecord(), kind) }))
	}
	if r.Stage == costing.Listed {
		all = append(all, widgets.NewQuietButton(lang.X("asking.withdraw", "Withdraw…"), nil, func() { p.askWithdraw(p.chosenRecord()) }))
	}
	p.frame.SetActions(all...)
}

func (p *Screen) backToBench() {
	id := p.Chosen()
	if p.do(p.shop.BackToBench(id)) {
		p.host.Go(widgets.BenchScreen, id)
	}
}

func nameOf(r costing.Record) string {
	if name := r.Name(); name != "" {
		return name
	}
	return lang.X("asking.unnamed", "a motor without a name")
}
