package workbook

import (
	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// parts is the sheet of parts off donors and things by themselves that left in the period: sold, fitted,
// kept or scrapped.
func (b *book) parts() *table {
	t := &table{
		name:  "Parts",
		about: say.New("workbook.about.parts", "parts off donors and things that left by themselves"),
		title: say.New("workbook.parts.title", "Parts and things that left by themselves, {{.Period}}", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.parts.note",
			"A part takes along its share of what its donor cost, by what it would sell for and how likely that is. What was fitted stands on the motor that got it.")},
		empty: say.New("workbook.parts.none", "No part left by itself."),
		columns: []column{
			{key: "day", head: say.New("workbook.col.left.on", "Left on"), kind: date},
			{key: "name", head: say.New("workbook.col.part", "Part or thing"), widest: 30},
			{key: "from", head: say.New("workbook.col.donor", "Off the donor"), widest: 24},
			{key: "fate", head: say.New("workbook.col.fate", "What became of it"), widest: 20},
			{key: "onto", head: say.New("workbook.col.onto", "Onto the motor"), widest: 24},
			{key: "buyer", head: say.New("workbook.col.buyer", "Buyer"), widest: 20},
			{key: "price", head: say.New("workbook.col.price", "Price"), kind: amount, foot: added},
			{key: "fee", head: say.New("workbook.col.fee", "Fee"), kind: amount, foot: added},
			{key: "cost", head: say.New("workbook.col.took", "Cost it took along"), kind: amount, foot: added},
		},
	}
	name := b.names
	var rows [][]any
	for _, p := range b.Pieces {
		if p.Fate == costing.StillThere || !b.Review.Period.Has(p.LeftOn) {
			continue
		}
		var price money.Amount
		if p.Fate == costing.SoldAlone {
			price = p.Price
		}
		rows = append(rows, []any{p.LeftOn, p.Name, name[p.DonorID], b.fates[p.Fate], name[p.MotorID], p.Buyer, price, p.Fee, p.Cost})
	}
	t.rows(rows)
	return t
}

// fateNames are what became of a piece, as labels.
var fateNames = map[costing.Fate]say.Sentence{
	costing.SoldAlone: say.New("workbook.fate.sold", "sold"),
	costing.Fitted:    say.New("workbook.fate.fitted", "fitted"),
	costing.KeptPiece: say.New("workbook.fate.kept", "kept"),
	costing.Scrapped:  say.New("workbook.fate.lost", "scrapped"),
}

// bills is the sheet of everything that stands on a receipt of the period.
func (b *book) bills() *table {
	t := &table{
		name:  "Receipts",
		about: say.New("workbook.about.receipts", "what stands on the receipts, with freight and tax shared"),
		title: say.New("workbook.receipts.title", "Receipts of {{.Period}}, item by item", "Period", b.Review.Period.String()),
		notes: []say.Sentence{say.New("workbook.receipts.note",
			"Freight and tax are shared over a receipt's items by their prices, to the cent. Tax that you get back is in no cost. What was sent back stands below nothing.")},
		empty: say.New("workbook.receipts.none", "No receipts are written down."),
		columns: []column{
			{key: "day", head: say.New("workbook.col.day", "Day"), kind: date},
			{key: "supplier", head: say.New("workbook.col.supplier", "Supplier"), widest: 24},
			{key: "number", head: say.New("workbook.col.number", "Number")},
			{key: "text", head: say.New("workbook.col.text", "Text"), widest: 36},
			{key: "goes", head: say.New("workbook.col.goes", "Goes to"), widest: 22},
			{key: "net", head: say.New("workbook.col.itemnet", "Its price"), kind: amount, foot: added},
			{key: "on-top", head: say.New("workbook.col.ontop", "Freight and tax"), kind: amount, foot: added},
			{key: "landed", head: say.New("workbook.col.landed", "What it cost"), kind: amount, formula: "{net}+{on-top}", foot: added},
			{key: "back", head: say.New("workbook.col.taxback", "Tax you get back"), kind: amount, foot: added},
			{key: "paid", head: say.New("workbook.col.paidon", "Paid on"), kind: date},
		},
	}
	of := make(map[string]costing.Receipt, len(b.Receipts))
	for _, r := range b.Receipts {
		of[r.ID] = r
	}
	var rows [][]any
	for _, i := range b.Items {
		if !b.Review.Period.Has(i.On) {
			continue
		}
		r := of[i.ReceiptID]
		rows = append(rows, []any{i.On, r.Supplier, r.Number, i.Text, b.goes[i.Goes], i.Net, i.Landed - i.Net, i.Landed, i.TaxBack, dayOrNone(r.PaidOn)})
	}
	t.rows(rows)
	return t
}

// goesNames are where an item goes, as labels.
var goesNames = map[costing.Goes]say.Sentence{
	costing.ToMotor:    say.New("workbook.goes.motor", "motor"),
	costing.ToCore:     say.New("workbook.goes.core", "core charge"),
	costing.ToShelf:    say.New("workbook.goes.shelf", "shelf"),
	costing.ToPiece:    say.New("workbook.goes.piece", "thing by itself"),
	costing.ToKeep:     say.New("workbook.goes.kept", "private use"),
	costing.ToExpense:  say.New("workbook.goes.expense", "tools and the like"),
	costing.ToOverhead: say.New("workbook.goes.overhead", "workshop bill"),
}
