package shop

import (
	"fmt"

	"skegworth/costing"
	"skegworth/data/intake"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// Sold are the records with a sale, own motors and price history alike.
func (s *Shop) Sold() []costing.Record {
	var out []costing.Record
	for _, r := range s.contents.Records {
		if r.Sale != nil {
			out = append(out, r)
		}
	}
	return out
}

// ChangeSale changes how one motor was sold, or what it was. What could not be is refused with an error
// that names the field, a [*valuation.FieldError].
func (s *Shop) ChangeSale(id, field string, change func(*costing.Record)) error {
	return s.changeSale(id, field, "sale:"+id+":"+field, change)
}

// changeSale is ChangeSale; changes in a row with the same coalesce key are undone together.
func (s *Shop) changeSale(id, field, coalesce string, change func(*costing.Record)) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	if r.Sale == nil {
		return fmt.Errorf("change the sale of %s: it is not sold", title(r))
	}
	before, sale := r, *r.Sale
	r.Sale = &sale
	change(&r)
	if err := s.checkSale(before, r); err != nil {
		return err
	}
	if err := s.followChange(before, &r); err != nil {
		return err
	}
	what := say.New("undo.sale", "change of {{.Field}} in the sale of {{.Motor}}", "Field", field, "Motor", title(r))
	swung := s.swung
	s.watchSwing(before, r)
	touched := id
	if r.Sale.Exchange.MotorID != "" {
		touched = "" // the motor taken in moves along
	}
	err = s.write(what, coalesce, touched, func(tx *shopfile.Tx) error {
		if err := putAsks(tx, before, &r); err != nil {
			return err
		}
		if err := s.moveSelling(tx, before, r); err != nil {
			return err
		}
		return tx.PutSale(id, r.Sale)
	})
	if err != nil {
		s.swung = swung
	}
	return anew(err, func() error { return s.changeSale(id, field, coalesce, change) })
}

// LeaveOut keeps a sale in the history without learning from it, for a reason; an empty reason takes it
// in again.
func (s *Shop) LeaveOut(id, reason string) error {
	return s.changeSale(id, "whether it counts", "", func(r *costing.Record) {
		r.Sale.LeftOut, r.Sale.LeftOutWhy = reason != "", reason
	})
}

// MendSale puts a slip of the key right.
func (s *Shop) MendSale(id string, m Mend) error {
	return s.changeSale(id, m.Field, "", func(r *costing.Record) { m.mend(&r.Motor, &r.Sale.Price) })
}

// Unsell takes the sale of one of the shop's own motors back: it is offered again, and all that was sold
// together with it is in stock again.
func (s *Shop) Unsell(id string) error {
	r, err := s.stage(id, "take back the sale of", costing.Sold)
	if err != nil {
		return err
	}
	all := []costing.Record{r}
	var things []costing.Piece
	if r.Sale != nil && r.Sale.Package != "" {
		for _, other := range s.contents.Records {
			if other.Sale != nil && other.Sale.Package == r.Sale.Package && other.ID != id {
				all = append(all, other)
			}
		}
		for _, p := range s.contents.Pieces {
			if p.Package == r.Sale.Package {
				things = append(things, p)
			}
		}
	}
	for _, r := range all {
		if err := s.mayGiveBack(r); err != nil {
			return err
		}
	}
	return s.write(say.New("undo.unsell", "taking back the sale of {{.Motor}}", "Motor", title(r)), "", "", func(tx *shopfile.Tx) error {
		for _, p := range things {
			if err := s.backPiece(tx, p); err != nil {
				return err
			}
		}
		for _, r := range all {
			if err := s.unsell(tx, r); err != nil {
				return err
			}
		}
		return nil
	})
}

// unsell offers one motor again.
func (s *Shop) unsell(tx *shopfile.Tx, r costing.Record) error {
	r.Stage = costing.Listed
	if r.ListedOn == 0 {
		r.Stage = costing.Finished
	}
	for _, l := range r.Lines {
		if withSale(r, l) {
			if err := tx.DeleteLine(l.ID); err != nil {
				return err
			}
		}
	}
	if err := tx.DeleteSale(r.ID); err != nil {
		return err
	}
	if err := tx.PutRecord(&r); err != nil {
		return err
	}
	return s.unsellTerms(tx, r)
}

// AddSale writes down a past sale by hand, as price history. Its day, price, power, year and stroke are
// needed; the error names the one that is missing, a [*valuation.FieldError].
func (s *Shop) AddSale(r costing.Record) (string, error) {
	if r.Sale == nil {
		r.Sale = &costing.Sale{}
	}
	if err := s.checkNew(r); err != nil {
		return "", err
	}
	r.ID, r.Stage = "", costing.History
	err := s.write(say.New("undo.addsale", "past sale of {{.Motor}}", "Motor", title(r)), "", "", func(tx *shopfile.Tx) error {
		if err := tx.PutRecord(&r); err != nil {
			return err
		}
		return tx.PutSale(r.ID, r.Sale)
	})
	return r.ID, err
}

// Taken is what became of a file of past sales.
type Taken struct {
	Added   int          // sales that went in
	Known   int          // sales that were there already
	Rows    []intake.Row // those that went in, or would
	Refused []intake.Refusal
	Notes   []say.Sentence // what was decided while reading: date order, separator, columns passed over
	Layout  intake.Layout  // what each column was taken for
}

// Intake reads a file of past sales and takes the good rows in, all in one change that one undo takes
// back. Rows that were taken in before are counted and left. Dry only tells what would happen.
func (s *Shop) Intake(path string, dry bool) (Taken, error) { return s.IntakeAs(path, nil, dry) }

// IntakeAs is Intake with the columns as mended by hand; nil guesses them. When the headings do not name
// all that is needed, the error comes with the layout that is nearest.
func (s *Shop) IntakeAs(path string, layout *intake.Layout, dry bool) (Taken, error) {
	o := s.IntakeOptions()
	o.Layout = layout
	batch, err := intake.ReadFile(path, o)
	if err != nil {
		return Taken{Layout: batch.Layout}, err
	}
	return s.take(batch, dry)
}

// IntakeOptions are how this shop reads files: its currency, its order of dates, its calendar.
func (s *Shop) IntakeOptions() intake.Options {
	return intake.Options{Currency: s.currency, Language: s.Settings().Language, Today: s.Today()}
}

func (s *Shop) take(batch intake.Batch, dry bool) (Taken, error) {
	known := make(map[string]bool)
	for _, r := range s.contents.Records {
		if r.Sale != nil && r.Sale.Source != "" {
			known[r.Sale.Source] = true
		}
	}
	taken := Taken{Refused: batch.Refused, Notes: batch.Notes, Layout: batch.Layout}
	fresh := make([]costing.Record, 0, len(batch.Rows))
	taken.Rows = make([]intake.Row, 0, len(batch.Rows))
	for _, row := range batch.Rows {
		if known[row.Fingerprint] {
			taken.Known++
			continue
		}
		r := row.Record
		sale := *r.Sale
		sale.Source = row.Fingerprint
		r.Sale = &sale
		fresh = append(fresh, r)
		taken.Rows = append(taken.Rows, row)
	}
	taken.Added = len(fresh)
	if dry || len(fresh) == 0 {
		return taken, nil
	}
	err := s.write(say.New("undo.intake", "intake of {{.Count}} sales", "Count", len(fresh)), "", "", func(tx *shopfile.Tx) error {
		for i := range fresh {
			if err := tx.PutRecord(&fresh[i]); err != nil {
				return err
			}
			if err := tx.PutSale(fresh[i].ID, fresh[i].Sale); err != nil {
				return err
			}
		}
		return nil
	})
	return taken, err
}

// IntakeRow is one row that goes in, Refusal one that does not, and IntakeLayout what the columns are.
type (
	IntakeRow    = intake.Row
	Refusal      = intake.Refusal
	IntakeLayout = intake.Layout
)

// IntakeFields are the facts that a column can be taken for, and what each is called.
func IntakeFields() (fields []string, names []say.Sentence) {
	fields = intake.SaleFields()
	for _, f := range fields {
		names = append(names, intake.FieldLabel(f))
	}
	return fields, names
}

// LackingSentence names what no column is taken for though a sale needs it; empty when nothing is lacking.
func LackingSentence(l IntakeLayout) say.Sentence {
	missing := l.Missing()
	if len(missing) == 0 {
		return say.Sentence{}
	}
	list := intake.FieldLabel(missing[0])
	for _, f := range missing[1:] {
		list = say.New("list.next", "{{.List}}, {{.Next}}", "List", list, "Next", intake.FieldLabel(f))
	}
	return say.New("intake.lacking", "Nothing can go in before these have a column: {{.Facts}}. Choose them below, over the columns that hold them.", "Facts", list)
}

// Would says what would become of the file.
func (t Taken) Would() say.Sentence {
	pairs := []any{"Added", t.Added, "Rows", t.Added + t.Known + len(t.Refused), "Known", t.Known, "Refused", len(t.Refused)}
	switch {
	case t.Known > 0 && len(t.Refused) > 0:
		return say.New("intake.would-both", "{{.Added}} of {{.Rows}} rows would go in. Known already: {{.Known}}. Refused: {{.Refused}}.", pairs...)
	case t.Known > 0:
		return say.New("intake.would-known", "{{.Added}} of {{.Rows}} rows would go in. Known already: {{.Known}}.", pairs...)
	case len(t.Refused) > 0:
		return say.New("intake.would-refused", "{{.Added}} of {{.Rows}} rows would go in. Refused: {{.Refused}}.", pairs...)
	}
	return say.New("intake.would", "{{.Added}} of {{.Rows}} rows would go in.", pairs...)
}

// Sentence says what became of the file.
func (t Taken) Sentence() say.Sentence {
	return say.New("intake.result", "{{.Added}} {{if eq .Added 1}}sale{{else}}sales{{end}} taken in, {{.Known}} already known, {{.Refused}} {{if eq .Refused 1}}row{{else}}rows{{end}} refused.",
		"Added", t.Added, "Known", t.Known, "Refused", len(t.Refused))
}
