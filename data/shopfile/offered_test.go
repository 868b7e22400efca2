package shopfile

import (
	"testing"

	"skegworth/costing"
)

// A lot that is taken apart leaves its motors each by itself, and undo puts it together again.
func TestALotGoesAndItsMotorsStay(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		lot := costing.Bundle{Name: "barn", Asks: 250000, Things: []costing.BundleThing{{Name: "trailer", Chance: 0.5}, {Name: "box of parts"}}}
		motor := costing.Record{Stage: costing.Prospect}
		write(t, f, "a lot", func(tx *Tx) error {
			return firstError(
				func() error { return tx.PutBundle(&lot) },
				func() error { motor.BundleID = lot.ID; return tx.PutRecord(&motor) },
			)
		})
		before := contents(t, f)
		less := lot
		less.Things = lot.Things[:1:1]
		write(t, f, "one thing less", func(tx *Tx) error { return tx.PutBundle(&less) })
		if got := contents(t, f).Bundles[0].Things; len(got) != 1 || got[0].Name != "trailer" {
			t.Errorf("the lot holds %v, want the trailer alone", got)
		}
		write(t, f, "no lot", func(tx *Tx) error { return tx.DeleteBundle(lot.ID) })
		after := contents(t, f)
		if len(after.Bundles) != 0 || len(after.Records) != 1 || after.Records[0].BundleID != "" {
			t.Errorf("after the lot is gone: %d lots, motors %v", len(after.Bundles), after.Records)
		}
		for range 2 {
			if _, err := f.Undo(t.Context()); err != nil {
				t.Fatal(err)
			}
		}
		got := contents(t, f)
		if len(got.Bundles) != 1 || len(got.Bundles[0].Things) != len(before.Bundles[0].Things) || got.Records[0].BundleID != lot.ID {
			t.Errorf("undone, the lot is %v and its motor in %q", got.Bundles, got.Records[0].BundleID)
		}
	})
}
