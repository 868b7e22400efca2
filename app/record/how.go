package record

import (
	"fyne.io/fyne/v2/lang"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// howPart is how all this was worked out: the one place where symbols stand.
type howPart struct {
	fold     *widgets.Fold
	evidence *widgets.Text
}

func newHowPart() *howPart {
	w := &howPart{evidence: widgets.NewText("")}
	title := widgets.NewTitle
	w.fold = widgets.NewFold(lang.X("app.how", "How this was worked out"), widgets.Column(look.Gap,
		title(lang.X("record.how.model", "The model")),
		widgets.NewText(lang.X("record.how.model.1", "Each sale is a row: y is the natural logarithm of the price, and x is the motor in columns (power, age, stroke, state, looks and so on, and an offset for each make). A difference then multiplies the price, wherever on the scale the motor stands.")),
		widgets.NewText(lang.X("record.how.model.2", "y = x'β + ε,  ε ~ N(0, s²/w)\nβ given s² ~ N(m, s²τ²D),  s² ~ inverse gamma(a, b)")),
		widgets.NewText(lang.X("record.how.model.3", "m and D are the trade prior above. A fact that is not known stands at what is usual, and w falls, so that the sale says less and the band grows wider; no sale is dropped for it. How far the prior is trusted, τ, is one of three steps, the one under which your sales are likeliest. The prior and the sales are joined exactly, in closed form, by a QR decomposition. The price of a motor then follows a Student t distribution around x'β on the scale of y; the middle of a band is its median.")),
		w.evidence,
		title(lang.X("record.how.out", "The record")),
		widgets.NewText(lang.X("record.how.out.1", "Each sale is predicted from all the others, with itself left out, as if it had never been seen: for sale i the row is taken out of the equations, and the band is what the rest say of x at i. That is done exactly, without fitting anew for each.")),
		title(lang.X("record.how.coverage", "What coverage means")),
		widgets.NewText(lang.X("record.how.coverage.1", "A band of 80 % should hold the price in 80 of 100 sales. With few sales the count strays by chance alone: the table says which counts a band that is right would give in nine records out of ten, by the binomial distribution. Within them there is no sign that the bands are wrong, which is less than proof that they are right.")),
		title(lang.X("record.how.limits", "Limits")),
		widgets.NewText(lang.X("record.how.limits.1", "The trust τ in the prior was settled on all sales, the one left out included, which flatters the record a little.\nLeaving one out of a history looks back as well as forward; it does not show how bands made last year did on this year's prices.\nMotors that did not sell are not in the record: if the hard ones stay in the shop, the bands are for motors that sell.\nSales of one shop hang together, by season, channel and the person who sells; the counts by chance take them as independent.\nSales that were left out are in neither the bands nor the record.")),
	))
	return w
}

func (w *howPart) show(s costing.Settings) {
	w.evidence.SetText(lang.X("record.how.age", "Old sales fade: one counts half after {{.Years}} years, by your settings, and scatters no less for it.", map[string]any{"Years": widgets.FormatNumber(s.HalfLife, 1)}))
}
