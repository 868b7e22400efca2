package shop

import (
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

// LotPart is a motor or a thing of a lot, as it can be bought with the rest.
type LotPart struct {
	Key     string // "motor:" and its id, "thing:" and its id
	Name    string
	MotorID string              // "" for a thing
	Thing   costing.BundleThing // where it is no motor
	Brings  money.Amount        // what it is expected to bring, or is worth to the owner: the price is shared by it
	Blank   bool                // too little is known of the motor: it carries nothing
}

// LotPurchase is what was agreed for a lot or for some of it.
type LotPurchase struct {
	On     day.Day // 0 is today
	Seller string
	Parts  []string // keys of what was bought, see [LotPart]
	Price  money.Amount
	Fee    money.Amount // the buyer's: part of what everything cost
	Tax    money.Amount // on the purchase, not recovered
	Trip   float64      // driven once for all, in the shop's unit; it goes onto the motors
}

// LotParts are the motors and things of a lot.
func (s *Shop) LotParts(id string) ([]LotPart, error) {
	b, err := s.Lot(id)
	if err != nil {
		return nil, err
	}
	var out []LotPart
	for _, r := range s.LotMotors(id) {
		p := LotPart{Key: "motor:" + r.ID, Name: title(r), MotorID: r.ID}
		_, row, err := s.lotMotor(r)
		switch {
		case errors.Is(err, errTooLittle):
			p.Blank = true
		case err != nil:
			return nil, err
		}
		p.Brings = row.Brings
		out = append(out, p)
	}
	for _, t := range b.Things {
		out = append(out, LotPart{Key: "thing:" + t.ID, Name: t.Name, Thing: t, Brings: thingBrings(t)})
	}
	return out, nil
}

// thingBrings is what a thing of a lot is expected to bring, or is worth to the owner.
func thingBrings(t costing.BundleThing) money.Amount {
	if t.Kept {
		return t.OwnWorth
	}
	return money.Round(t.Worth.Mean() * t.Chance)
}

// FeeAndTaxOfLot are what buying a lot at a price takes beside it, at the shop's usual rates.
func (s *Shop) FeeAndTaxOfLot(price money.Amount) (fee, tax money.Amount) {
	settings := s.Settings()
	return price.Times(settings.BuyerFeeRate), price.Times(settings.PurchaseTaxRate)
}

// chosenOf are the parts of a lot that were bought.
func (s *Shop) chosenOf(id string, keys []string) ([]LotPart, error) {
	parts, err := s.LotParts(id)
	if err != nil {
		return nil, err
	}
	parts = slices.DeleteFunc(parts, func(p LotPart) bool { return !slices.Contains(keys, p.Key) })
	if len(parts) == 0 {
		return nil, errors.New("what was bought: choose at least one motor or thing of the lot")
	}
	return parts, nil
}

// LotBuyWords are what a purchase would come to.
type LotBuyWords struct {
	Each map[string]say.Sentence // by the keys of what was bought: its name and what it carries
	All  say.Sentence
}

// LotShares are what each part of a purchase would carry of it, fee and tax with the price, by the keys of
// [Shop.LotParts]; what was not bought is not among it.
func (s *Shop) LotShares(id string, p LotPurchase) (map[string]money.Amount, error) {
	parts, err := s.chosenOf(id, p.Parts)
	if err != nil {
		return nil, err
	}
	items, _, err := s.lotItems(parts, &p, "")
	if err != nil {
		return nil, err
	}
	out := make(map[string]money.Amount, len(items))
	for i, it := range items {
		out[parts[i].Key] = it.Landed
	}
	return out, nil
}

// LotBuyWords says what a purchase would come to, before it is made.
func (s *Shop) LotBuyWords(id string, p LotPurchase) (LotBuyWords, error) {
	parts, err := s.chosenOf(id, p.Parts)
	if err != nil {
		return LotBuyWords{}, err
	}
	shares, err := s.LotShares(id, p)
	if err != nil {
		return LotBuyWords{}, err
	}
	out := LotBuyWords{Each: map[string]say.Sentence{}}
	var total money.Amount
	for _, x := range parts {
		carries := s.currency.Format(shares[x.Key])
		total += shares[x.Key]
		switch {
		case x.Blank:
			out.Each[x.Key] = say.New("lotbuy.blank", "{{.Name}}: to the bench, {{.Carries}} of it; too little is known of it to say what it brings", "Name", x.Name, "Carries", carries)
		case x.MotorID != "":
			out.Each[x.Key] = say.New("lotbuy.motor", "{{.Name}}: to the bench, {{.Carries}} of it", "Name", x.Name, "Carries", carries)
		case x.Thing.Kept:
			out.Each[x.Key] = say.New("lotbuy.kept", "{{.Name}}: kept, {{.Carries}} of it is a drawing of yours", "Name", x.Name, "Carries", carries)
		default:
			out.Each[x.Key] = say.New("lotbuy.thing", "{{.Name}}: into stock, {{.Carries}} of it", "Name", x.Name, "Carries", carries)
		}
	}
	out.All = say.New("lotbuy.all", "Comes to {{.Total}}, shared by what each is expected to bring. What you did not buy stays written down.", "Total", s.currency.Format(total))
	return out, nil
}

// lotItems lays a purchase out as a receipt with one price for everything: shared by what each part brings.
func (s *Shop) lotItems(parts []LotPart, p *LotPurchase, lot string) ([]costing.Item, NewReceipt, error) {
	if p.Price < 0 || p.Fee < 0 || p.Tax < 0 || p.Price > costing.MostPaid || p.Fee > costing.MostPaid {
		return nil, NewReceipt{}, errors.New("price, fee and tax: they cannot be less than nothing, nor that much")
	}
	if !(p.Trip >= 0 && p.Trip < 100_000) {
		return nil, NewReceipt{}, errors.New("trip: it is no distance")
	}
	in := NewReceipt{Receipt: costing.Receipt{Supplier: strings.TrimSpace(p.Seller), On: p.On, Tax: p.Tax, Lot: p.Price + p.Fee}, Paid: true}
	if p.Fee > 0 {
		in.Note = say.New("lotbuy.fee", "a buyer's fee of {{.Fee}} is part of the price", "Fee", s.currency.Format(p.Fee)).String()
	}
	nothing := true
	for _, x := range parts {
		nothing = nothing && x.Brings <= 0
	}
	for _, x := range parts {
		it := costing.Item{Goes: costing.ToPiece, Text: x.Name, Quantity: 1, Value: max(0, x.Brings), Chance: 1}
		if nothing { // the price has to stand somewhere
			it.Value = 1
		}
		switch {
		case x.MotorID != "":
			it.Goes, it.MotorID = costing.ToMotor, x.MotorID
			it.Text = say.New("lotbuy.line", "its part of the lot {{.Lot}}", "Lot", lot).String()
		case x.Thing.Kept:
			it.Goes = costing.ToKeep
		}
		in.Items = append(in.Items, NewItem{Item: it, Kind: costing.Purchase})
	}
	items, err := s.landed(&in)
	if err != nil {
		return nil, in, err
	}
	p.On = in.On
	for i, x := range parts { // as a thing in stock it is worth what it was thought to be
		if items[i].Goes == costing.ToPiece {
			items[i].Value, items[i].Chance = money.Round(x.Thing.Worth.Mean()), x.Thing.Chance
		}
	}
	return items, in, nil
}

// BuyLot buys a lot, or some of it, for one price and with one trip, in one step: its motors go to the bench
// with their plans, its things into stock and what is kept to the owner, each at its part of the price by
// what it brings. The trip is shared in the same way over the motors. What was not bought stays in the lot,
// whose price is then not known; of a lot that was bought whole nothing is left.
func (s *Shop) BuyLot(id string, p LotPurchase) error {
	b, err := s.Lot(id)
	if err != nil {
		return err
	}
	parts, err := s.chosenOf(id, p.Parts)
	if err != nil {
		return err
	}
	items, in, err := s.lotItems(parts, &p, b.Name)
	if err != nil {
		return fmt.Errorf("buy the lot %s: %w", b.Name, err)
	}
	trips, err := s.tripShares(parts, p.Trip)
	if err != nil {
		return fmt.Errorf("buy the lot %s: %w", b.Name, err)
	}
	var motors []costing.Record
	var jobs []costing.Job
	for _, x := range parts {
		if x.MotorID == "" {
			continue
		}
		r, err := s.Record(x.MotorID)
		if err != nil {
			return err
		}
		for _, j := range s.planOfBest(&r) {
			j.MotorID, j.On = r.ID, p.On
			jobs = append(jobs, j)
		}
		r.Stage, r.BoughtOn, r.BundleID = costing.Bench, p.On, ""
		if r.Seller == "" {
			r.Seller = in.Supplier
		}
		motors = append(motors, r)
	}
	left := b
	left.Asks = 0
	left.Things = slices.DeleteFunc(slices.Clone(b.Things), func(t costing.BundleThing) bool { return slices.Contains(p.Parts, "thing:"+t.ID) })
	empty := len(left.Things) == 0 && len(motors) == len(s.LotMotors(id))
	receipt := in.Receipt
	return s.write(say.New("undo.buylot", "purchase of the lot {{.Lot}}", "Lot", b.Name), "", "", func(tx *shopfile.Tx) error {
		for i := range motors {
			if err := tx.PutRecord(&motors[i]); err != nil {
				return err
			}
		}
		if err := tx.PutReceipt(&receipt); err != nil {
			return err
		}
		for i := range items {
			items[i].ReceiptID = receipt.ID
			if err := s.put(tx, receipt, &items[i], in.Items[i]); err != nil {
				return err
			}
		}
		for i := range trips {
			trips[i].On = p.On
			if err := tx.PutLine(&trips[i]); err != nil {
				return err
			}
		}
		for i := range jobs {
			if err := tx.PutJob(&jobs[i]); err != nil {
				return err
			}
		}
		if empty {
			return tx.DeleteBundle(id)
		}
		return tx.PutBundle(&left)
	})
}

// tripShares are the lines of one trip on the motors that were fetched with it: distance and cost by what
// each brings.
func (s *Shop) tripShares(parts []LotPart, distance float64) ([]costing.Line, error) {
	var out []costing.Line
	var by []float64
	all := 0.0
	for _, x := range parts {
		if x.MotorID != "" {
			out = append(out, costing.Line{MotorID: x.MotorID, Kind: costing.Trip, Text: "trip"})
			by = append(by, float64(max(0, x.Brings)))
			all += by[len(by)-1]
		}
	}
	if distance <= 0 {
		return nil, nil
	}
	if len(out) == 0 {
		return nil, errors.New("trip: it can be booked on a motor only, and none was bought")
	}
	if all == 0 {
		for i := range by {
			by[i], all = 1, float64(len(by))
		}
	}
	settings := s.Settings()
	cost, err := money.Share(settings.TripCost(distance), by)
	if err != nil {
		return nil, err
	}
	var kept []costing.Line
	for i, l := range out {
		if by[i] == 0 {
			continue
		}
		l.Quantity, l.Unit, l.Each, l.Total = distance*by[i]/all, settings.Distance, settings.TripRate, cost[i]
		kept = append(kept, l)
	}
	return kept, nil
}
