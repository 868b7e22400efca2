package shop

import (
	"errors"
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// SavePapers keeps what the seller of a motor can show.
func (s *Shop) SavePapers(id string, p costing.Papers) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	if p.Search != "" && p.SearchedOn == 0 {
		p.SearchedOn = s.Today()
	}
	if p.SearchedOn > s.Today() {
		return errors.New("day of the search: it is still to come")
	}
	p.SearchedAt, p.Reference, p.TitleNote = strings.TrimSpace(p.SearchedAt), strings.TrimSpace(p.Reference), strings.TrimSpace(p.TitleNote)
	r.Papers = p
	return s.write(say.New("undo.papers", "seller's papers of {{.Motor}}", "Motor", title(r)), "papers:"+id, id,
		func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}

// SaveBuying keeps what buying a motor takes beside its price.
func (s *Shop) SaveBuying(id string, b costing.Buy) error {
	if b.Fee < 0 || b.Tax < 0 || b.Fee > costing.MostPaid || b.Tax > costing.MostPaid {
		return errors.New("fee and tax: they cannot be less than nothing, nor that much")
	}
	if !b.FeeKnown {
		b.Fee = 0
	}
	if !b.TaxKnown {
		b.Tax = 0
	}
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	r.Buying = b
	return s.write(say.New("undo.buying", "fee and tax of {{.Motor}}", "Motor", title(r)), "buying:"+id, id,
		func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}

// FeeAndTaxAt are what buying a motor at a price takes beside it: as said for the motor, or at the shop's
// usual rates.
func (s *Shop) FeeAndTaxAt(id string, price money.Amount) (fee, tax money.Amount, err error) {
	r, err := s.Record(id)
	if err != nil {
		return 0, 0, err
	}
	settings := s.Settings()
	fee, tax = price.Times(settings.BuyerFeeRate), price.Times(settings.PurchaseTaxRate)
	if r.Buying.FeeKnown {
		fee = r.Buying.Fee
	}
	if r.Buying.TaxKnown {
		tax = r.Buying.Tax
	}
	return fee, tax, nil
}

func buyingOf(r costing.Record, s costing.Settings) offer.Buying {
	b := offer.Buying{FeeRate: s.BuyerFeeRate, TaxRate: s.PurchaseTaxRate}
	if r.Buying.FeeKnown {
		b.FeeRate = 0
		b.Known += r.Buying.Fee
	}
	if r.Buying.TaxKnown {
		b.TaxRate = 0
		b.Known += r.Buying.Tax
	}
	return b
}

// Stops are the reasons not to buy a motor before they are cleared, gravest first; nothing where nothing
// stands in the way.
func (s *Shop) Stops(r costing.Record) []say.Sentence {
	var out []say.Sentence
	if r.Papers.Search == costing.SearchFound {
		out = append(out, say.New("offer.stolen", "A search among stolen goods found something: do not buy until it is cleared. The search stands under the seller's papers."))
	}
	if s.plateInDoubt(r) {
		out = append(out, say.New("offer.plate", "The serial plate is missing or altered, or its papers are in doubt: do not buy until it is cleared. Mark that check as passed once it is."))
	}
	if r.Papers.Title == costing.TitleDoubt {
		out = append(out, say.New("offer.title", "The title is in doubt, or somebody holds a lien on it: do not buy until it is cleared."))
	}
	return out
}

// plateInDoubt tells whether the serial plate stands in the way of buying.
func (s *Shop) plateInDoubt(r costing.Record) bool {
	c, made := r.CheckOf(costing.Plate, costing.Before)
	if made && c.Verdict != "" {
		return c.Verdict != costing.Pass
	}
	return r.Motor.Plate == valuation.No
}

// Unanswered says what of plate, title and search nobody has answered yet, empty when all is.
func (s *Shop) Unanswered(r costing.Record) say.Sentence {
	c, made := r.CheckOf(costing.Plate, costing.Before)
	var open []string
	if (!made || c.Verdict == "") && r.Motor.Plate == "" {
		open = append(open, say.New("papers.plate", "serial plate").String())
	}
	if r.Papers.Title == "" {
		open = append(open, say.New("papers.title", "title or lien").String())
	}
	if r.Papers.Search == "" {
		open = append(open, say.New("papers.search", "stolen-goods search").String())
	}
	if len(open) == 0 {
		return say.Sentence{}
	}
	return say.New("papers.open", "Not answered yet: {{.Open}}.", "Open", strings.Join(open, ", "))
}

// AddPhotoOf keeps pictures that show the serial plate of a motor or the receipt its seller signed.
func (s *Shop) AddPhotoOf(id string, shows costing.Shows, taken ...TakenPhoto) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	what := say.New("undo.platephoto", "photo of the serial plate of {{.Motor}}", "Motor", title(r))
	switch shows {
	case costing.ShowsPlate:
	case costing.ShowsSigned:
		what = say.New("undo.signedphoto", "photo of the signed receipt of {{.Motor}}", "Motor", title(r))
	default:
		return fmt.Errorf("keep a photo: %q is nothing it could show", shows)
	}
	place := 0.0
	for _, p := range s.contents.Photos {
		place = max(place, p.Place)
	}
	return s.writeBench(what, "", id, func(tx *shopfile.Tx) error {
		place := place
		for _, t := range taken {
			picture, err := tx.KeepPicture("", t.Whole, t.Small)
			if err != nil {
				return err
			}
			place++
			p := costing.Photo{MotorID: id, Kind: costing.OfMotor, Shows: shows, PictureID: picture, Place: place, On: s.Today(), Width: t.Width, Height: t.Height}
			if err := tx.PutPhoto(&p); err != nil {
				return err
			}
		}
		return nil
	})
}

// PhotosShowing are those of a motor that show its plate or the signed receipt, in their order.
func (s *Shop) PhotosShowing(id string, shows costing.Shows) []costing.Photo {
	var out []costing.Photo
	for _, p := range s.Photos(id) {
		if p.Shows == shows {
			out = append(out, p)
		}
	}
	return out
}
