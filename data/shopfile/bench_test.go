package shopfile

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// big is a shop of many years: motors with lines, hours and sales.
func big(b *testing.B, motors, linesEach int) *File {
	b.Helper()
	f, err := Create(context.Background(), filepath.Join(b.TempDir(), "shop"))
	must(b, err)
	b.Cleanup(func() { _ = f.Close() })
	write(b, f, "many years", func(tx *Tx) error {
		for i := range motors {
			r := pastSale(i)
			if err := tx.PutRecord(&r); err != nil {
				return err
			}
			for j := range linesEach {
				l := costing.Line{MotorID: r.ID, Kind: costing.PartNew, On: day.Of(2020, 1, 1+j), Text: "impeller and gasket set",
					Quantity: 2, Unit: "each", Each: 1450, Total: 2900, Supplier: "harbour supply"}
				if err := tx.PutLine(&l); err != nil {
					return err
				}
			}
			if err := tx.PutSession(&costing.Session{MotorID: r.ID, Time: 90, Task: "lower unit", Rate: 2500}); err != nil {
				return err
			}
			if err := tx.PutSale(r.ID, r.Sale); err != nil {
				return err
			}
		}
		return nil
	})
	return f
}

// pastSale is a row as intake makes it.
func pastSale(i int) costing.Record {
	return costing.Record{Stage: costing.History,
		Motor: valuation.Motor{Make: "Halvard", Model: "Tern", Power: 90, Year: 2003, Stroke: valuation.TwoStroke, State: valuation.Rebuilt,
			Shaft: 20, Compression: []float64{118, 121, 119.5}, HowKnown: map[string]valuation.How{"hours": valuation.Told}},
		ListedOn: day.Of(2024, 3, 1), Ask: 285000, Note: "good runner",
		Sale: &costing.Sale{Sold: day.Of(2024, 4, 1), Price: money.Amount(200000 + i), Channel: "word of mouth", Source: fmt.Sprintf("sales.csv %d", i)}}
}

func BenchmarkIntakeOf10000(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		f, err := Create(context.Background(), filepath.Join(b.TempDir(), "shop"))
		must(b, err)
		b.StartTimer()
		write(b, f, "intake", func(tx *Tx) error {
			for i := range 10_000 {
				r := pastSale(i)
				if err := tx.PutRecord(&r); err != nil {
					return err
				}
				if err := tx.PutSale(r.ID, r.Sale); err != nil {
					return err
				}
			}
			return nil
		})
		b.StopTimer()
		must(b, f.Close())
		b.StartTimer()
	}
}

func BenchmarkUndoOfIntakeOf10000(b *testing.B) {
	f := big(b, 10_000, 0)
	for b.Loop() {
		_, err := f.Undo(context.Background())
		must(b, err)
		b.StopTimer()
		_, err = f.Redo(context.Background())
		must(b, err)
		b.StartTimer()
	}
}

func BenchmarkBigShop(b *testing.B) {
	f := big(b, 10_000, 20)
	ctx := context.Background()
	all := contents(b, f)
	one := all.Records[len(all.Records)/2]
	b.Run("read all", func(b *testing.B) {
		for b.Loop() {
			contents(b, f)
		}
	})
	b.Run("read one", func(b *testing.B) {
		for b.Loop() {
			_, err := f.Record(ctx, one.ID)
			must(b, err)
		}
	})
	b.Run("write one", func(b *testing.B) {
		for b.Loop() {
			one.Ask++
			must(b, f.Write(ctx, "price", "", func(tx *Tx) error { return tx.PutRecord(&one) }))
		}
	})
	b.Run("undo one", func(b *testing.B) {
		for b.Loop() {
			one.Ask++
			write(b, f, "price", func(tx *Tx) error {
				now, err := tx.Record(one.ID)
				must(b, err)
				now.Ask = one.Ask
				return tx.PutRecord(&now)
			})
			_, err := f.Undo(ctx)
			must(b, err)
		}
	})
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			other, err := Open(ctx, f.Path())
			must(b, err)
			must(b, other.Close())
		}
	})
	b.Run("check", func(b *testing.B) {
		for b.Loop() {
			_, err := f.Check(ctx)
			must(b, err)
		}
	})
	b.Run("copy", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			must(b, f.CopyTo(ctx, filepath.Join(b.TempDir(), fmt.Sprint("copy", i))))
		}
	})
}

func BenchmarkOpenOfAYear(b *testing.B) {
	f := big(b, 60, 20)
	for b.Loop() {
		other, err := Open(context.Background(), f.Path())
		must(b, err)
		_, err = other.Read(context.Background())
		must(b, err)
		must(b, other.Close())
	}
}
