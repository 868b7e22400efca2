package intake

import (
	"errors"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// sales reads every row of the table as a past sale.
func (t table) sales(o Options) Batch {
	var latest day.Day
	if o.Today != 0 {
		latest = o.Today + 1 // the list may come from across the date line
	}
	r := newReader(t, o, []string{sold, listed}, []string{price, asked}, latest)
	b := Batch{Rows: make([]Row, 0, len(t.lines)), Notes: r.notes(), Layout: t.layout()}
	prints := newFingerprints(r.motor)
	for _, l := range t.lines {
		record, err := r.sale(l, latest)
		if err != nil {
			b.Refused = append(b.Refused, refusal(l, err))
			continue
		}
		print := prints.of(record)
		record.Sale.Source = print
		b.Rows = append(b.Rows, Row{Line: l.number, Record: record, Fingerprint: print})
	}
	return b
}

// sale reads one row. The error is a [*valuation.FieldError].
func (r *reader) sale(l line, latest day.Day) (costing.Record, error) {
	none := costing.Record{}
	if err := r.fit(l); err != nil {
		return none, err
	}
	s := costing.Sale{}
	record := costing.Record{Stage: costing.History, Sale: &s}
	var err error
	if s.Sold, err = r.day(l, sold); err != nil {
		return none, err
	}
	if s.Sold == 0 {
		return none, refuse(sold, notADate(""))
	}
	if latest != 0 && s.Sold > latest {
		return none, refuse(sold, say.New("intake.future", "{{.Day}} is in the future", "Day", s.Sold.String()))
	}
	var known bool
	if s.Price, known, err = r.amount(l, price); err != nil {
		return none, err
	}
	switch {
	case !known:
		return none, refuse(price, say.New("intake.price.missing", "the price is missing"))
	case s.Price <= 0:
		return none, refuse(price, say.New("intake.price.nothing", "a price must be more than nothing"))
	}
	if record.Motor, err = r.motorOf(l, s.Sold); err != nil {
		return none, err
	}
	if record.ListedOn, err = r.day(l, listed); err != nil {
		return none, err
	}
	if record.ListedOn > s.Sold {
		return none, refuse(listed, say.New("intake.listed.late", "{{.Listed}} is later than the sale on {{.Sold}}", "Listed", record.ListedOn.String(), "Sold", s.Sold.String()))
	}
	if record.Ask, _, err = r.amount(l, asked); err != nil {
		return none, err
	}
	if record.Ask < 0 {
		return none, refuse(asked, say.New("intake.asked.less", "an asking price cannot be less than nothing"))
	}
	if s.Channel, err = r.words(l, channel); err != nil {
		return none, err
	}
	if s.Note, err = r.words(l, note); err != nil {
		return none, err
	}
	return record, nil
}

// motorOf reads the facts about the motor of a row; the state alone of the four that matter most may
// be missing. On is the day it was sold or is to be valued, 0 when not said.
func (r *reader) motorOf(l line, on day.Day) (valuation.Motor, error) {
	var m valuation.Motor
	for _, c := range r.motor {
		if err := r.fact(&m, l, c); err != nil {
			return valuation.Motor{}, err
		}
	}
	var lacks *valuation.FieldError
	if err := m.Needed(); errors.As(err, &lacks) && lacks.Field != "state" {
		return valuation.Motor{}, err
	}
	if err := m.CheckOn(on); err != nil {
		return valuation.Motor{}, err
	}
	return m, nil
}
