package shopfile

import (
	"context"

	"skegworth/costing"
)

// Receipts, what stands on them, and things that are no motors.
var (
	receipts = define(table{name: "receipts", thing: "receipt",
		fresh: func() row { return receiptRow(new(costing.Receipt)) }})
	items = define(table{name: "items", thing: "item of a receipt",
		refs:  map[string]string{"receipt_id": "receipts", "undoes": "items", "motor_id": "motors", "good_id": "goods"},
		fresh: func() row { return itemRow(new(costing.Item)) }})
	pieces = define(table{name: "pieces", thing: "piece",
		refs:  map[string]string{"donor_id": "motors", "motor_id": "motors"},
		fresh: func() row { return pieceRow(new(costing.Piece)) }})
)

func receiptRow(r *costing.Receipt) row {
	return row{&r.ID, &r.Version, []field{
		text("supplier", &r.Supplier),
		date("bought_on", &r.On),
		text("number", &r.Number),
		whole("freight", &r.Freight),
		whole("tax", &r.Tax),
		whole("tax_back", &r.TaxBack),
		whole("lot", &r.Lot),
		date("due_on", &r.Due),
		date("paid_on", &r.PaidOn),
		text("note", &r.Note),
	}, func() string { return called("receipt", r.Supplier+" "+r.On.String()) }}
}

func itemRow(i *costing.Item) row {
	return row{&i.ID, &i.Version, []field{
		mustRef("receipt_id", &i.ReceiptID),
		ref("undoes", &i.Undoes),
		mustWord("goes", &i.Goes, costing.Destinations),
		date("came_on", &i.On),
		text("wording", &i.Text),
		real("quantity", &i.Quantity),
		text("unit", &i.Unit),
		whole("net", &i.Net),
		whole("landed", &i.Landed),
		whole("tax_back", &i.TaxBack),
		whole("worth", &i.Value),
		real("chance", &i.Chance),
		ref("motor_id", &i.MotorID),
		ref("good_id", &i.GoodID),
	}, func() string { return called("item", i.Text) }}
}

func pieceRow(p *costing.Piece) row {
	return row{&p.ID, &p.Version, []field{
		ref("donor_id", &p.DonorID),
		text("name", &p.Name),
		whole("worth", &p.Value),
		real("chance", &p.Chance),
		whole("cost", &p.Cost),
		date("came_on", &p.CameOn),
		word("fate", &p.Fate, costing.Fates),
		date("left_on", &p.LeftOn),
		ref("motor_id", &p.MotorID),
		whole("price", &p.Price),
		whole("fee", &p.Fee),
		text("channel", &p.Channel),
		text("buyer", &p.Buyer),
		text("package", &p.Package),
		text("note", &p.Note),
		flag("from_owner", &p.FromOwner),
	}, func() string { return called("piece", p.Name) }}
}

// PutReceipt writes one purchase on one piece of paper. What stands on it is put item by item.
func (tx *Tx) PutReceipt(r *costing.Receipt) error { return tx.put(receipts, receiptRow(r)) }

// DeleteReceipt removes a purchase nothing stands on any more.
func (tx *Tx) DeleteReceipt(id string) error { return tx.drop(receipts, id) }

// PutItem writes one thing on a receipt. The line, move or piece it became is put under the same key.
func (tx *Tx) PutItem(i *costing.Item) error { return tx.put(items, itemRow(i)) }

// DeleteItem removes one thing from a receipt.
func (tx *Tx) DeleteItem(id string) error { return tx.drop(items, id) }

// PutPiece writes a part of a donor or a thing by itself.
func (tx *Tx) PutPiece(p *costing.Piece) error { return tx.put(pieces, pieceRow(p)) }

// DeletePiece removes a part of a donor or a thing by itself.
func (tx *Tx) DeletePiece(id string) error { return tx.drop(pieces, id) }

// readStock reads all of them.
func (c *Contents) readStock(ctx context.Context, r reader) (err error) {
	if c.Receipts, err = all(ctx, r, receipts, receiptRow, "ORDER BY id"); err != nil {
		return err
	}
	if c.Items, err = all(ctx, r, items, itemRow, "ORDER BY id"); err != nil {
		return err
	}
	c.Pieces, err = all(ctx, r, pieces, pieceRow, "ORDER BY id")
	return err
}
