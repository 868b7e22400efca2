// Package example has a shop that never was, to look around in: invented makes, people and places, about
// sixty sales drawn from a market whose true workings stand in [Truth], motors at every stage, a shelf.
//
// Its days count back from the day it is made, so that "this year" in it is this year.
package example

import (
	"context"
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Name of the shop in the example.
const Name = "Fallow Lake Outboards"

// Fill writes the example into a fresh shop file, all in one change. The same day always gives the same
// shop, row by row.
func Fill(ctx context.Context, f *shopfile.File, today day.Day) error {
	b, err := build(today)
	if err != nil {
		return err
	}
	now, err := f.Read(ctx)
	if err != nil {
		return err
	}
	if len(now.Records) > 0 || len(now.Goods) > 0 {
		return fmt.Errorf("fill the example shop: the shop file already holds %d motors and %d goods", len(now.Records), len(now.Goods))
	}
	settings := b.settings()
	settings.Version = now.Settings.Version
	return f.Write(ctx, "example shop", "", func(tx *shopfile.Tx) error {
		if err := tx.PutSettings(&settings); err != nil {
			return err
		}
		for i := range b.goods {
			if err := tx.PutGood(&b.goods[i]); err != nil {
				return err
			}
		}
		if err := b.putCards(tx); err != nil {
			return err
		}
		for i := range b.offered {
			if err := tx.PutBundle(&b.offered[i]); err != nil {
				return err
			}
		}
		for _, r := range b.records {
			if err := putRecord(tx, r); err != nil {
				return err
			}
		}
		for _, r := range b.records {
			if err := putSelling(tx, r); err != nil {
				return err
			}
			for i := range r.Lines {
				if err := tx.PutLine(&r.Lines[i]); err != nil {
					return err
				}
			}
		}
		for i := range b.moves {
			if err := tx.PutMove(&b.moves[i]); err != nil {
				return err
			}
		}
		if err := b.putPhotos(tx); err != nil {
			return err
		}
		if err := b.papers.write(tx); err != nil {
			return err
		}
		closing := b.closing(settings)
		return tx.PutClosing(&closing)
	})
}

// putRecord writes a motor with its hours; its lines and its sale come when all motors are there.
func putRecord(tx *shopfile.Tx, r *costing.Record) error {
	if err := tx.PutRecord(r); err != nil {
		return err
	}
	if err := putWork(tx, r); err != nil {
		return err
	}
	for i := range r.Sessions {
		if err := tx.PutSession(&r.Sessions[i]); err != nil {
			return err
		}
	}
	return nil
}

// years the history reaches back.
const years = 4

// build makes the whole shop in memory.
func build(today day.Day) (*ledger, error) {
	b := &ledger{today: today, start: day.Of(today.Year()-years, today.Month(), today.Time().Day())}
	own := saleDays(today)
	b.history(allSales - len(own))
	for i, on := range own {
		b.soldMotor(i, on)
	}
	b.gone()
	b.stock()
	b.ready()
	b.prospects()
	if err := b.shelf(); err != nil {
		return nil, err
	}
	if err := b.lots(); err != nil {
		return nil, err
	}
	b.selling()
	b.forOwner()
	b.tagged()
	b.planned()
	b.onTheBench()
	return b, nil
}

// settings of the example shop.
func (b *ledger) settings() costing.Settings {
	s := costing.DefaultSettings()
	s.ShopName = Name
	s.Currency, s.Language = "USD", "en-US"
	s.Anchor = money.Amount(1150 * cents)
	s.OwnRate, s.TripRate, s.FeeRate = ownRate, tripRate, feeRate
	s.BarredWaters = "Fallow Lake, and the Tarn above the weir"
	s.ListingEnd = "To be seen at Fallow Lake Outboards, by the slip, most evenings."
	s.CostOfMoney, s.HoursAWeek, s.Places = 0.06, 12, 10
	s.Cash, s.CashOn = 6500*cents, b.today-60
	return s
}
