package shop

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// NewReceipt is one purchase on one piece of paper, to be written down.
type NewReceipt struct {
	costing.Receipt
	Paid  bool // on the day of the receipt; else it is owed
	Items []NewItem
}

// NewItem is one thing on it. A thing for a motor needs the motor and the kind of cost; one that goes to a
// motor of a lot may leave the motor out: it is then a new one on the bench, by the item's text.
type NewItem struct {
	costing.Item
	Kind    costing.Kind // of the line on the motor
	CoreDue day.Day      // of a core charge: the last day it can be sent back
}

// ReceiptRow is one receipt with what stands on it.
type ReceiptRow struct {
	Receipt costing.Receipt
	Items   []costing.Item // with what was sent back
	Total   money.Amount   // of all of them: what was paid for it, or is owed
	Words   say.Sentence   // "on the bench, 88.40; 2 more things"
}

// Owed tells whether the receipt is still to be paid.
func (r ReceiptRow) Owed() bool { return r.Receipt.PaidOn == 0 && r.Total != 0 }

// landed checks what a receipt says and works out what each thing on it cost.
func (s *Shop) landed(in *NewReceipt) ([]costing.Item, error) {
	in.On = orToday(in.On, s)
	if in.On > s.Today() {
		return nil, fmt.Errorf("day: %s is not here yet", s.dayText(in.On))
	}
	in.PaidOn = 0
	if in.Paid {
		in.PaidOn = in.On
	}
	items := make([]costing.Item, len(in.Items))
	for i := range in.Items {
		n := &in.Items[i]
		n.Text, n.On = strings.TrimSpace(n.Text), in.On
		if n.Quantity == 0 && n.Goes != costing.ToShelf {
			n.Quantity = 1
		}
		if err := s.fits(n, in.Lot != 0); err != nil {
			return nil, err
		}
		items[i] = n.Item
	}
	if err := in.Land(items); err != nil {
		return nil, err
	}
	return items, nil
}

// fits makes sure that a thing can go where it is to go, and that a quantity for the shelf is in the
// good's own unit.
func (s *Shop) fits(n *NewItem, lot bool) error {
	if n.Goes != costing.ToMotor && n.Goes != costing.ToCore {
		n.MotorID = ""
	}
	switch n.Goes {
	case costing.ToMotor, costing.ToCore:
		if n.Goes == costing.ToCore {
			n.Kind = costing.CoreCharge
		}
		if lot && n.Kind == "" {
			n.Kind = costing.Purchase
		}
		if n.MotorID == "" {
			if lot && n.Goes == costing.ToMotor {
				return nil
			}
			return fmt.Errorf("for: choose the motor that %s is for", orThis(n.Text))
		}
		if n.Kind == "" {
			n.Kind = costing.PartNew
		}
		if g := n.Kind.Group(); g != costing.Owed && (!slices.Contains(costing.Kinds, n.Kind) || g == costing.WrittenDown || n.Kind == costing.PartDonor || n.Kind == costing.Shelf) {
			return fmt.Errorf("kind of %s: nobody is paid for that", orThis(n.Text))
		}
		r, err := s.Record(n.MotorID)
		if err != nil {
			return err
		}
		if r.Stage == costing.History {
			return fmt.Errorf("for: %s is a past sale known by its price alone", title(r))
		}
		if n.Text == "" {
			n.Text = n.Kind.Name().String()
		}
	case costing.ToShelf:
		if n.GoodID == "" {
			return fmt.Errorf("for: choose the good on the shelf that %s is", orThis(n.Text))
		}
		g, err := s.good(n.GoodID)
		if err != nil {
			return err
		}
		if n.Text == "" {
			n.Text = g.Name
		}
		q, err := inUnit(g, n.Quantity, n.Unit)
		if err != nil {
			return err
		}
		n.Quantity, n.Unit = q, g.Unit
	case costing.ToPiece, costing.ToKeep, costing.ToExpense, costing.ToOverhead:
	default:
		return fmt.Errorf("for: say where %s goes", orThis(n.Text))
	}
	return nil
}

func orThis(text string) string {
	if text == "" {
		return "this"
	}
	return text
}

// ReceiptSentence says what a receipt would come to and what each thing on it would cost, or what is wrong
// with it; nothing is written down.
func (s *Shop) ReceiptSentence(in NewReceipt) (say.Sentence, error) {
	in.Items = slices.Clone(in.Items)
	items, err := s.landed(&in)
	if err != nil {
		return say.Sentence{}, err
	}
	var total, back money.Amount
	var each say.Sentence
	for _, i := range items {
		total += i.Paid()
		back += i.TaxBack
		one := say.New("receipt.one", "{{.What}} {{.Cost}}", "What", i.Text, "Cost", s.currency.Format(i.Landed))
		if each.Empty() {
			each = one
		} else {
			each = say.New("receipt.and", "{{.These}}; {{.This}}", "These", each, "This", one)
		}
	}
	if back != 0 {
		return say.New("receipt.comes-back", "Comes to {{.Total}}, of which {{.Back}} is tax you get back. With its share of freight and tax: {{.Each}}.",
			"Total", s.currency.Format(total), "Back", s.currency.Format(back), "Each", each), nil
	}
	return say.New("receipt.comes", "Comes to {{.Total}}. With its share of freight and tax: {{.Each}}.", "Total", s.currency.Format(total), "Each", each), nil
}

// AddReceipt writes a receipt down, all in one change: freight and tax are shared over its items to the
// cent, and each goes onto its motor, the shelf, or wherever it is for. It returns the receipt's id.
func (s *Shop) AddReceipt(in NewReceipt) (string, error) {
	items, err := s.landed(&in)
	if err != nil {
		return "", err
	}
	receipt := in.Receipt
	what := say.New("undo.receipt", "receipt of {{.Supplier}}", "Supplier", orThis(receipt.Supplier))
	err = s.write(what, "", "", func(tx *shopfile.Tx) error {
		if err := tx.PutReceipt(&receipt); err != nil {
			return err
		}
		for i := range items {
			it := items[i] // made anew each time: the motor it is given is gone with an attempt that fails
			it.ReceiptID = receipt.ID
			if err := s.place(tx, receipt, &it, in.Items[i]); err != nil {
				return err
			}
		}
		return nil
	})
	return receipt.ID, err
}

// place writes an item and what it becomes.
func (s *Shop) place(tx *shopfile.Tx, receipt costing.Receipt, it *costing.Item, in NewItem) error {
	if it.Goes == costing.ToMotor {
		if err := s.ownMotor(tx, receipt, it, in.Kind); err != nil {
			return err
		}
	}
	return s.put(tx, receipt, it, in)
}

// put writes an item whose motor, if any, is settled, and the line, move or piece it becomes.
func (s *Shop) put(tx *shopfile.Tx, receipt costing.Receipt, it *costing.Item, in NewItem) error {
	if err := tx.PutItem(it); err != nil {
		return err
	}
	switch it.Goes {
	case costing.ToMotor, costing.ToCore:
		each := it.Landed
		if q := it.Quantity; q > 0 && q != 1 {
			each = it.Landed.Times(1 / q)
		}
		return tx.PutLine(&costing.Line{ID: it.ID, MotorID: it.MotorID, Kind: in.Kind, On: it.On, Text: it.Text, Quantity: it.Quantity, Unit: it.Unit,
			Each: each, Total: it.Landed, Supplier: receipt.Supplier, Due: in.CoreDue})
	case costing.ToShelf:
		return tx.PutMove(&costing.Move{ID: it.ID, GoodID: it.GoodID, Kind: costing.Bought, On: it.On, Quantity: it.Quantity, Cost: it.Landed, Supplier: receipt.Supplier})
	case costing.ToPiece:
		return tx.PutPiece(&costing.Piece{ID: it.ID, Name: it.Text, Value: it.Value, Chance: it.Chance, Cost: it.Landed, CameOn: it.On})
	}
	return nil
}

// ownMotor brings a motor that was bought with the receipt onto the bench: a new one of a lot, or a
// prospect.
func (s *Shop) ownMotor(tx *shopfile.Tx, receipt costing.Receipt, it *costing.Item, kind costing.Kind) error {
	if it.MotorID == "" {
		r := costing.Record{Stage: costing.Bench, BoughtOn: receipt.On, SeenOn: receipt.On, Seller: receipt.Supplier}
		r.Motor.Model = it.Text
		if err := tx.PutRecord(&r); err != nil {
			return err
		}
		it.MotorID = r.ID
		return nil
	}
	r, err := s.Record(it.MotorID)
	if err != nil || kind != costing.Purchase || r.Stage != costing.Prospect && r.Stage != costing.Passed {
		return err
	}
	r.Stage, r.BoughtOn = costing.Bench, receipt.On
	return tx.PutRecord(&r)
}

// Receipts are all receipts, the latest first.
func (s *Shop) Receipts() []ReceiptRow {
	rows := make([]ReceiptRow, len(s.contents.Receipts))
	at := make(map[string]int, len(rows))
	for i, r := range s.contents.Receipts {
		rows[i].Receipt = r
		at[r.ID] = i
	}
	for _, it := range s.contents.Items {
		if i, there := at[it.ReceiptID]; there {
			rows[i].Items = append(rows[i].Items, it)
			rows[i].Total += it.Paid()
		}
	}
	for i := range rows {
		rows[i].Words = wordsOf(rows[i].Items)
	}
	slices.SortStableFunc(rows, func(a, b ReceiptRow) int { return cmp.Compare(b.Receipt.On, a.Receipt.On) })
	return rows
}

// wordsOf names what stands on a receipt: its first thing, and how many more there are.
func wordsOf(items []costing.Item) say.Sentence {
	first, more := "", -1
	for _, i := range items {
		if i.Undoes != "" {
			continue
		}
		if more++; first == "" {
			first = i.Text
		}
	}
	if more > 0 {
		return say.New("receipt.more", "{{.First}} and {{.More}} more", "First", first, "More", more)
	}
	return say.New("receipt.first", "{{.First}}", "First", first)
}

// Receipt is one of them.
func (s *Shop) Receipt(id string) (ReceiptRow, error) {
	for _, r := range s.Receipts() {
		if r.Receipt.ID == id {
			return r, nil
		}
	}
	return ReceiptRow{}, fmt.Errorf("find the receipt %q: %w", id, ErrUnknown)
}

// PayReceipt writes down that a receipt was paid on a day; day 0 is that it is owed after all.
func (s *Shop) PayReceipt(id string, on day.Day) error {
	r, err := s.Receipt(id)
	if err != nil {
		return err
	}
	if on > s.Today() {
		return fmt.Errorf("paid on: %s is not here yet", s.dayText(on))
	}
	receipt := r.Receipt
	receipt.PaidOn = on
	return s.write(say.New("undo.pay", "payment of the receipt of {{.Supplier}}", "Supplier", orThis(receipt.Supplier)), "", "",
		func(tx *shopfile.Tx) error { return tx.PutReceipt(&receipt) })
}

// DeleteReceipt takes a receipt back with everything that came of it. It is refused once something of it
// was sent back, drawn on as a core charge, or went somewhere.
func (s *Shop) DeleteReceipt(id string) error {
	r, err := s.Receipt(id)
	if err != nil {
		return err
	}
	name := orThis(r.Receipt.Supplier)
	for _, it := range r.Items {
		if it.Undoes != "" {
			return fmt.Errorf("remove the receipt of %s: some of it was sent back; remove that first", name)
		}
		if p, err := s.piece(it.ID); it.Goes == costing.ToPiece && err == nil && p.Fate != costing.StillThere {
			return fmt.Errorf("remove the receipt of %s: %s is not here any more", name, it.Text)
		}
		for _, p := range s.contents.Pieces {
			if p.Root() == it.ID && p.ID != it.ID {
				return fmt.Errorf("remove the receipt of %s: %s was written down", name, it.Text)
			}
		}
	}
	return s.write(say.New("undo.unreceipt", "removal of the receipt of {{.Supplier}}", "Supplier", name), "", "", func(tx *shopfile.Tx) error {
		for _, it := range r.Items {
			if err := dropItem(tx, it); err != nil {
				return err
			}
		}
		return tx.DeleteReceipt(id)
	})
}

// dropItem removes an item with the line, move or piece it became.
func dropItem(tx *shopfile.Tx, it costing.Item) error {
	var err error
	switch it.Goes {
	case costing.ToMotor, costing.ToCore:
		err = tx.DeleteLine(it.ID)
	case costing.ToShelf:
		err = tx.DeleteMove(it.ID)
	case costing.ToPiece:
		if it.Undoes == "" {
			err = tx.DeletePiece(it.ID)
		}
	}
	if err != nil {
		return err
	}
	return tx.DeleteItem(it.ID)
}

// itemOf is the item that a line, move or piece came of, by its id.
func (s *Shop) itemOf(id string) (costing.Item, bool) {
	for _, it := range s.contents.Items {
		if it.ID == id && id != "" {
			return it, true
		}
	}
	return costing.Item{}, false
}

// leftOf is what is left of an item after all that was sent back of it.
func (s *Shop) leftOf(it costing.Item) (landed, taxBack money.Amount, quantity float64) {
	landed, taxBack, quantity = it.Landed, it.TaxBack, it.Quantity
	for _, other := range s.contents.Items {
		if other.Undoes == it.ID {
			landed += other.Landed
			taxBack += other.TaxBack
			quantity += other.Quantity
		}
	}
	return landed, taxBack, quantity
}

// Returned is something sent back to who sold it.
type Returned struct {
	Quantity float64      // of goods for the shelf, in Unit
	Unit     string       // "" is the good's own
	Money    money.Amount // that comes back for it, without the tax that is recovered
	On       day.Day      // 0 is today
}

// SendBack sends an item of a receipt, or some of it, back for money. Tax that was to be recovered on it is
// no longer. It is refused where more would come back than is left of the item, or on a day before it came.
func (s *Shop) SendBack(itemID string, in Returned) error {
	it, there := s.itemOf(itemID)
	if !there || it.Undoes != "" {
		return fmt.Errorf("find what is sent back: %w", ErrUnknown)
	}
	left, tax, quantity := s.leftOf(it)
	if err := s.checkReturn(it.Text, it.On, left, &in); err != nil {
		return err
	}
	un := costing.Item{ID: shopfile.NewID(), ReceiptID: it.ReceiptID, Undoes: it.ID, Goes: it.Goes, On: in.On, Text: it.Text, Unit: it.Unit,
		Net: -in.Money, Landed: -in.Money, TaxBack: -tax.Times(float64(in.Money) / float64(left)), MotorID: it.MotorID, GoodID: it.GoodID, Quantity: -1}
	var put func(*shopfile.Tx) error
	switch it.Goes {
	case costing.ToMotor:
		r, err := s.Record(it.MotorID)
		if err != nil {
			return err
		}
		l, err := r.TakeBack(it.ID, in.Money, in.On)
		if err != nil {
			return s.inMoney(err)
		}
		l.ID = un.ID
		put = func(tx *shopfile.Tx) error { return tx.PutLine(&l) }
	case costing.ToShelf:
		m, err := s.sentBack(it.ID, it.GoodID, quantity, in)
		if err != nil {
			return err
		}
		m.ID, un.Quantity = un.ID, -m.Quantity
		put = func(tx *shopfile.Tx) error { return tx.PutMove(&m) }
	case costing.ToCore:
		return errors.New("core charge: say on the list of core charges that it came back")
	case costing.ToPiece:
		return fmt.Errorf("%s: it is part of a lot or stands by itself; sell it, or take the receipt back", it.Text)
	}
	return s.write(say.New("undo.sendback", "return of {{.Item}}", "Item", it.Text), "", "", func(tx *shopfile.Tx) error {
		if err := tx.PutItem(&un); err != nil || put == nil {
			return err
		}
		return put(tx)
	})
}

// checkReturn holds what comes back against what is left and when it came.
func (s *Shop) checkReturn(text string, came day.Day, left money.Amount, in *Returned) error {
	in.On = orToday(in.On, s)
	switch {
	case in.Money <= 0:
		return errors.New("money back: it must be more than nothing")
	case in.Money > left:
		return s.inMoney(&costing.TooMuch{Of: text, Left: left})
	case in.On < came:
		return fmt.Errorf("day: %s came on %s and cannot go back before", text, s.dayText(came))
	case in.On > s.Today():
		return fmt.Errorf("day: %s is not here yet", s.dayText(in.On))
	}
	return nil
}

// sentBack is the move that takes goods off the shelf again.
func (s *Shop) sentBack(moveID, goodID string, left float64, in Returned) (costing.Move, error) {
	g, err := s.good(goodID)
	if err != nil {
		return costing.Move{}, err
	}
	q, err := inUnit(g, in.Quantity, in.Unit)
	if err != nil {
		return costing.Move{}, err
	}
	if q > left+1e-6 {
		return costing.Move{}, fmt.Errorf("quantity of %s: only %s of that purchase is left to send back", g.Name, costing.Measure(left, g.Unit))
	}
	return costing.Move{GoodID: goodID, Kind: costing.SentBack, On: in.On, Quantity: q, Cost: in.Money, Undoes: moveID}, nil
}

// inMoney says an error about an amount in the shop's currency.
func (s *Shop) inMoney(err error) error {
	var much *costing.TooMuch
	if errors.As(err, &much) {
		return fmt.Errorf("money back: of %s only %s is left to take back", much.Of, s.currency.Format(much.Left))
	}
	return err
}

// dropReturn takes back that something of a receipt was sent back. The thing itself goes with its receipt
// only, whose freight and tax it shares.
func (s *Shop) dropReturn(it costing.Item) error {
	if it.Undoes == "" {
		return fmt.Errorf("remove %s: it stands on a receipt with its share of freight and tax; take the receipt back on the Shelf screen", it.Text)
	}
	return s.write(say.New("undo.unreturn", "removal of the return of {{.Item}}", "Item", it.Text), "", "",
		func(tx *shopfile.Tx) error { return dropItem(tx, it) })
}

// DeleteReturn takes back that something of a receipt was sent back, by the id of the item that says so.
func (s *Shop) DeleteReturn(itemID string) error {
	it, there := s.itemOf(itemID)
	if !there {
		return fmt.Errorf("find what was sent back: %w", ErrUnknown)
	}
	return s.dropReturn(it)
}
