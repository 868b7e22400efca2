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
		widgets.NewText(lang.X("record.how.forward", "Valued by the earlier sales only, each sale is predicted by the model fitted to those before its day, τ and all; sales of one day do not see one another, and those of the first day are not counted. The model is fitted anew after every sale up to 20, and from then on whenever a tenth more sales are known than at the last fit: in between, a band lacks up to the latest tenth of what was known. The anchor and how old sales fade are today's answers.")),
		title(lang.X("record.how.coverage", "What coverage means")),
		widgets.NewText(lang.X("record.how.coverage.1", "A band of 80 % should hold the price in 80 of 100 sales. With few sales the count strays by chance alone: the table says which counts a band that is right would give in nine records out of ten, by the binomial distribution. Within them there is no sign that the bands are wrong, which is less than proof that they are right.")),
		title(lang.X("record.how.tenths", "Tenths of the band")),
		widgets.NewText(lang.X("record.how.tenths.1", "For each sale F(y), the chance that its band, from all the other sales, gave to a price at or below the one it fetched (the probability integral transform). With bands that are right these are spread evenly from 0 to 1; the bars count them by tenths. The range of chance is binomial with chance 1/10, from its 0.5 % to its 99.5 % point, so that all ten bars keep to it in at least nine records out of ten. That too many lie above the middle, or at the ends, is said when the count lies outside the 5 % to 95 % points for chance 1/2, or 1/5.")),
		title(lang.X("record.how.ratio", "The ratio study")),
		widgets.NewText(lang.X("record.how.ratio.1", "The measures are those of the International Association of Assessing Officers, Standard on Ratio Studies (2013), sections 5 and 9 and table 1-3. The ratio r of a sale is the middle of the band that the others gave it, a, over its price s.")),
		widgets.NewText(lang.X("record.how.ratio.2", "M = median of r;  acceptable from 0.90 to 1.10\nCOD = 100 · mean |r − M| / M,  coefficient of dispersion; 5 to 20 for mixed kinds\nPRD = mean(r) / (Σa / Σs),  price-related differential; 0.98 to 1.03\nPRB = slope of (r − M) / M on log2((a / M + s) / 2),  price-related bias; −0.05 to 0.05")),
		widgets.NewText(lang.X("record.how.ratio.3", "The range of the PRB is its 95 % range by least squares, with n − 2 degrees of freedom; one that lies wholly outside −0.10 to 0.10 is unacceptable by the standard. For personal property the standard leaves the COD to local conditions; the range shown is that of mixed residential kinds. The standard was written for assessed values and their yearly roll: here it is a measure of the middles, and the bands are judged by how often they held.\nA price that came out high by luck makes its own r low: by that alone the PRD lies above 1, by about the variance of ln s around the band, and the PRB a little below 0.")),
		title(lang.X("record.how.limits", "Limits")),
		widgets.NewText(lang.X("record.how.limits.1", "The trust τ in the prior was settled on all sales, the one left out included, which flatters the record a little.\nLeaving one out of a history looks back as well as forward; how bands made at the time did, only the lines valued by the earlier sales show.\nMotors that did not sell are not in the record: if the hard ones stay in the shop, the bands are for motors that sell.\nSales of one shop hang together, by season, channel and the person who sells; the counts by chance take them as independent.\nSales that were left out are in neither the bands nor the record.")),
	))
	return w
}

func (w *howPart) show(s costing.Settings) {
	w.evidence.SetText(lang.X("record.how.age", "Old sales fade: one counts half after {{.Years}} years, by your settings, and scatters no less for it.", map[string]any{"Years": widgets.FormatNumber(s.HalfLife, 1)}))
}
