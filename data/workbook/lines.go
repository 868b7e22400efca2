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

// group is where a line stands on the sheet of its motor; 0 is nowhere.
type group uint8

const (
	asPrice group = iota + 1
	asFreight
	asRefund
	asBuying
	asParts
	asUsed
	asOutside
	asOverhead
	asLabour
	asDown
	asSelling
	asAfterSale
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

// entry is one row of the sheet of lines: what was written down, once, and the figures it stands in. There
// are as many as the shop has lines, so what they share stands elsewhere.
type entry struct {
	of     *owner
	kind   *kindWord
	line   *costing.Line // with quantity and supplier, or nil
	text   string
	amount money.Amount
	on     day.Day
	worked int32 // of paid time: its row on the sheet of hours, from 1
	first  int32 // where the line was first met
	again  int32 // rows above to the one whose amount this repeats, 0 for none
	stands [stands]figureNumber
	group  group
	minus  bool
}

// owner is what lines are of: a motor, good, piece or receipt.
type owner struct {
	what     review.EntryKind
	id, name string
	tag      string
	record   *costing.Record // of a motor
}

// kindWord is what kind of thing a line is: its key, and as it is said.
type kindWord struct{ key, said string }

// said tells sentences apart.
type said struct{ key, text, fill string }

// figureNumber tells one of the review's figures, from 1.
type figureNumber uint8

var numberOf = func() map[review.Figure]figureNumber {
	all := make(map[review.Figure]figureNumber, len(review.Figures))
	for i, f := range review.Figures {
		all[f] = figureNumber(i + 1)
	}
	return all
}()

func (n figureNumber) figure() review.Figure { return review.Figures[n-1] }

// ledger is every line behind the year, those of one motor, good or receipt together.
type ledger struct {
	b       *book
	entries []entry
	hours   *workedRows
	owners  map[ownerKey]*owner
	records map[string]*costing.Record
	kinds   map[kindWord]*kindWord
	said    map[said]*kindWord
	at      map[writtenDown]int32 // its first row
	next    []int32               // from one row to the next of the same, -1 at the end
	blocks  map[source][2]int     // the rows of one motor, good, piece or receipt
	inHand  inHand
}

// source is a motor, good, piece or receipt.
type source struct {
	what review.EntryKind
	id   string
}

// ownerKey is a source, and its name where it has no key.
type ownerKey struct {
	source
	name string
}

// writtenDown is a line by what it is of and its own key.
type writtenDown struct {
	of *owner
	id string
}

// inHand is the motor whose lines and sessions were looked up last, by their keys.
type inHand struct {
	record   *costing.Record
	lines    map[string]*costing.Line
	sessions map[string]*costing.Session
}

// entriesOf gathers the lines: every entry of every figure, and of the motors sold also what counted in
// earlier periods, since it stands in their own results.
func (b *book) entriesOf(hours *workedRows) *ledger {
	count := 0
	for i := range b.Records {
		count += len(b.Records[i].Lines)
	}
	g := &ledger{b: b, hours: hours, owners: make(map[ownerKey]*owner), records: make(map[string]*costing.Record, len(b.Records)),
		kinds: make(map[kindWord]*kindWord), said: make(map[said]*kindWord), blocks: make(map[source][2]int),
		entries: make([]entry, 0, count+count/8), next: make([]int32, 0, count+count/8), at: make(map[writtenDown]int32, count)}
	for i := range b.Records {
		r := &b.Records[i]
		if r.Stage == costing.History {
			continue
		}
		g.records[r.ID] = r
		if b.soldNow[r.ID] {
			g.ownLines(r)
		}
	}
	for _, f := range review.Figures {
		if len(f.Terms()) > 0 {
			continue
		}
		number, column := numberOf[f], columnOf(f)
		b.Review.Each(f, func(e *review.Entry) { g.place(number, column, e) })
	}
	g.sort()
	return g
}

// ownLines are the lines of a motor sold, up to the period's end.
func (g *ledger) ownLines(r *costing.Record) {
	b := g.b
	of := g.owner(review.OfMotor, r.ID, b.names[r.ID])
	for i := range r.Lines {
		if l := &r.Lines[i]; l.On <= b.Review.Period.To {
			g.add(entry{of: of, on: l.On, kind: g.kind(l.Kind.Name()), text: l.Text, line: l, amount: l.Total, group: groupFor(r, l)}, l.ID)
		}
	}
	for i := range r.Sessions {
		s := &r.Sessions[i]
		if !s.Paid || s.On > b.Review.Period.To {
			continue
		}
		e := entry{of: of, on: s.On, kind: g.word("entry.hours", b.Say(paidLabour)), text: s.Task,
			amount: s.Worth(b.Settings.OwnRate), group: asLabour, worked: int32(g.hours.at[s] + 1)}
		if r.AfterSold(s.On) {
			e.group = asAfterSale
		}
		g.add(e, s.ID)
	}
}

// owner is what a line is of, each once.
func (g *ledger) owner(what review.EntryKind, id, name string) *owner {
	key := ownerKey{source: source{what, id}}
	if id == "" {
		key.name = name
	}
	of := g.owners[key]
	if of == nil {
		of = &owner{what: what, id: id, name: name}
		if what == review.OfMotor {
			of.tag, of.record = g.b.tags[id], g.records[id]
		}
		g.owners[key] = of
	}
	of.name = cmp.Or(of.name, name)
	return of
}

// open looks up the lines and sessions of a motor by their keys.
func (g *ledger) open(r *costing.Record) *inHand {
	if g.inHand.record != r {
		g.inHand = inHand{r, make(map[string]*costing.Line, len(r.Lines)), make(map[string]*costing.Session, len(r.Sessions))}
		for i := range r.Lines {
			g.inHand.lines[r.Lines[i].ID] = &r.Lines[i]
		}
		for i := range r.Sessions {
			g.inHand.sessions[r.Sessions[i].ID] = &r.Sessions[i]
		}
	}
	return &g.inHand
}

// fresh is a row for an entry of the review.
func (g *ledger) fresh(of *owner, e *review.Entry) entry {
	out := entry{of: of, on: e.On, kind: g.kind(e.Kind), text: e.Text, amount: e.Amount}
	if of.what != review.OfMotor {
		return out
	}
	if r := of.record; r != nil && e.ID != "" {
		there := g.open(r)
		if l := there.lines[e.ID]; l != nil && l.Kind.Name().Key == e.Kind.Key {
			out.line, out.group = l, groupFor(r, l)
		}
		if s := there.sessions[e.ID]; s != nil && e.Kind.Key == "entry.hours" {
			out.worked = int32(g.hours.at[s] + 1)
			if s.Paid {
				out.group = asLabour
			}
		}
	}
	switch e.Kind.Key {
	case "entry.sold":
		out.group = asPrice
	case "entry.freight":
		out.group = asFreight
	}
	return out
}

// groupFor is where a line counts on its motor's own sheet, as [costing.Record.Sheet] adds it up.
func groupFor(r *costing.Record, l *costing.Line) group {
	g := l.Kind.Group()
	switch {
	case l.Kind == costing.Refund:
		return asRefund
	case g == costing.Owed:
		return 0
	case g == costing.WrittenDown && r.AfterSold(l.On):
		return 0
	case g == costing.WrittenDown:
		return asDown
	case g.Carried() && r.AfterSold(l.On):
		return asAfterSale
	}
	return groupOf[g]
}

// kind says what kind of thing a line is.
func (g *ledger) kind(s say.Sentence) *kindWord {
	filled := said{key: s.Key, text: s.Text}
	if len(s.Data) > 0 {
		filled.fill = fmt.Sprint(s.Data)
	}
	kept, ok := g.said[filled]
	if !ok {
		kept = g.word(s.Key, g.b.Say(s))
		g.said[filled] = kept
	}
	return kept
}

// word is a kind as it is said, each once.
func (g *ledger) word(key, said string) *kindWord {
	kept, ok := g.kinds[kindWord{key, said}]
	if !ok {
		kept = &kindWord{key, said}
		g.kinds[*kept] = kept
	}
	return kept
}

func (g *ledger) add(e entry, id string) int {
	at := len(g.entries)
	e.first = int32(at)
	g.entries, g.next = append(g.entries, e), append(g.next, -1)
	if id == "" {
		return at
	}
	key := writtenDown{e.of, id}
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
func (g *ledger) place(f figureNumber, column stand, e *review.Entry) {
	of := g.owner(e.What, e.OfID, e.Of)
	like := int32(-1)
	if e.ID != "" {
		if at, met := g.at[writtenDown{of, e.ID}]; met {
			for ; at >= 0; at = g.next[at] {
				old := &g.entries[at]
				if old.kind.key != e.Kind.Key {
					continue
				}
				if old.amount == e.Amount && old.stands[column] == 0 {
					old.stands[column] = f
					return
				}
				if like < 0 {
					like = at
				}
			}
		}
	}
	fresh := g.fresh(of, e)
	fresh.stands[column] = f
	at := g.add(fresh, e.ID)
	if like < 0 {
		return
	}
	one := &g.entries[at]
	one.first, one.group, one.line, one.worked = g.entries[like].first, 0, nil, 0
	if base := g.entries[like].amount; one.amount == base || one.amount == -base {
		one.again, one.minus = -1, one.amount != base // how far above is known once they are sorted
	}
}

var kindOrder = map[review.EntryKind]int{review.OfMotor: 0, review.OfPiece: 1, review.OfGood: 2, review.OfReceipt: 3}

// sort puts what belongs together together, and notes where.
func (g *ledger) sort() {
	g.at, g.next, g.kinds, g.said, g.inHand = nil, nil, nil, nil, inHand{}
	slices.SortStableFunc(g.entries, func(a, b entry) int {
		if a.of == b.of {
			return cmp.Or(cmp.Compare(a.on, b.on), cmp.Compare(a.first, b.first))
		}
		return cmp.Or(cmp.Compare(kindOrder[a.of.what], kindOrder[b.of.what]), strings.Compare(a.of.name, b.of.name), strings.Compare(a.of.id, b.of.id))
	})
	from := 0
	for i := range g.entries {
		e := &g.entries[i]
		if e.again != 0 {
			e.again = 0
			for up := i - 1; up >= 0 && g.entries[up].first == e.first; up-- {
				e.again = int32(i - up)
			}
		}
		if i+1 == len(g.entries) || g.entries[i+1].of != e.of {
			g.blocks[source{e.of.what, e.of.id}] = [2]int{from, i + 1}
			from = i + 1
		}
	}
}

// block is where the lines of one motor, good, piece or receipt stand.
func (g *ledger) block(what review.EntryKind, id string) (from, to int) {
	at := g.blocks[source{what, id}]
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
	said := make([]any, len(review.Figures)+1) // the first is none
	for i, f := range review.Figures {
		said[i+1] = b.figures[f]
	}
	amountLetter, quantityLetter, eachLetter := t.letter("amount"), t.letter("quantity"), t.letter("each")
	t.row = func(i int, out []any) []any {
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
			sum = cell{e.amount, fmt.Sprintf("-%s%d", amountLetter, row-int(e.again))}
		case e.again > 0:
			sum = cell{e.amount, fmt.Sprintf("%s%d", amountLetter, row-int(e.again))}
		case e.worked > 0:
			sum = cell{e.amount, hours.cellAt("worth", int(e.worked-1))}
		}
		var group any
		if e.group != 0 {
			group = b.groups[e.group]
		}
		return append(out, dayOrNone(e.on), e.of.name, e.of.tag, e.kind.said, e.text, supplier, quantity, unit, each, sum,
			group, said[e.stands[comesIn]], said[e.stands[goesOut]], said[e.stands[countsAs]])
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
	column, number := columnOf(f), numberOf[f]
	var sum money.Amount
	for i := from; i < to; i++ {
		if g.entries[i].stands[column] == number {
			sum += g.entries[i].amount
		}
	}
	return cell{sum, fmt.Sprintf("SUMIF(%s,%s,%s)", t.stretch(standKeys[column], from, to), text(b.figures[f]), t.stretch("amount", from, to))}
}
