package review

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// frozenHead is the first line of the canonical text, with its version.
const frozenHead = "skegworth-year\t1"

// Canonical writes every figure of the period in one form that the same figures always have, a line each,
// its parts set apart by tabs and its words quoted as Go quotes strings:
//
//	period  FROM  TO  CURRENCY
//	figure  KEY  MINOR-UNITS
//	hours   KEY  MINUTES
//	sold    ID  DAY  PRICE  NET-SALE  COST  PROFIT-BEFORE-OWN-TIME  OWN-MINUTES  NAME
//	piece   ID  DAY  PRICE  COST  FEE  PROFIT  NAME
//	stock   KIND  ID  QUANTITY  COST  NET-REALISABLE-VALUE or -  NAME
//	entry   FIGURE  DAY  KIND  OF-ID  ID  MINOR-UNITS  NAME  WORDING
//
// Figures and hours stand in the order of a report, the rest in the order of the review. The digest of a
// closed year is the SHA-256 of this text in UTF-8.
func (r Review) Canonical() string {
	var b strings.Builder
	line := func(parts ...any) {
		for i, p := range parts {
			if i > 0 {
				b.WriteByte('\t')
			}
			fmt.Fprint(&b, p)
		}
		b.WriteByte('\n')
	}
	q := strconv.Quote
	line(frozenHead)
	line("period", r.Period.From, r.Period.To, r.Currency.Code())
	for _, f := range Figures {
		line("figure", f, int64(r.Figure(f)))
	}
	for _, h := range r.hours() {
		line("hours", h.key, int64(h.time))
	}
	for _, m := range r.Sold {
		line("sold", q(m.ID), m.Sold, int64(m.Price), int64(m.NetSale), int64(m.CostOfSale), int64(m.BeforeOwnTime), int64(m.OwnHours), q(m.Name))
	}
	for _, p := range r.PiecesSold {
		line("piece", q(p.ID), p.Sold, int64(p.Price), int64(p.Cost), int64(p.Fee), int64(p.BeforeOwnTime), q(p.Name))
	}
	for _, s := range r.ClosingStock {
		net := "-"
		if s.Realisable.Known() {
			net = strconv.FormatInt(int64(s.Realisable.Net), 10)
		}
		line("stock", s.What, q(s.ID), strconv.FormatFloat(s.Quantity, 'g', -1, 64), int64(s.Cost), net, q(s.Name))
	}
	for _, f := range Figures {
		if _, sum := sums[f]; sum {
			continue
		}
		for _, e := range r.Lines(f) {
			line("entry", f, e.On, e.What, q(e.OfID), q(e.ID), int64(e.Amount), q(e.Of), q(e.Text))
		}
	}
	return b.String()
}

// hours are the times that a closed year keeps.
func (r Review) hours() []struct {
	key  string
	time costing.Hours
} {
	return []struct {
		key  string
		time costing.Hours
	}{{"sold", r.SoldHours}, {"other", r.OtherHours}, {"worked", r.WorkedHours}}
}

var hoursNames = map[string]say.Sentence{
	"sold": say.New("hours.sold", "Own hours on the motors sold"), "other": say.New("hours.other", "Own hours beside them"),
	"worked": say.New("hours.worked", "Own hours worked in the period"),
}

// Digest of a canonical text.
func Digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// Close freezes the period's figures as they are.
func (r Review) Close(on day.Day) costing.Closing {
	text := r.Canonical()
	return costing.Closing{From: r.Period.From, To: r.Period.To, ClosedOn: on, Figures: text, Digest: Digest(text)}
}

// Frozen is what a closed year's text says.
type Frozen struct {
	Period  Period
	figure  map[Figure]money.Amount
	hours   map[string]costing.Hours
	entries map[Figure][]Entry
}

// Figure as it was when the year was closed, and false when it was not kept then.
func (f Frozen) Figure(name Figure) (money.Amount, bool) { a, ok := f.figure[name]; return a, ok }

// ErrAltered is in the chain of an error about a closed year whose kept figures are not what was frozen.
var ErrAltered = errors.New("the kept figures are not those that were frozen")

// Thaw reads the frozen figures of a closed year. A text that is not the one that was frozen is refused.
func Thaw(c costing.Closing) (Frozen, error) {
	fail := func(why string) (Frozen, error) { return Frozen{}, fmt.Errorf("closed year: %w: %s", ErrAltered, why) }
	if Digest(c.Figures) != c.Digest {
		return fail("their digest is another")
	}
	out := Frozen{figure: map[Figure]money.Amount{}, hours: map[string]costing.Hours{}, entries: map[Figure][]Entry{}}
	lines := strings.Split(strings.TrimSuffix(c.Figures, "\n"), "\n")
	if lines[0] != frozenHead {
		return fail("they were written by another version of the program")
	}
	for n, text := range lines[1:] {
		part := strings.Split(text, "\t")
		var err error
		whole := func(s string) int64 {
			v, e := strconv.ParseInt(s, 10, 64)
			err = errors.Join(err, e)
			return v
		}
		words := func(s string) string {
			v, e := strconv.Unquote(s)
			err = errors.Join(err, e)
			return v
		}
		date := func(s string) day.Day {
			if s == "" {
				return 0
			}
			v, e := day.Parse(s)
			err = errors.Join(err, e)
			return v
		}
		switch {
		case part[0] == "period" && len(part) == 4:
			out.Period = Period{date(part[1]), date(part[2])}
		case part[0] == "figure" && len(part) == 3:
			out.figure[Figure(part[1])] = money.Amount(whole(part[2]))
		case part[0] == "hours" && len(part) == 3:
			out.hours[part[1]] = costing.Hours(whole(part[2]))
		case part[0] == "entry" && len(part) == 9:
			f := Figure(part[1])
			out.entries[f] = append(out.entries[f], Entry{Figure: f, On: date(part[2]), What: EntryKind(part[3]), OfID: words(part[4]), ID: words(part[5]),
				Amount: money.Amount(whole(part[6])), Of: words(part[7]), Text: words(part[8])})
		case part[0] == "sold" || part[0] == "piece" || part[0] == "stock": // to be read by people
		default:
			err = errors.New("not a line of them")
		}
		if err != nil {
			return fail(fmt.Sprintf("line %d: %v", n+2, err))
		}
	}
	return out, nil
}

// Correction is a figure of a closed year that is another by today's books.
type Correction struct {
	Figure   Figure // "" where it is hours
	Name     say.Sentence
	Was, Now money.Amount

	WasHours, NowHours costing.Hours

	Changes []Change // of a plain figure: what makes the difference, to the minor unit
}

// Difference is what today's books say more (+) or less (-) than the closed year.
func (c Correction) Difference() money.Amount { return c.Now - c.Was }

// Change is one entry that was entered, changed or taken out since.
type Change struct {
	Entry   // as it is now, or as it was where it is gone; Amount is Now - Was
	Was     money.Amount
	Now     money.Amount
	Entered day.Day // the day on which that was last changed, where it is known
}

// Corrections compares the period with its frozen figures, in the order of a report; none where all are the
// same. What stock is expected to bring changes with the market and is no figure of the books.
func (r Review) Corrections(was Frozen) []Correction {
	var out []Correction
	for _, f := range Figures {
		before, kept := was.figure[f]
		now := r.Figure(f)
		if !kept || before == now {
			if _, sum := sums[f]; !kept || sum || len(changes(was.entries[f], r.ledger.entries(f))) == 0 {
				continue
			}
		}
		c := Correction{Figure: f, Name: f.Name(), Was: before, Now: now}
		if _, sum := sums[f]; !sum {
			c.Changes = changes(was.entries[f], r.ledger.entries(f))
		}
		out = append(out, c)
	}
	for _, h := range r.hours() {
		if before, kept := was.hours[h.key]; kept && before != h.time {
			out = append(out, Correction{Name: hoursNames[h.key], WasHours: before, NowHours: h.time})
		}
	}
	return out
}

// changes are the entries that are not in both, or at another amount.
func changes(was, now []Entry) []Change {
	type key struct {
		on       day.Day
		what     EntryKind
		ofID, id string
	}
	at := make(map[key]int)
	var all []Change
	see := func(entries []Entry, add func(*Change, money.Amount)) {
		for _, e := range entries {
			k := key{e.On, e.What, e.OfID, e.ID}
			i, there := at[k]
			if !there {
				i = len(all)
				at[k] = i
				all = append(all, Change{})
			}
			all[i].Entry = e
			add(&all[i], e.Amount)
		}
	}
	see(was, func(c *Change, a money.Amount) { c.Was += a })
	see(now, func(c *Change, a money.Amount) { c.Now += a })
	out := all[:0]
	for _, c := range all {
		if c.Was != c.Now {
			c.Amount = c.Now - c.Was
			out = append(out, c)
		}
	}
	return slices.Clip(out)
}

// Earlier is how a year opens after one that was closed: by today's books, which corrections booked since
// may have changed. To the minor unit, for motors, shelf and things and for all,
//
//	FrozenClosing = Opening + Corrections
type Earlier struct {
	Period        Period // the closed year
	FrozenClosing money.Amount
	Opening       money.Amount
	Corrections   money.Amount
	Lines         []Step // corrections to motors, shelf and things; those that are nothing are left out
}

// earlier sets the opening beside what the year before was closed with.
func (y *yearbook) earlier() {
	for _, c := range y.in.Closings {
		if !c.Closed() || c.To != y.Period.From-1 {
			continue
		}
		was, err := Thaw(c)
		if err != nil {
			y.Warnings = append(y.Warnings, say.New("review.altered", "The year to {{.Day}} was closed, and its kept figures are not those that were frozen.", "Day", c.To.String()))
			return
		}
		e := Earlier{Period: Period{c.From, c.To}, FrozenClosing: was.figure[Closing], Opening: y.Figure(Opening)}
		e.Corrections = e.FrozenClosing - e.Opening
		for _, pair := range [][2]Figure{{ClosingMotors, OpeningMotors}, {ClosingShelf, OpeningShelf}, {ClosingThings, OpeningThings}} {
			if d := was.figure[pair[0]] - y.Figure(pair[1]); d != 0 {
				e.Lines = append(e.Lines, Step{pair[0].Name(), d})
			}
		}
		y.Earlier = &e
		return
	}
}
