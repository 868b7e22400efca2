package bench

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
	"skegworth/valuation"
)

// cardForm is the dialog in which job cards are made and mended: a card is chosen at its top.
type cardForm struct {
	p      *Screen
	dialog *widgets.Dialog
	card   costing.Card

	choose       *widgets.Choice
	name, draws  *widgets.Entry
	per          *widgets.Segments
	stroke       *widgets.Segments
	hours, parts *widgets.ThreePointEntry
	more         *widgets.Fold // of a further cylinder or piece
	moreHours    *widgets.ThreePointEntry
	moreParts    *widgets.ThreePointEntry
	note         *widgets.Text
}

// newCardValue stands among the cards for one that is to be made.
const newCardValue = "new"

// editCards opens the job cards, on the one of the id or the first.
func (p *Screen) editCards(id string) {
	if len(p.shop.Cards()) == 0 {
		p.askStarter(func() { p.editCards("") })
		return
	}
	f := &cardForm{p: p, choose: widgets.NewChoice(), name: widgets.NewEntry(), draws: widgets.NewEntry(), note: widgets.NewText(""),
		hours: widgets.NewThreePointHours(), parts: widgets.NewThreePointMoney(p.shop.Currency()),
		moreHours: widgets.NewThreePointHours(), moreParts: widgets.NewThreePointMoney(p.shop.Currency())}
	var pers []widgets.Option
	for _, per := range costing.Pers {
		pers = append(pers, widgets.Option{Value: string(per), Text: widgets.Say(per.Name())})
	}
	f.per = widgets.NewSegments(pers...)
	f.per.Required = true
	f.per.OnValue = func(v string) error { f.fits(v); return nil }
	var strokes []widgets.Option
	for _, s := range valuation.Strokes {
		strokes = append(strokes, widgets.Option{Value: string(s), Text: widgets.Say(s.Label())})
	}
	f.stroke = widgets.NewSegments(strokes...)
	f.draws.SetPlaceHolder(lang.X("cards.draws.example", "gear oil 1 qt; grease 2 oz"))
	f.more = widgets.NewFold(lang.X("cards.more", "A further one takes"), widgets.NewForm(
		widgets.NewField(lang.X("cards.hours", "Hours"), f.moreHours).Spanning(),
		widgets.NewField(lang.X("cards.parts", "Parts and outside work"), f.moreParts).WithHint(lang.X("cards.more.hint", "left empty, the same again as the first")).Spanning()))
	f.choose.OnValue = func(id string) error { f.show(id); return nil }
	form := widgets.Column(look.Gap,
		widgets.NewField(lang.X("jobs.card", "Job card"), f.choose), f.note,
		widgets.NewForm(
			widgets.NewField(lang.X("cards.name", "Name"), f.name).Spanning(),
			widgets.NewField(lang.X("cards.per", "Its figures are for"), f.per),
			widgets.NewField(lang.X("cards.stroke", "Only for"), f.stroke),
			widgets.NewField(lang.X("cards.hours", "Hours"), f.hours).Spanning(),
			widgets.NewField(lang.X("cards.parts", "Parts and outside work"), f.parts).Spanning(),
			widgets.NewField(lang.X("cards.draws", "Consumables off the shelf"), f.draws).WithHint(lang.X("cards.draws.hint", "a good, how much, a unit; with semicolons between")).Spanning()),
		f.more,
		widgets.Flow(look.Gap, widgets.NewQuietButton(lang.X("cards.remove", "Remove this card"), theme.DeleteIcon(), f.remove)))
	f.dialog = widgets.NewDialog(p.host.Window().Canvas(), lang.X("cards.title", "Job cards"), form, lang.X("cards.do", "Save the card"), f.save).
		SetFirst(f.choose).SetWidth(680)
	f.offer()
	if id == "" {
		id = p.shop.Cards()[0].ID
	}
	f.choose.SetValue(id)
	f.show(id)
	f.dialog.Show()
}

func (f *cardForm) offer() {
	options := []widgets.Option{}
	for _, c := range f.p.shop.Cards() {
		options = append(options, widgets.Option{Value: c.ID, Text: c.Name})
	}
	options = append(options, widgets.Option{Value: newCardValue, Text: lang.X("cards.new", "a new card")})
	f.choose.SetOptionsOf(options...)
}

func (f *cardForm) fits(per string) {
	f.more.Hidden = per == string(costing.PerMotor)
	f.dialog.Fail(nil)
}

func (f *cardForm) show(id string) {
	c, err := f.p.shop.Card(id)
	if err != nil {
		c = costing.Card{Per: costing.PerMotor}
	}
	f.card = c
	f.name.Set(c.Name)
	f.per.SetValue(string(c.Per))
	f.stroke.SetValue(string(c.Stroke))
	f.hours.SetValue(c.Hours)
	f.parts.SetValue(c.Parts)
	f.moreHours.SetValue(c.MoreHours)
	f.moreParts.SetValue(c.MoreParts)
	f.draws.Set(f.p.drawsText(c.Draws))
	words := ""
	if c.Starting {
		words = lang.X("cards.starting", "Starting figures: common practice, from memory, no source. They are yours once you change them.")
	}
	if h, known := f.p.shop.Overruns().Cards[c.ID]; known && h.Hours.Known() {
		low, high := h.Hours.Range()
		if words != "" {
			words += " "
		}
		words += lang.X("cards.habit", "On {{.Count}} done {{if eq .Count 1}}job{{else}}jobs{{end}} it took {{.Times}} times its hours, eight times in ten between {{.Low}} and {{.High}}.", map[string]any{
			"Count": h.Hours.Count, "Times": widgets.FormatNumber(h.Hours.Typical(), 1), "Low": widgets.FormatNumber(low, 1), "High": widgets.FormatNumber(high, 1)})
	}
	f.note.Hidden = words == ""
	f.note.SetText(words)
	f.fits(string(c.Per))
}

func (f *cardForm) save() error {
	c := f.card
	c.Name, c.Per, c.Stroke = f.name.Text, costing.Per(f.per.Value()), valuation.Stroke(f.stroke.Value())
	c.Hours, c.Parts = f.hours.Value(), f.parts.Value()
	c.MoreHours, c.MoreParts = costing.ThreePoint{}, costing.ThreePoint{}
	if c.Per != costing.PerMotor {
		c.MoreHours, c.MoreParts = f.moreHours.Value(), f.moreParts.Value()
	}
	var err error
	if c.Draws, err = f.p.shop.ParseDraws(f.draws.Text, c.Draws); err != nil {
		return err
	}
	_, err = f.p.shop.SaveCard(c)
	return err
}

func (f *cardForm) remove() {
	if f.card.ID == "" {
		f.dialog.Fail(errors.New(lang.X("cards.remove.new", "It is not saved yet.")))
		return
	}
	if err := f.p.shop.DeleteCard(f.card.ID); err != nil {
		f.dialog.Fail(err)
		return
	}
	f.p.host.Status(lang.X("cards.removed", "Removed the job card {{.Card}}; jobs it became stay. Undo brings it back.", map[string]any{"Card": f.card.Name}))
	f.dialog.Close()
}

// drawsText writes what a card takes off the shelf as it is typed.
func (p *Screen) drawsText(draws []costing.CardDraw) string {
	names := map[string]string{}
	for _, g := range p.shop.Goods() {
		names[g.Good.ID] = g.Good.Name
	}
	var all []string
	for _, d := range draws {
		all = append(all, strings.TrimSpace(names[d.GoodID]+" "+costing.Measure(d.Quantity, d.Unit)))
	}
	return strings.Join(all, "; ")
}
