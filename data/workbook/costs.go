package workbook

import (
	"cmp"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// role is where a cost goes in the year's figures.
type role string

const (
	toMotors      role = "motors"      // what was paid for a motor and for bringing it in
	toParts       role = "parts"       // put into a motor
	toConsumables role = "consumables" // used up on a motor, and not off the shelf
	toShelf       role = "shelf"       // drawn from the shelf onto a motor: bought before, so no new money
	toLabour      role = "labour"
	toOther       role = "other" // outside work and workshop overhead
	toSelling     role = "selling"
	toAfterSale   role = "after-sale"
	toRefunds     role = "refunds"
	toNeverBought role = "never-bought"
	toWrittenDown role = "written-down" // taken off a motor that will not bring it
	toOwed        role = "owed"         // core charges that are out, and their coming back
	toPiece       role = "piece"        // went off with a part by itself, or came with a thing
	toNothing     role = "nothing"      // a write-down of what was gone by then
)

var roleNames = map[role]say.Sentence{
	toMotors:      say.New("workbook.role.motors", "stock: motors bought"),
	toParts:       say.New("workbook.role.parts", "stock: parts"),
	toConsumables: say.New("workbook.role.consumables", "stock: consumables"),
	toShelf:       say.New("workbook.role.shelf", "from the shelf"),
	toLabour:      say.New("workbook.role.labour", "stock: paid labour"),
	toOther:       say.New("workbook.role.other", "stock: other"),
	toSelling:     say.New("workbook.role.selling", "selling"),
	toAfterSale:   say.New("workbook.role.aftersale", "after the sale"),
	toRefunds:     say.New("workbook.role.refunds", "refund"),
	toNeverBought: say.New("workbook.role.neverbought", "motor not bought"),
	toWrittenDown: say.New("workbook.role.writtendown", "write-down"),
	toOwed:        say.New("workbook.role.owed", "owed to you"),
	toPiece:       say.New("workbook.role.piece", "part by itself"),
	toNothing:     say.New("workbook.role.nothing", "nothing"),
}

// roleWords are the words of the roles in the reader's language. Formulas find costs by them, without
// regard to case, so no two may be alike nor hold a sign that stands for any letter; if a language's are,
// all stay in English.
func (b *book) roleWords() map[role]string { return apart(b, roleNames) }

// apart are words that tell things apart in the reader's language, or in English where the language's do
// not.
func apart[K comparable](b *book, names map[K]say.Sentence) map[K]string {
	said, english := make(map[K]string), make(map[K]string)
	seen := make(map[string]bool)
	clear := true
	for r, name := range names {
		said[r], english[r] = b.Say(name), name.String()
		key := strings.ToLower(strings.TrimSpace(said[r]))
		clear = clear && key != "" && !seen[key] && !strings.ContainsAny(key, "*?~<>=")
		seen[key] = true
	}
	if !clear {
		return english
	}
	return said
}

// cost is one line or paid session in the year it counts in.
type cost struct {
	record    costing.Record
	line      costing.Line // of a paid session, made up to look like one
	kind      string
	role      role
	counted   day.Day
	fromShelf bool
	thing     bool // that stood in stock by itself
}

// costsOf are all costs that count in the period, by the rules of the review: of a motor that was bought
// nothing counts before it stood in the shop; what brings it to its place and condition goes into stock,
// everything else and all of a motor never bought is an expense.
func (b *book) costsOf() []cost {
	drawn := make(map[string]bool)
	for _, m := range b.Moves {
		if (m.Kind == costing.Drawn || m.Kind == costing.PutBack) && m.ID != "" {
			drawn[m.ID] = true
		}
	}
	piece := costing.PiecesByLine(b.Pieces)
	var out []cost
	for _, r := range b.Records {
		if r.Stage == costing.History {
			continue
		}
		for _, l := range r.Lines {
			c := cost{record: r, line: l, kind: b.Say(l.Kind.Name()), counted: counted(r, l.On)}
			c.fromShelf = l.Kind == costing.Shelf && drawn[l.ID]
			c.role = roleOf(r, l.Kind, c.counted, c.fromShelf)
			if c.role == toParts && l.Kind == costing.PartDonor && piece[l.ID] != nil {
				c.role = toPiece
			}
			p := piece[l.ID]
			c.thing = p != nil && p.DonorID == "" && l.Kind == costing.PartDonor
			out = append(out, c)
		}
		for _, s := range r.Sessions {
			if s.Paid {
				out = append(out, b.pay(r, s))
			}
		}
	}
	out = slices.DeleteFunc(out, func(c cost) bool { return !b.Review.Period.Has(c.counted) })
	slices.SortStableFunc(out, func(x, y cost) int { return cmp.Compare(x.line.On, y.line.On) })
	return out
}

// counted is the day on which a cost counts.
func counted(r costing.Record, on day.Day) day.Day {
	if r.EverBought() {
		from, _ := r.Entered()
		return max(on, from)
	}
	if on == 0 {
		return r.SeenOn
	}
	return on
}

func roleOf(r costing.Record, k costing.Kind, on day.Day, fromShelf bool) role {
	group := k.Group()
	switch {
	case group == costing.Owed:
		return toOwed
	case group == costing.WrittenDown && (!r.EverBought() || r.AfterSold(on)):
		return toNothing
	case group == costing.WrittenDown:
		return toWrittenDown
	case r.Consigned() && k == costing.Refund:
		return toRefunds
	case r.Consigned() && group == costing.AfterSale:
		return toAfterSale
	case r.Consigned():
		return toSelling
	case !r.EverBought():
		return toNeverBought
	case k == costing.Refund:
		return toRefunds
	case group == costing.Selling:
		return toSelling
	case group == costing.AfterSale || r.AfterSold(on):
		return toAfterSale
	case fromShelf:
		return toShelf
	}
	switch group {
	case costing.Buying:
		return toMotors
	case costing.Parts:
		return toParts
	case costing.Consumables:
		return toConsumables
	}
	return toOther
}

// pay is a paid session as a cost.
func (b *book) pay(r costing.Record, s costing.Session) cost {
	c := cost{record: r, kind: b.Say(paidLabour), counted: counted(r, s.On), role: toLabour, line: costing.Line{
		On: s.On, Text: s.Task, Quantity: s.Time.Float(), Unit: "h", Each: s.Rate, Total: s.Worth(b.Settings.OwnRate)}}
	switch {
	case r.Consigned():
		c.role = toSelling
	case !r.EverBought():
		c.role = toNeverBought
	case r.AfterSold(c.counted):
		c.role = toAfterSale
	}
	return c
}

// costs is the sheet of every cost line of the year.
func (b *book) costs() *table {
	t := &table{
		name:  "Costs",
		title: say.New("workbook.costs.title", "Cost lines of {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.costs.note",
			"Every cost that counts in the period, of motors sold and unsold. What was spent on a motor before it was bought counts from the day it was bought.")},
		empty: say.New("workbook.costs.none", "No costs are written down."),
		columns: []column{
			{key: "day", head: say.New("workbook.col.day", "Day"), kind: date},
			{key: "motor", head: say.New("workbook.col.motor", "Motor"), widest: 26},
			{key: "tag", head: say.New("workbook.col.tag", "Tag")},
			{key: "kind", head: say.New("workbook.col.kind", "What for"), widest: 22},
			{key: "text", head: say.New("workbook.col.text", "Text"), widest: 40},
			{key: "supplier", head: say.New("workbook.col.supplier", "Supplier"), widest: 24},
			{key: "quantity", head: say.New("workbook.col.quantity", "Quantity"), kind: measure},
			{key: "unit", head: say.New("workbook.col.unit", "Unit")},
			{key: "each", head: say.New("workbook.col.each", "Each"), kind: amount},
			{key: "amount", head: say.New("workbook.col.amount", "Amount"), kind: amount, foot: added},
			{key: "shelf", head: say.New("workbook.col.fromshelf", "Of it from the shelf"), kind: amount, foot: added},
			{key: "thing", head: say.New("workbook.col.thing", "Of it a thing from stock"), kind: amount, foot: added},
			{key: "counted", head: say.New("workbook.col.counted", "Counts on, where later"), kind: date},
			{key: "role", head: say.New("workbook.col.role", "Counts as"), widest: 24},
		},
	}
	for _, c := range b.costsOf() {
		l := c.line
		var shelf, thing, later any
		if c.thing {
			thing = l.Total
		}
		if c.fromShelf {
			shelf = l.Total
		}
		if c.counted != l.On {
			later = c.counted
		}
		t.rows = append(t.rows, []any{dayOrNone(l.On), c.record.Name(), c.record.Tag, c.kind, l.Text, l.Supplier, l.Quantity, l.Unit, l.Each, l.Total,
			shelf, thing, later, b.roles[c.role]})
	}
	return t
}

// as is what the costs of a role come to: the formula, and its value.
func (b *book) as(t *table, roles ...role) cell {
	var c cell
	var sum money.Amount
	for _, r := range roles {
		word := b.roles[r]
		if c.formula != "" {
			c.formula += "+"
		}
		c.formula += t.sumIf("amount", "role", word)
		for _, row := range t.rows {
			if row[t.at("role")] == word {
				sum += row[t.at("amount")].(money.Amount)
			}
		}
	}
	c.value = sum
	return c
}
