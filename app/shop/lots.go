package shop

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/shopfile"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Lots are what sellers offer together, by name.
func (s *Shop) Lots() []costing.Bundle {
	out := slices.Clone(s.contents.Bundles)
	slices.SortStableFunc(out, func(a, b costing.Bundle) int { return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
	return out
}

// Lot is one of them.
func (s *Shop) Lot(id string) (costing.Bundle, error) {
	for _, b := range s.contents.Bundles {
		if b.ID == id && id != "" {
			b.Things = slices.Clone(b.Things)
			return b, nil
		}
	}
	return costing.Bundle{}, fmt.Errorf("find the lot: %w", ErrUnknown)
}

// LotMotors are the motors of a lot that may still be bought.
func (s *Shop) LotMotors(id string) []costing.Record {
	var out []costing.Record
	for _, r := range s.Records(costing.Prospect) {
		if r.BundleID == id && id != "" {
			out = append(out, r)
		}
	}
	return out
}

// AddLot writes down a lot that a seller offers and gives its id.
func (s *Shop) AddLot(name string) (string, error) {
	b := costing.Bundle{Name: strings.TrimSpace(name)}
	if b.Name == "" {
		return "", errors.New("name: a lot needs one")
	}
	err := s.write(say.New("undo.lot", "lot {{.Lot}}", "Lot", b.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutBundle(&b) })
	return b.ID, err
}

// ChangeLot changes a lot and its things; field names what is changed, so that letters typed into one field
// are undone together.
func (s *Shop) ChangeLot(id, field string, change func(*costing.Bundle)) error {
	b, err := s.Lot(id)
	if err != nil {
		return err
	}
	change(&b)
	b.Name = strings.TrimSpace(b.Name)
	switch {
	case b.Name == "":
		return errors.New("name: a lot needs one")
	case b.Asks < 0 || b.Asks > costing.MostPaid:
		return errors.New("asked for all: it cannot be less than nothing, nor that much")
	case !(b.Trip >= 0 && b.Trip < 100_000):
		return errors.New("trip: it is no distance")
	}
	for _, t := range b.Things {
		if strings.TrimSpace(t.Name) == "" {
			return errors.New("thing: it needs a name")
		}
		if err := t.Worth.Check(); err != nil {
			return fmt.Errorf("%s: %w", t.Name, err)
		}
		if !(t.Chance >= 0 && t.Chance <= 1) || t.OwnWorth < 0 || t.OwnWorth > costing.MostPaid || t.Worth.Full().High > float64(costing.MostPaid) {
			return fmt.Errorf("%s: its chance or worth is out of bounds", t.Name)
		}
	}
	err = s.write(say.New("undo.lotchange", "change of {{.Field}} on the lot {{.Lot}}", "Field", field, "Lot", b.Name), "lot:"+id+":"+field, "",
		func(tx *shopfile.Tx) error { return tx.PutBundle(&b) })
	return anew(err, func() error { return s.ChangeLot(id, field, change) })
}

// DeleteLot takes a lot apart: its motors stay, each by itself.
func (s *Shop) DeleteLot(id string) error {
	b, err := s.Lot(id)
	if err != nil {
		return err
	}
	return s.write(say.New("undo.unlot", "removal of the lot {{.Lot}}", "Lot", b.Name), "", "", func(tx *shopfile.Tx) error { return tx.DeleteBundle(id) })
}

// PutInLot says in which lot a motor is offered; "" takes it out of any.
func (s *Shop) PutInLot(motorID, lotID string) error {
	r, err := s.stage(motorID, "put into a lot", costing.Prospect, costing.Passed)
	if err != nil {
		return err
	}
	what := say.New("undo.outlot", "{{.Motor}} out of its lot", "Motor", title(r))
	if lotID != "" {
		b, err := s.Lot(lotID)
		if err != nil {
			return err
		}
		what = say.New("undo.inlot", "{{.Motor}} into the lot {{.Lot}}", "Motor", title(r), "Lot", b.Name)
	}
	r.BundleID = lotID
	return s.write(what, "", motorID, func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}

// LotVerdict is the answer for a lot.
type LotVerdict struct {
	Lot      costing.Bundle
	Ready    bool
	Answer   say.Sentence
	Limit    say.Sentence
	Top      money.Amount // of all together, in whole units
	Offer    offer.Offer  // of all together
	Rows     []LotRow     // choices: all, the best of it where the seller splits, each member left out
	Members  []LotMember
	Warnings []say.Sentence
	Notes    []say.Sentence
}

// LotRow is one choice.
type LotRow struct {
	Name  say.Sentence
	Pick  offer.Pick
	Asks  money.Amount // for it, 0 not known
	Top   money.Amount // in whole units
	Thin  bool
	Room  money.Amount  // top less asked, where that is known
	At    offer.Outcome // at what is asked, or at the top price
	Best  bool          // of all that could be bought
	Whole bool          // all of it
}

// LotMember is a motor or thing of a lot.
type LotMember struct {
	Name    string
	MotorID string     // "" for a thing
	Exit    offer.Exit // best way out of a motor
	Brings  money.Amount
	Carries money.Amount // its part of the price asked, or of the top price
	Alone   money.Amount // top price of a motor by itself; 0 for a thing
}

// AppraiseLot answers for a lot: all of it, some of it, or a piece kept. A motor of which too little is known is
// left out, and named.
func (s *Shop) AppraiseLot(id string) (LotVerdict, error) {
	b, err := s.Lot(id)
	if err != nil {
		return LotVerdict{}, err
	}
	v := LotVerdict{Lot: b}
	settings, _ := withCostOfMoney(s.Settings())
	l := offer.Lot{Settings: settings, Buying: offer.Buying{FeeRate: settings.BuyerFeeRate, TaxRate: settings.PurchaseTaxRate},
		Trip: b.Trip, Asks: b.Asks, Splits: b.Splits}
	for _, r := range s.LotMotors(id) {
		m, row, err := s.lotMotor(r)
		if errors.Is(err, errTooLittle) {
			v.Warnings = append(v.Warnings, say.New("lot.blank", "{{.Motor}} is left out: power, year, stroke or state are not said.", "Motor", title(r)))
			continue
		}
		if err != nil {
			return v, err
		}
		v.Warnings = append(v.Warnings, ofMotor(title(r), s.Stops(r))...)
		l.Members, v.Members = append(l.Members, m), append(v.Members, row)
	}
	for _, t := range b.Things {
		l.Members = append(l.Members, offer.Member{Name: t.Name, Thing: t})
		v.Members = append(v.Members, LotMember{Name: t.Name, Brings: thingBrings(t)})
	}
	if len(l.Members) == 0 {
		v.Answer = say.New("lot.empty", "Nothing in this lot can be worked out yet: put motors or things into it.")
		return v, nil
	}
	a, err := offer.Together(l)
	if err != nil {
		return v, err
	}
	v.Ready, v.Offer, v.Top = true, a.All.Offer, s.currency.Floor(a.All.Offer.Top)
	for i := range v.Members {
		v.Members[i].Carries = a.Carries[i]
	}
	v.Rows = s.lotRows(a, v.Members, b)
	v.Limit = v.Offer.Reason()
	v.Answer = s.lotAnswer(v)
	v.Warnings = append(v.Warnings, s.noRoom(v.Offer.Top)...)
	v.Notes = []say.Sentence{
		say.New("lot.note", "Each motor by its best way out and with luck of its own; one trip for all; the line of expected profit once for each motor, for each takes a place."),
		say.New("lot.shares", "What each carries of the price is its part of what all of it is expected to bring."),
	}
	return v, nil
}

// ofMotor puts a motor's name before sentences about it.
func ofMotor(name string, all []say.Sentence) []say.Sentence {
	var out []say.Sentence
	for _, x := range all {
		out = append(out, say.New("lot.of", "{{.Motor}}: {{.What}}", "Motor", name, "What", x))
	}
	return out
}

var errTooLittle = errors.New("too little is known")

// lotMotor is a motor of a lot by its best way out, without the trip that the lot makes for all.
func (s *Shop) lotMotor(r costing.Record) (offer.Member, LotMember, error) {
	if len(missing(r.Motor)) > 0 {
		return offer.Member{}, LotMember{}, errTooLittle
	}
	a, err := s.appraise(r)
	if err != nil {
		return offer.Member{}, LotMember{}, err
	}
	best := a.answer.BestWay()
	q := a.ask
	q.Ways, q.Trip, q.Asking = []offer.Way{best.Way}, 0, 0
	alone, err := offer.Compare(q)
	if err != nil {
		return offer.Member{}, LotMember{}, err
	}
	o := alone.Ways[0].Offer
	return offer.Member{Name: title(r), Motor: &o, Asks: r.SellerAsks},
		LotMember{Name: title(r), MotorID: r.ID, Exit: best.Exit, Brings: o.Resale, Alone: s.currency.Floor(best.Offer.Top)}, nil
}

func (s *Shop) lotRows(a offer.LotAnswer, members []LotMember, b costing.Bundle) []LotRow {
	row := func(name say.Sentence, p offer.Pick) LotRow {
		r := LotRow{Name: name, Pick: p, Asks: p.Price, Top: s.currency.Floor(p.Offer.Top), Thin: p.Offer.TooThin, Whole: len(p.Members) == len(members)}
		price := r.Top
		if r.Asks > 0 {
			price, r.Room = r.Asks, r.Top-r.Asks
		}
		r.At = p.Offer.At(price)
		return r
	}
	all := row(say.New("lot.all", "all of it"), a.All)
	out := []LotRow{all}
	if b.Splits && len(a.Best.Members) < len(members) {
		var names []string
		for _, i := range a.Best.Members {
			names = append(names, members[i].Name)
		}
		best := row(say.New("lot.best", "only {{.Names}}", "Names", strings.Join(names, ", ")), a.Best)
		best.Best = true
		out = append(out, best)
	} else {
		out[0].Best = true
	}
	for i, p := range a.Without {
		out = append(out, row(say.New("lot.without", "without {{.Name}}", "Name", members[i].Name), p))
	}
	return out
}

func (s *Shop) lotAnswer(v LotVerdict) say.Sentence {
	c := s.currency
	all := v.Rows[0]
	var out say.Sentence
	switch {
	case all.Thin:
		out = say.New("lot.thin", "Leave all of it together: at no price does it meet your lines.")
	case all.Asks <= 0:
		out = say.New("lot.top", "Pay up to {{.Top}} for all of it.", "Top", c.Whole(all.Top))
	default:
		out = say.New("lot.asked", "Pay up to {{.Top}} for all of it. At {{.Asking}} you lose money {{.Chance}}.", "Top", c.Whole(all.Top), "Asking", c.Whole(all.Asks), "Chance", offer.Chance(all.At.Loss))
	}
	for _, r := range v.Rows[1:] {
		if r.Best && !r.Thin {
			out = say.New("lot.better", "{{.All}} Better {{.Pick}}: up to {{.Top}}.", "All", out, "Pick", r.Name, "Top", c.Whole(r.Top))
		}
	}
	return out
}
