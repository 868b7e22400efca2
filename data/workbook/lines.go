package workbook

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// stand is one of the three columns that say which figures a line stands in: a cost comes in under one
// heading of the schedule and goes out, or still stands, under another; all else counts by itself.
type stand int

const (
	comesIn stand = iota
	goesOut
	countsAs
	stands
)

var standOf = map[review.Figure]stand{
	review.OpeningMotors: comesIn, review.OpeningShelf: comesIn, review.OpeningThings: comesIn,
	review.Bought: comesIn, review.Things: comesIn, review.Parts: comesIn, review.Consumables: comesIn,
	review.ShelfBought: comesIn, review.PaidLabour: comesIn, review.Other: comesIn,
	review.ClosingMotors: goesOut, review.ClosingShelf: goesOut, review.ClosingThings: goesOut,
	review.CostOfSales: goesOut, review.StockDrawings: goesOut, review.WrittenOff: goesOut,
	review.ShelfUsed: goesOut, review.ShelfExpensed: goesOut, review.StockDifferences: goesOut,
}

// columnOf is the column in which a figure's lines carry its name.
func columnOf(f review.Figure) stand {
	if s, ok := standOf[f]; ok {
		return s
	}
	return countsAs
}

var standKeys = [stands]string{"in", "out", "counts"}

// group is where a line stands on the sheet of its motor.
type group string

const (
	asPrice     group = "price"
	asFreight   group = "freight"
	asRefund    group = "refund"
	asBuying    group = "buying"
	asParts     group = "parts"
	asUsed      group = "consumables"
	asOutside   group = "outside"
	asOverhead  group = "overhead"
	asLabour    group = "labour"
	asDown      group = "down"
	asSelling   group = "selling"
	asAfterSale group = "after-sale"
)

var groupNames = map[group]say.Sentence{
	asPrice:     say.New("workbook.group.price", "price"),
	asFreight:   say.New("workbook.group.freight", "freight charged"),
	asRefund:    say.New("workbook.group.refund", "refund"),
	asBuying:    say.New("workbook.group.buying", "bought, brought in"),
	asParts:     say.New("workbook.group.parts", "parts"),
	asUsed:      say.New("workbook.group.consumables", "consumables"),
	asOutside:   say.New("workbook.group.outside", "outside work"),
	asOverhead:  say.New("workbook.group.overhead", "overhead"),
	asLabour:    say.New("workbook.group.labour", "paid labour"),
	asDown:      say.New("workbook.group.down", "written down"),
	asSelling:   say.New("workbook.group.selling", "selling"),
	asAfterSale: say.New("workbook.group.aftersale", "after the sale"),
}

var groupOf = map[costing.Group]group{
	costing.Buying: asBuying, costing.Parts: asParts, costing.Consumables: asUsed, costing.OutsideWork: asOutside,
	costing.Workshop: asOverhead, costing.Selling: asSelling, costing.AfterSale: asAfterSale,
}

// entry is one row of the sheet of lines: what was written down, once, and the figures it stands in.
type entry struct {
	what   review.EntryKind
	ofID   string
	of     string
	tag    string
	on     day.Day
	kind   string
	key    string // of the kind
	text   string
	line   *costing.Line // with quantity and supplier, or nil
	worked int           // of paid time: its row on the sheet of hours, from 1
	amount money.Amount
	group  group
	stands [stands]review.Figure

	first int // where the line was first met
	again int // rows above to the one whose amount this repeats, 0 for none
	minus bool
}

// ledger is every line behind the year, those of one motor, good or receipt together.
type ledger struct {
	b       *book
	entries []entry
	at      map[source]int32  // by what was written down: its first row
	next    []int32           // from one row to the next of the same, -1 at the end
	blocks  map[source][2]int // the rows of one motor, good, piece or receipt
	kinds   map[string]string
}

// source is what was written down: of what, and which line of it.
type source struct {
	what   review.EntryKind
	of, id string
}

// entriesOf gathers the lines: every entry of every figure, and of the motors sold also what counted in
// earlier periods, since it stands in their own results.
func (b *book) entriesOf(hours *workedRows) *ledger {
	g := &ledger{b: b, blocks: make(map[source][2]int), kinds: make(map[string]string)}
	type placed struct {
		r *costing.Record
		l *costing.Line
	}
	count := 0
	for i := range b.Records {
		count += len(b.Records[i].Lines)
	}
	lines := make(map[source]placed, count)
	sessions := make(map[source]*costing.Session)
	g.entries, g.next, g.at = make([]entry, 0, count+count/4), make([]int32, 0, count+count/4), make(map[source]int32, count+count/4)
	for i := range b.Records {
		r := &b.Records[i]
		if r.Stage == costing.History {
			continue
		}
		for j := range r.Lines {
			l := &r.Lines[j]
			if l.ID != "" {
				lines[source{review.OfMotor, r.ID, l.ID}] = placed{r, l}
			}
			if b.soldNow[r.ID] && l.On <= b.Review.Period.To {
				g.add(entry{what: review.OfMotor, ofID: r.ID, of: b.names[r.ID], tag: r.Tag, on: l.On, kind: g.kind(l.Kind.Name()), key: l.Kind.Name().Key, text: l.Text,
					line: l, amount: l.Total, group: groupFor(r, l)}, l.ID)
			}
		}
		for j := range r.Sessions {
			s := &r.Sessions[j]
			if s.ID != "" {
				sessions[source{review.OfMotor, r.ID, s.ID}] = s
			}
			if s.Paid && b.soldNow[r.ID] && s.On <= b.Review.Period.To {
				g.add(b.paidEntry(r, s, hours), s.ID)
			}
		}
	}
	for _, f := range review.Figures {
		if len(f.Terms()) > 0 {
			continue
		}
		b.Review.Each(f, func(e *review.Entry) {
			fresh := entry{what: e.What, ofID: e.OfID, of: e.Of, on: e.On, key: e.Kind.Key, text: e.Text, amount: e.Amount}
			if e.What == review.OfMotor {
				fresh.tag = b.tags[e.OfID]
				if p, ok := lines[source{review.OfMotor, e.OfID, e.ID}]; ok && p.l.Kind.Name().Key == e.Kind.Key {
					fresh.line, fresh.group = p.l, groupFor(p.r, p.l)
				}
				if s := sessions[source{review.OfMotor, e.OfID, e.ID}]; s != nil && e.Kind.Key == "entry.hours" {
					fresh.worked = hours.at[s] + 1
					if s.Paid {
						fresh.group = asLabour
					}
				}
				switch e.Kind.Key {
				case "entry.sold":
					fresh.group = asPrice
				case "entry.freight":
					fresh.group = asFreight
				}
			}
			g.place(f, fresh, e)
		})
	}
	g.sort()
	return g
}

// paidEntry is paid time as a cost.
func (b *book) paidEntry(r *costing.Record, s *costing.Session, hours *workedRows) entry {
	e := entry{what: review.OfMotor, ofID: r.ID, of: b.names[r.ID], tag: r.Tag, on: s.On, kind: b.Say(paidLabour), key: "entry.hours", text: s.Task,
		amount: s.Worth(b.Settings.OwnRate), group: asLabour, worked: hours.at[s] + 1}
	if r.AfterSold(s.On) {
		e.group = asAfterSale
	}
	return e
}

// groupFor is where a line counts on its motor's own sheet, as [costing.Record.Sheet] adds it up.
func groupFor(r *costing.Record, l *costing.Line) group {
	g := l.Kind.Group()
	switch {
	case l.Kind == costing.Refund:
		return asRefund
	case g == costing.Owed:
		return ""
	case g == costing.WrittenDown && r.AfterSold(l.On):
		return ""
	case g == costing.WrittenDown:
		return asDown
	case g.Carried() && r.AfterSold(l.On):
		return asAfterSale
	}
	return groupOf[g]
}

// kind says what kind of thing a line is, once for each kind.
func (g *ledger) kind(s say.Sentence) string {
	if s.Data != nil {
		return g.b.Say(s)
	}
	said, ok := g.kinds[s.Key]
	if !ok {
		said = g.b.Say(s)
		g.kinds[s.Key] = said
	}
	return said
}

func (g *ledger) add(e entry, id string) int {
	at := len(g.entries)
	e.first = at
	g.entries, g.next = append(g.entries, e), append(g.next, -1)
	if id == "" {
		return at
	}
	key := source{e.what, e.ofID, id}
	first, met := g.at[key]
	if !met {
		g.at[key] = int32(at)
		return at
	}
	last := first
	for g.next[last] >= 0 {
		last = g.next[last]
	}
	g.next[last] = int32(at)
	return at
}

// place notes a figure on the line it is of; where the line stands in another figure of that column already,
// or stands in this one with another amount, in a row of its own beneath it.
func (g *ledger) place(f review.Figure, fresh entry, e *review.Entry) {
	column := columnOf(f)
	like := int32(-1)
	if e.ID != "" {
		if at, met := g.at[source{e.What, e.OfID, e.ID}]; met {
			for ; at >= 0; at = g.next[at] {
				old := &g.entries[at]
				if old.key != e.Kind.Key {
					continue
				}
				if old.amount == e.Amount && old.stands[column] == "" {
					old.stands[column] = f
					return
				}
				if like < 0 {
					like = at
				}
			}
		}
	}
	fresh.kind = g.kind(e.Kind)
	fresh.stands[column] = f
	at := g.add(fresh, e.ID)
	if like < 0 {
		return
	}
	one := &g.entries[at]
	one.first, one.group, one.line, one.worked = g.entries[like].first, "", nil, 0
	if base := g.entries[like].amount; one.amount == base || one.amount == -base {
		one.again, one.minus = -1, one.amount != base // how far above is known once they are sorted
	}
}

var kindOrder = map[review.EntryKind]int{review.OfMotor: 0, review.OfPiece: 1, review.OfGood: 2, review.OfReceipt: 3}

// sort puts what belongs together together, and notes where.
func (g *ledger) sort() {
	g.at, g.next = nil, nil
	slices.SortStableFunc(g.entries, func(a, b entry) int {
		if a.ofID == b.ofID && a.what == b.what {
			return cmp.Or(cmp.Compare(a.on, b.on), cmp.Compare(a.first, b.first))
		}
		return cmp.Or(cmp.Compare(kindOrder[a.what], kindOrder[b.what]), strings.Compare(a.of, b.of), strings.Compare(a.ofID, b.ofID))
	})
	from := 0
	for i := range g.entries {
		e := &g.entries[i]
		if e.again != 0 {
			e.again = 0
			for up := i - 1; up >= 0 && g.entries[up].first == e.first; up-- {
				e.again = i - up
			}
		}
		if i+1 == len(g.entries) || g.entries[i+1].ofID != e.ofID || g.entries[i+1].what != e.what {
			g.blocks[source{what: e.what, of: e.ofID}] = [2]int{from, i + 1}
			from = i + 1
		}
	}
}

// block is where the lines of one motor, good, piece or receipt stand.
func (g *ledger) block(what review.EntryKind, id string) (from, to int) {
	at := g.blocks[source{what: what, of: id}]
	return at[0], at[1]
}

// lines is the sheet of every line.
func (b *book) lines(g *ledger, hours *table) *table {
	t := &table{
		name:  "Lines",
		about: say.New("workbook.about.lines", "every line behind the year, and the figures it stands in"),
		title: say.New("workbook.lines.title", "Every line behind {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{
			say.New("workbook.lines.note",
				"Change an amount here and it flows into its motor, the schedule and the cover. A line comes into stock under one heading and goes out, or still stands, under another; costs that never were in stock count by themselves. Of motors sold, lines of earlier periods stand here too."),
			say.New("workbook.lines.insert", "New lines belong between those of their own motor, so that its sums take them in."),
		},
		empty: say.New("workbook.lines.none", "Nothing is written down."),
		columns: []column{
			{key: "day", head: say.New("workbook.col.day", "Day"), kind: date, only: onlyDay},
			{key: "of", head: say.New("workbook.col.of", "Motor, good or receipt"), widest: 26},
			{key: "tag", head: say.New("workbook.col.tag", "Tag")},
			{key: "kind", head: say.New("workbook.col.kind", "What for"), widest: 22},
			{key: "text", head: say.New("workbook.col.text", "Text"), widest: 36},
			{key: "supplier", head: say.New("workbook.col.supplier", "Supplier"), widest: 24},
			{key: "quantity", head: say.New("workbook.col.quantity", "Quantity"), kind: measure, only: onlyNumber},
			{key: "unit", head: say.New("workbook.col.unit", "Unit")},
			{key: "each", head: say.New("workbook.col.each", "Each"), kind: amount, only: onlyNumber},
			{key: "amount", head: say.New("workbook.col.amount", "Amount"), kind: amount, only: onlyNumber},
			{key: "group", head: say.New("workbook.col.group", "On the motor's sheet"), widest: 20, list: b.words.groups},
			{key: "in", head: say.New("workbook.col.in", "Comes in as"), widest: 34, list: b.words.figures[comesIn]},
			{key: "out", head: say.New("workbook.col.out", "Goes out or stands as"), widest: 34, list: b.words.figures[goesOut]},
			{key: "counts", head: say.New("workbook.col.counts", "Counts as"), widest: 34, list: b.words.figures[countsAs]},
		},
		count: len(g.entries),
	}
	figure := func(f review.Figure) any {
		if f == "" {
			return nil
		}
		return b.figures[f]
	}
	amountLetter, quantityLetter, eachLetter := t.letter("amount"), t.letter("quantity"), t.letter("each")
	t.row = func(i int) []any {
		e := &g.entries[i]
		var supplier, unit string
		var quantity, each any
		sum := any(e.amount)
		row := t.firstRow() + i
		if l := e.line; l != nil {
			supplier, quantity, unit, each = l.Supplier, l.Quantity, l.Unit, l.Each
			if product(l.Quantity, l.Each) == e.amount && !halfway(l.Quantity, l.Each) && l.Each != 0 {
				sum = cell{e.amount, fmt.Sprintf("ROUND(%s%d*%s%d,%d)", quantityLetter, row, eachLetter, row, b.Currency.Digits())}
			}
		}
		switch {
		case e.again > 0 && e.minus:
			sum = cell{e.amount, fmt.Sprintf("-%s%d", amountLetter, row-e.again)}
		case e.again > 0:
			sum = cell{e.amount, fmt.Sprintf("%s%d", amountLetter, row-e.again)}
		case e.worked > 0:
			sum = cell{e.amount, hours.cellAt("worth", e.worked-1)}
		}
		var group any
		if e.group != "" {
			group = b.groups[e.group]
		}
		return []any{dayOrNone(e.on), e.of, e.tag, e.kind, e.text, supplier, quantity, unit, each, sum,
			group, figure(e.stands[comesIn]), figure(e.stands[goesOut]), figure(e.stands[countsAs])}
	}
	return t
}

// product of a quantity and what one costs, as a line's total is worked out.
func product(quantity float64, each money.Amount) money.Amount {
	return money.Round(quantity * float64(each))
}

// halfway tells whether a product lies so near the middle between two amounts that another program might
// round it the other way.
func halfway(quantity float64, each money.Amount) bool {
	_, part := math.Modf(math.Abs(quantity * float64(each)))
	return math.Abs(part-0.5) < 1e-6
}

// plainFigure is the formula of a figure over the lines.
func (b *book) plainFigure(t *table, f review.Figure) string {
	return t.sumIf("amount", standKeys[columnOf(f)], b.figures[f])
}

// groupIn is what the lines of a motor come to that stand in one group: the formula over its lines, and
// the value.
func (b *book) groupIn(t *table, g *ledger, id string, as group, sign money.Amount) cell {
	from, to := g.block(review.OfMotor, id)
	if from == to {
		return cell{value: money.Amount(0)}
	}
	var sum money.Amount
	for i := from; i < to; i++ {
		if g.entries[i].group == as {
			sum += g.entries[i].amount
		}
	}
	formula := fmt.Sprintf("SUMIF(%s,%s,%s)", t.stretch("group", from, to), text(b.groups[as]), t.stretch("amount", from, to))
	if sign < 0 {
		formula = "-" + formula
	}
	return cell{sum * sign, formula}
}

// standing is what the lines of something come to that stand in a figure.
func (b *book) standing(t *table, g *ledger, what review.EntryKind, id string, f review.Figure) cell {
	from, to := g.block(what, id)
	if from == to {
		return cell{value: money.Amount(0)}
	}
	column := columnOf(f)
	var sum money.Amount
	for i := from; i < to; i++ {
		if g.entries[i].stands[column] == f {
			sum += g.entries[i].amount
		}
	}
	return cell{sum, fmt.Sprintf("SUMIF(%s,%s,%s)", t.stretch(standKeys[column], from, to), text(b.figures[f]), t.stretch("amount", from, to))}
}
