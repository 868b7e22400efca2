package costing_test

import (
	"testing"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// What may and may not enter a motor's carrying amount, by the paragraphs of IAS 2 Inventories that say
// so. Each case starts from a motor bought for 900.00 on the 10th of January and sold on the 1st of May.
func TestWhatAMotorCarries(t *testing.T) {
	const price money.Amount = 900_00
	bought, sold := day.Of(2026, 1, 10), day.Of(2026, 5, 1)
	line := func(k costing.Kind, on day.Day, total money.Amount) func(*costing.Record) {
		return func(r *costing.Record) { r.Lines = append(r.Lines, costing.Line{Kind: k, On: on, Total: total}) }
	}
	worked := func(paid bool, on day.Day) func(*costing.Record) {
		return func(r *costing.Record) {
			r.Sessions = append(r.Sessions, costing.Session{On: on, Time: 2 * costing.Hour, Paid: paid, Rate: 30_00})
		}
	}
	work := bought + 20
	for _, c := range []struct {
		para string
		what string
		do   func(*costing.Record)
		adds money.Amount
	}{
		{"10, 11", "the price", func(*costing.Record) {}, 0},
		{"11", "tax that is not recovered", line(costing.PurchaseTax, bought, 54_00), 54_00},
		{"10, 11", "bringing it in: the trip", line(costing.Trip, bought-3, 25_60), 25_60},
		{"10, 11", "bringing it in: freight", line(costing.FreightIn, bought, 80_00), 80_00},
		{"10, 12", "new parts", line(costing.PartNew, work, 140_00), 140_00},
		{"10, 12", "another maker's parts", line(costing.PartOther, work, 60_00), 60_00},
		{"10, 12", "used parts", line(costing.PartUsed, work, 35_00), 35_00},
		{"10, 14", "a part off a donor, at its share", line(costing.PartDonor, work, 90_00), 90_00},
		{"10", "a part that gave its share to another motor", line(costing.PartDonor, work, -90_00), -90_00},
		{"11", "a part returned: rebates are deducted", func(r *costing.Record) {
			line(costing.PartNew, work, 140_00)(r)
			line(costing.PartNew, work+2, -40_00)(r)
		}, 100_00},
		{"12", "consumables off the shelf", line(costing.Shelf, work, 12_40), 12_40},
		{"12", "consumables at a flat rate", line(costing.Kit, work, 9_00), 9_00},
		{"12", "work done outside", line(costing.Outside, work, 75_00), 75_00},
		{"12", "paid labour", worked(true, work), 60_00},
		{"12, 13", "workshop overhead", line(costing.Overhead, work, 22_00), 22_00},
		{"11", "a core charge while it is to come back: a deposit", line(costing.CoreCharge, work, 60_00), 0},
		{"10, 11", "a core charge that is lost", func(r *costing.Record) {
			line(costing.CoreCharge, work, 60_00)(r)
			line(costing.CoreCharge, work+9, -60_00)(r)
			line(costing.CoreLost, work+9, 60_00)(r)
		}, 60_00},
		{"16(d)", "the notice in the paper", line(costing.Listing, work, 12_00), 0},
		{"16(d)", "the marketplace's fee", line(costing.MarketFee, sold, 130_00), 0},
		{"16(d)", "delivery to the buyer", line(costing.Delivery, sold, 40_00), 0},
		{"16", "a comeback", line(costing.Comeback, sold+9, 30_00), 0},
		{"16", "parts put in after the sale", line(costing.PartNew, sold+9, 30_00), 0},
		{"16", "paid labour after the sale", worked(true, sold+9), 0},
		{"16", "overhead after the sale", line(costing.Overhead, sold+9, 8_00), 0},
		{"16", "money given back to the buyer", line(costing.Refund, sold+9, 50_00), 0},
		{"-", "the owner's own time is nobody's bill", worked(false, work), 0},
		{"28, 34", "a write-down lowers it", line(costing.WriteDown, work, -200_00), -200_00},
		{"34", "a write-down of what was gone by then does nothing", line(costing.WriteDown, sold+9, -200_00), 0},
	} {
		t.Run(c.what, func(t *testing.T) {
			r := costing.Record{Stage: costing.Sold, BoughtOn: bought, Sale: &costing.Sale{Sold: sold, Price: 2600_00}}
			line(costing.Purchase, bought, price)(&r)
			c.do(&r)
			if got := r.Sheet(0, 25_00).Carried; got != price+c.adds {
				t.Errorf("IAS 2 para %s: carried %d, want %d", c.para, got, price+c.adds)
			}
		})
	}
}

// Tax that is recovered never enters (para 11), storage and abnormal waste do not (para 16): a receipt puts
// them elsewhere.
func TestWhatAReceiptKeepsOutOfTheMotor(t *testing.T) {
	r := costing.Receipt{Tax: 20_00, TaxBack: 20_00}
	items := []costing.Item{thing(costing.ToMotor, "piston set", 100_00)}
	if err := r.Land(items); err != nil || items[0].Landed != 100_00 || items[0].TaxBack != 20_00 {
		t.Errorf("para 11: %v %+v", err, items)
	}
	for what, goes := range map[string]costing.Goes{"storage": costing.ToExpense, "a broken gasket set": costing.ToExpense, "a puller": costing.ToExpense, "rent": costing.ToOverhead} {
		b := costing.Books{Receipts: []costing.Receipt{{ID: "r"}}, Items: []costing.Item{{ID: "i", ReceiptID: "r", Goes: goes, Landed: 50_00}}}
		if got := b.Balance(0); got.Expenses != 50_00 || got.Stock() != 0 || got.Off() != 0 {
			t.Errorf("para 16: %s stands as %+v", what, got)
		}
	}
}

// Interchangeable goods go by weighted average or first-in first-out (para 25), motors by their own cost
// (para 23). Last-in first-out is not offered.
func TestMethodsOffered(t *testing.T) {
	if len(costing.Methods) != 2 || costing.Methods[0] != costing.ByAverage || costing.Methods[1] != costing.FirstIn {
		t.Errorf("%v", costing.Methods)
	}
}
