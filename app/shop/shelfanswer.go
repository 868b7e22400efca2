package shop

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// DonorRow is a motor broken for its parts, with what of its cost has not gone to other motors.
type DonorRow struct {
	Record costing.Record
	Left   money.Amount
}

// ShelfAnswer is what stands on the shelf.
type ShelfAnswer struct {
	Answer   say.Sentence
	Goods    []GoodRow
	Things   []PieceRow // boats, trailers and the like
	Donors   []DonorRow
	Cores    []CoreRow    // core charges that are out
	Out      money.Amount // what those come to
	Receipts []ReceiptRow // the latest first
	Owed     money.Amount // on receipts not paid
	Value    money.Amount // of the goods, at cost
	Donated  money.Amount // of the donors, at cost
	Warnings []say.Sentence
}

// Shelf is what stands on the shelf, and what is running out.
func (s *Shop) Shelf() ShelfAnswer {
	a := ShelfAnswer{Goods: s.Goods()}
	var low say.Sentence
	for _, g := range a.Goods {
		a.Value += g.Stock.Value
		if g.Stock.Low || g.Stock.CountIsOff {
			if low.Empty() {
				low = seeTo(g, capital(g.Good.Name))
			} else {
				low = say.New("shelf.down-more", "{{.These}}; {{.This}}", "These", low, "This", seeTo(g, g.Good.Name))
			}
		}
		a.Warnings = append(a.Warnings, g.Stock.Warnings(g.Good)...)
	}
	for _, r := range s.Records(costing.Broken) {
		left := r.Sheet(0, s.Settings().OwnRate).Carried
		a.Donors = append(a.Donors, DonorRow{r, left})
		a.Donated += left
	}
	a.Things, a.Cores, a.Receipts = s.Things(), s.Cores(), s.Receipts()
	for _, c := range a.Cores {
		a.Out += c.Left
	}
	for _, r := range a.Receipts {
		if r.Owed() {
			a.Owed += r.Total
		}
	}
	// What stands beside the goods is named apart: the picture shows it all.
	value := say.New("shelf.value", "{{.Value}}", "Value", s.currency.Whole(a.Value))
	apart := a.Donated
	for _, t := range a.Things {
		apart += t.Cost
	}
	if apart != 0 {
		value = say.New("shelf.value-apart", "{{.All}}: goods {{.Value}}, donors and other things {{.Apart}}",
			"All", s.currency.Whole(a.Value+apart), "Value", s.currency.Whole(a.Value), "Apart", s.currency.Whole(apart))
	}
	switch {
	case len(a.Goods) == 0 && len(a.Donors) > 0:
		a.Answer = say.New("shelf.donors", "No goods are on the shelf yet. Donors stand at {{.Value}}.", "Value", s.currency.Whole(a.Donated))
	case len(a.Goods) == 0 && len(a.Things)+len(a.Receipts)+len(a.Cores) > 0:
		a.Answer = say.New("shelf.papers", "No goods are on the shelf yet.")
	case len(a.Goods) == 0:
		a.Answer = say.New("shelf.none", "Nothing is on the shelf yet.")
	case low.Empty():
		a.Answer = say.New("shelf.plenty", "Stock at cost {{.Value}}. Nothing is running out.", "Value", value)
	default:
		a.Answer = say.New("shelf.answer", "Stock at cost {{.Value}}. {{.Low}}.", "Value", value, "Low", low)
	}
	switch n := len(a.Cores); {
	case n == 1:
		a.Answer = say.New("shelf.with-core", "{{.Answer}} A core charge of {{.Out}} is owed to you: {{.Words}}.", "Answer", a.Answer, "Out", s.currency.Format(a.Out), "Words", a.Cores[0].Words)
	case n > 1:
		a.Answer = say.New("shelf.with-cores", "{{.Answer}} {{.Count}} core charges of {{.Out}} together are owed to you; of the most pressing, {{.Words}}.",
			"Answer", a.Answer, "Count", n, "Out", s.currency.Format(a.Out), "Words", a.Cores[0].Words)
	}
	return a
}

// seeTo says what a good asks for: to be bought, or to be counted.
func seeTo(g GoodRow, name string) say.Sentence {
	if g.Stock.CountIsOff {
		return say.New("shelf.miscounted", "{{.Good}} must be counted", "Good", name)
	}
	return say.New("shelf.down", "{{.Good}} is down to {{.Left}}", "Good", name, "Left", costing.Measure(g.Stock.Quantity, g.Good.Unit))
}

// TakePart moves a part off any motor in stock onto another for a value: it leaves the one's cost and
// enters the other's, so that together they cost what they did. A part that is listed on its donor goes by
// [Shop.FitPiece], which works out its share.
func (s *Shop) TakePart(donorID, motorID, part string, value money.Amount) error {
	donor, err := s.stage(donorID, "take a part off", costing.Broken, costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return err
	}
	r, err := s.stage(motorID, "fit a part to", costing.Bench, costing.Finished, costing.Listed, costing.Sold)
	if err != nil {
		return err
	}
	return s.takePart(donor, r, part, value)
}

// capital makes the first letter of a name a capital one, for the beginning of a sentence.
func capital(name string) string {
	r, size := utf8.DecodeRuneInString(name)
	if size == 0 {
		return name
	}
	return string(unicode.ToUpper(r)) + name[size:]
}

func percent(share float64) string { return strconv.FormatFloat(share*100, 'f', 0, 64) }

// lostEnd ends the id of the cost that a core charge became; the line that ends the charge has the same id
// without it, so that the two are only ever taken back together.
const lostEnd = ".l"

func (s *Shop) takePart(donor, r costing.Record, part string, value money.Amount) error {
	if strings.TrimSpace(part) == "" {
		return fmt.Errorf("part: say which part was taken")
	}
	left := donor.Sheet(0, s.Settings().OwnRate).Carried
	if value < 0 || value > left {
		return fmt.Errorf("value: the part can carry between nothing and what is left on the donor, %s", s.currency.Format(left))
	}
	p := costing.Piece{ID: shopfile.NewID(), DonorID: donor.ID, Name: strings.TrimSpace(part), Cost: value, Fate: costing.Fitted, LeftOn: s.Today(), MotorID: r.ID}
	if donor.ID == r.ID {
		return fmt.Errorf("onto: it is on that motor already")
	}
	what := say.New("undo.takepart", "{{.Part}} taken off {{.Donor}}", "Part", part, "Donor", title(donor))
	return s.write(what, "", "", func(tx *shopfile.Tx) error { return s.putPart(tx, &p) })
}

// otherEnd is the id of the line that moves with one of a part taken off a donor, or of a core charge given
// up; "" for other lines.
func (s *Shop) otherEnd(l costing.Line) string {
	var end string
	switch l.Kind {
	case costing.PartDonor:
		end = costing.OffEnd
	case costing.CoreCharge, costing.CoreLost:
		end = lostEnd
	default:
		return ""
	}
	other, has := strings.CutSuffix(l.ID, end)
	if !has {
		other = l.ID + end
	}
	for _, r := range s.contents.Records {
		for _, line := range r.Lines {
			if line.ID == other {
				return other
			}
		}
	}
	return ""
}
