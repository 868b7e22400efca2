package review

import (
	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// life is one motor's way through the shop, as the period sees it.
type life struct {
	*costing.Record
	bought  bool
	entered day.Day // from here on its costs stand in stock
	known   bool    // that day is the day it was bought
	left    day.Day // 0 while it is here
	by      costing.Way
	name    string

	stock money.Amount // what it carries at the period's end
}

// motor books one record.
func (y *yearbook) motor(r *costing.Record) {
	if r.Stage == costing.History {
		if r.Sale != nil && y.Period.Has(r.Sale.Sold) {
			y.HistorySales++
			y.HistoryTotal += r.Sale.Price
		}
		return
	}
	m := life{Record: r, bought: r.EverBought(), name: r.Name()}
	m.entered, m.known = r.Entered()
	var leftKnown bool
	m.left, m.by, leftKnown = r.Left()
	sold := m.by == costing.BySale && y.Period.Has(m.left)

	y.deposits(&m)
	for i := range r.Lines {
		y.line(&m, &r.Lines[i], sold)
	}
	for i := range r.Sessions {
		y.session(&m, &r.Sessions[i], sold)
	}
	if sold {
		y.sold(&m)
	}
	y.taxed(&m)
	if r.Consigned() {
		y.commission(&m)
	}
	y.closeMotor(&m)
	y.odd.see(&m, leftKnown, y.Period)
}

// on is the day a cost of the motor counts from: of a motor bought, not before it entered stock; of
// one never bought, the day itself, or the day the motor was seen where it has none.
func (m *life) on(dated day.Day) day.Day {
	switch {
	case m.bought:
		return max(dated, m.entered)
	case dated == 0:
		return m.SeenOn
	}
	return dated
}

func (m *life) soldBefore(d day.Day) bool { return m.by == costing.BySale && m.left < d }

// line books one cost line.
func (y *yearbook) line(m *life, l *costing.Line, soldNow bool) {
	on := m.on(l.On)
	now := y.Period.Has(on)
	group := l.Kind.Group()
	fromShelf := y.fromShelf(l, now)
	e := m.entry(l)
	if now && l.Kind == costing.Trip {
		y.Trips.Count++
		y.Trips.Cost += l.Total
		if m.bought {
			y.Trips.Carried += l.Total
		} else {
			y.Trips.NotBought += l.Total
		}
	}
	if now && l.FromOwner {
		y.post(PutIn, l.Total, e)
	}
	if now && l.Origin == costing.FromPool {
		y.post(Bills, -l.Total, e) // the bill is an expense; this much of it is in a motor instead
	}
	switch {
	case group == costing.Owed:
		if on <= y.Period.To {
			y.post(OwedToYou, l.Total, e)
		}
	case group == costing.WrittenDown:
		if m.bought && !m.AfterSold(on) {
			y.writeDown(m, on, -l.Total, soldNow, e)
		}
	case m.Consigned():
		if now {
			y.spend(m, forOther(l.Kind), l.Total, false, e)
			y.expensed(fromShelf, l, e)
		}
	case !m.bought:
		if on == 0 {
			y.odd.undated += l.Total
		}
		if now {
			y.post(NeverBought, l.Total, e)
			y.expensed(fromShelf, l, e)
		}
	case y.pieceLine(m, l, on, e):
	case group.Carried() && !m.AfterSold(on):
		if now && fromShelf {
			y.charged(l, e)
		}
		y.carry(m, on, l.Total, scheduleOf(group, fromShelf), e)
		if now && l.Kind == costing.PartDonor {
			y.donorParts += l.Total
		}
	case now:
		y.spend(m, l.Kind, l.Total, soldNow, e)
		if group.Carried() {
			y.expensed(fromShelf, l, e)
			if l.Kind == costing.PartDonor {
				y.donorParts += l.Total
			}
		}
	case soldNow && on < y.Period.From:
		y.soldNow.earlier += l.Total
	}
}

// session books one session of work.
func (y *yearbook) session(m *life, w *costing.Session, soldNow bool) {
	on := m.on(w.On)
	now := y.Period.Has(on)
	worth := w.Worth(y.in.Settings.OwnRate)
	e := m.worked(w)
	switch {
	case !w.Paid:
		if now {
			y.WorkedHours += w.Time
		}
		if y.ownTimeCounts(m, on, now) {
			y.OtherHours += w.Time
			y.post(OwnTime, worth, e)
		}
	case m.Consigned():
		if now {
			y.spend(m, forOther(costing.Outside), worth, false, e)
		}
	case !m.bought:
		if on == 0 {
			y.odd.undated += worth
		}
		if now {
			y.post(NeverBought, worth, e)
		}
	case m.AfterSold(on):
		if now {
			y.spend(m, costing.Comeback, worth, soldNow, e)
		}
	default:
		y.carry(m, on, worth, PaidLabour, e)
	}
}

// ownTimeCounts tells whether own time stands behind an expense of the period other than the cost of a
// motor sold in it: after an earlier sale, on a motor never bought, or on one that was lost.
func (y *yearbook) ownTimeCounts(m *life, on day.Day, now bool) bool {
	switch {
	case !m.bought, m.soldBefore(y.Period.From):
		return now
	case m.by == costing.ByLoss:
		return y.Period.Has(max(on, m.left))
	}
	return false
}

// carry books a cost that enters the motor's carrying amount on a day: into the schedule's heading when
// that is in the period, into opening or closing stock where the motor stands in it, and out of stock
// when the motor leaves, or at once when it is gone already.
func (y *yearbook) carry(m *life, on day.Day, a money.Amount, heading Figure, e Entry) {
	gone := day.Day(0)
	if m.by != costing.StillHere {
		gone = max(m.left, on)
	}
	y.tie(a, on, gone)
	if y.Period.Has(on) && heading != nowhere {
		y.post(heading, a, e)
	}
	if on < y.Period.From && (gone == 0 || gone >= y.Period.From) {
		y.post(OpeningMotors, a, e)
	}
	if on <= y.Period.To && (gone == 0 || gone > y.Period.To) {
		y.post(ClosingMotors, a, e)
		m.stock += a
	}
	if gone == 0 || !y.Period.Has(gone) {
		return
	}
	switch m.by {
	case costing.BySale:
		y.post(CostOfSales, a, e)
	case costing.ByKeeping:
		y.post(StockDrawings, a, e)
	case costing.ByLoss:
		y.post(WrittenOff, a, e)
	}
}

// nowhere stands for the heading of what the schedule has elsewhere already.
const nowhere Figure = ""

// writeDown takes off what a motor carries and will not bring. It is a loss of its day: later the motor
// leaves at that much less.
func (y *yearbook) writeDown(m *life, on day.Day, a money.Amount, soldNow bool, e Entry) {
	y.carry(m, on, -a, nowhere, e)
	now := y.Period.Has(on)
	if now {
		y.post(WrittenDown, a, e)
	}
	switch {
	case !soldNow:
	case now:
		y.soldNow.writtenDownNow += a
	default:
		y.soldNow.earlier += a
	}
}

// spend books what is an expense of the period, or lowers its sales.
func (y *yearbook) spend(m *life, k costing.Kind, a money.Amount, soldNow bool, e Entry) {
	to, own := AfterSale, &y.soldNow.afterSaleNow
	switch {
	case k == costing.Refund:
		to, own = Refunds, &y.soldNow.refundsNow
	case k.Group() == costing.Selling:
		to, own = Selling, &y.soldNow.sellingNow
	case m.soldBefore(y.Period.From):
		y.EarlierAfterSale += a
	}
	y.post(to, a, e)
	if soldNow {
		*own += a
	}
}

// scheduleOf is the heading of the schedule that a group's costs go under. What was drawn from the shelf
// was bought for the shelf, and is no purchase of its own.
func scheduleOf(g costing.Group, fromShelf bool) Figure {
	switch {
	case fromShelf:
		return nowhere
	case g == costing.Buying:
		return Bought
	case g == costing.Parts:
		return Parts
	case g == costing.Consumables:
		return Consumables
	}
	return Other
}

// sold books the motor's own result, as far as it was known at the period's end.
func (y *yearbook) sold(m *life) {
	sheet := m.Sheet(y.Period.To, y.in.Settings.OwnRate)
	x := MotorResult{
		ID: m.ID, Name: m.Name(), Tag: m.Tag, Motor: m.Motor, Channel: m.Sale.Channel, Bought: m.BoughtOn, Sold: m.left,
		Sheet: sheet, Result: m.Sale.Result(sheet), SaleTax: costing.TaxOf(m.Record, y.in.TaxRules, y.recovered),
	}
	x.Result = x.Result.Taxed(x.SaleTax.Inside)
	if m.BoughtOn != 0 && m.BoughtOn <= m.left {
		x.DaysHeld, x.DaysKnown = int(m.left-m.BoughtOn), true
	}
	x.Estimate, x.cashDays = y.estimate(m), y.cashDays(m)
	y.Sold = append(y.Sold, x)
	y.post(Sales, x.Price, m.sale("sold"))
	y.post(Freight, x.Freight, m.sale("freight"))
	y.TakenIn += m.Sale.Exchange.Value
	y.OverAllowed += m.Sale.Exchange.Over()
	y.SoldHours += x.OwnHours
	for i := range m.Sessions {
		if w := &m.Sessions[i]; !w.Paid && w.On <= y.Period.To {
			y.post(OwnTime, w.Worth(y.in.Settings.OwnRate), m.worked(w))
		}
	}
}

// closeMotor lists the motor if it stands in stock at the period's end.
func (y *yearbook) closeMotor(m *life) {
	gone := m.by != costing.StillHere && m.left <= y.Period.To
	if !m.bought || gone || m.entered > y.Period.To {
		return
	}
	l := StockLine{ID: m.ID, Name: m.Name(), Tag: m.Tag, What: MotorStock, Stage: m.Stage, Cost: m.stock, Away: m.Away}
	if m.Stage == costing.Broken && m.LeftOn <= y.Period.To {
		l.What = DonorStock
	}
	if m.known {
		l.Since, l.Days, l.DaysKnown = m.BoughtOn, int(max(y.until-m.BoughtOn, 0)), true
	}
	y.ClosingStock = append(y.ClosingStock, l)
	if m.stock < 0 {
		y.odd.negative.add(l.Name)
	}
}
