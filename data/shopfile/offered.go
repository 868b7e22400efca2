package shopfile

import (
	"context"

	"skegworth/costing"
)

// Lots that sellers offer: motors name theirs, other things stand in it.
var (
	lots = define(table{name: "lots", thing: "lot",
		fresh: func() row { return bundleRow(new(costing.Bundle)) }})
	lotThings = define(table{name: "lot_things", thing: "thing of a lot",
		refs:  map[string]string{"lot_id": "lots"},
		fresh: func() row { return bundleThingRow(new(costing.BundleThing)) }})
)

func bundleRow(b *costing.Bundle) row {
	return row{&b.ID, &b.Version, []field{
		text("name", &b.Name),
		whole("asks", &b.Asks),
		real("trip", &b.Trip),
		flag("splits", &b.Splits),
		text("note", &b.Note),
	}, func() string { return called("lot", b.Name) }}
}

func bundleThingRow(t *costing.BundleThing) row {
	fields := []field{mustRef("lot_id", &t.BundleID), text("name", &t.Name)}
	fields = append(fields, three("worth", &t.Worth)...)
	fields = append(fields, real("chance", &t.Chance), flag("kept", &t.Kept), whole("own_worth", &t.OwnWorth))
	return row{&t.ID, &t.Version, fields, func() string { return called("thing of a lot", t.Name) }}
}

func readBundles(ctx context.Context, q reader) ([]costing.Bundle, error) {
	out, err := all(ctx, q, lots, bundleRow, "ORDER BY id")
	if err != nil || len(out) == 0 {
		return nil, err
	}
	things, err := all(ctx, q, lotThings, bundleThingRow, "ORDER BY lot_id, id")
	if err != nil {
		return nil, err
	}
	at := make(map[string]*costing.Bundle, len(out))
	for i := range out {
		at[out[i].ID] = &out[i]
	}
	for _, run := range runs(things, func(t costing.BundleThing) string { return t.BundleID }) {
		if b := at[run[0].BundleID]; b != nil {
			b.Things = run
		}
	}
	return out, nil
}

// PutBundle writes a lot with its things: those that it had before and has no more are removed.
func (tx *Tx) PutBundle(b *costing.Bundle) error {
	if err := tx.put(lots, bundleRow(b)); err != nil {
		return err
	}
	kept := make(map[string]bool, len(b.Things))
	for i := range b.Things {
		b.Things[i].BundleID = b.ID
		if err := tx.put(lotThings, bundleThingRow(&b.Things[i])); err != nil {
			return err
		}
		kept[b.Things[i].ID] = true
	}
	return explain(tx.doing, tx.dropOthers(lotThings, "lot_id", b.ID, kept))
}

// DeleteBundle removes a lot with its things. Its motors stay, each by itself.
func (tx *Tx) DeleteBundle(id string) error {
	return explain(tx.doing, func() error {
		of, err := all(tx.quiet(), tx.sql, motors, motorRow, "WHERE lot_id = $1 ORDER BY id", id)
		if err != nil {
			return err
		}
		for i := range of {
			of[i].BundleID = ""
			if err := tx.PutRecord(&of[i]); err != nil {
				return err
			}
		}
		if err := tx.dropWhere(lotThings, "lot_id", id); err != nil {
			return err
		}
		return tx.drop(lots, id)
	}())
}
