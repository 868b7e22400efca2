package shopfile

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/valuation/say"
)

// Report is what [File.Check] found.
type Report struct {
	Faults []say.Sentence // what is wrong, nothing when all is well
	Counts []say.Sentence // what is in the file
}

// OK tells whether nothing is wrong.
func (r Report) OK() bool { return len(r.Faults) == 0 }

// Strings gives every sentence in English, faults first.
func (r Report) Strings() []string {
	return append(say.Strings(r.Faults), say.Strings(r.Counts)...)
}

// shownFaults of one kind are listed one by one; the rest is counted.
const shownFaults = 20

// Check goes through the whole file: that the pages on the disk are sound, that what is referred to is
// there, that every word is one the shop knows, that a motor is sold exactly when it has a sale, that asking prices, holds and part exchanges agree, that each
// draw from the shelf stands on its motor's cost sheet, that receipts add up, that all that was paid is
// somewhere, once, and that the rows are as the undo log says they were saved last. An error means that the check could not be
// made, faults found are in the report.
func (f *File) Check(ctx context.Context) (Report, error) {
	var out Report
	err := f.reading(ctx, "check the shop file", func(r reader) (err error) {
		out.Faults, err = f.dialect.faults(ctx, r)
		return err
	})
	if err != nil {
		return out, err
	}
	c, err := f.Read(ctx)
	if errors.Is(err, ErrDamaged) {
		out.Faults = append(out.Faults, say.New("check.unread", "The records cannot be read: {{.Reason}}.", "Reason", err.Error()))
		return out, nil
	}
	if err != nil {
		return out, err
	}
	out.Faults = append(out.Faults, recordFaults(c)...)
	out.Counts = counts(c)
	lost, err := f.unpictured(ctx)
	if err != nil {
		return out, err
	}
	for _, p := range lost {
		out.Faults = append(out.Faults, say.New("check.photo", "{{.Photo}} has lost its picture.", "Photo", capital(called("photo", p.Caption))))
	}
	undo, err := f.undoFaults(ctx)
	out.Faults = append(out.Faults, undo...)
	if err != nil || len(undo) > 0 { // a log that is damaged itself tells nothing of the rest
		return out, err
	}
	unlike, err := f.imageFaults(ctx)
	out.Faults = append(out.Faults, unlike...)
	return out, err
}

// recordFaults are what the records themselves show to be out of order.
func recordFaults(c Contents) []say.Sentence {
	return slices.Concat(wordFaults(c), saleFaults(c), sellingFaults(c), drawFaults(c), stockFaults(c))
}

// wordFaults are the values that could not be written today.
func wordFaults(c Contents) []say.Sentence {
	var out []say.Sentence
	c.rows(func(_ *table, r row) bool {
		if _, err := r.tryValues(); err != nil {
			out = append(out, say.New("check.value", "In {{.Thing}}, {{.Reason}}.", "Thing", r.name(), "Reason", err.Error()))
		}
		return true
	})
	return out
}

// saleFaults are motors said to be sold that have no sale, and sales of motors that are not sold.
func saleFaults(c Contents) []say.Sentence {
	var out []say.Sentence
	for i := range c.Records {
		r := &c.Records[i]
		gone := r.Stage == costing.Sold || r.Stage == costing.History
		switch {
		case gone && r.Sale == nil:
			out = append(out, say.New("check.sold.without", "{{.Thing}} counts as sold but has no sale.",
				"Thing", capital(called("motor", r.Name()))))
		case !gone && r.Sale != nil:
			out = append(out, say.New("check.sale.unsold", "{{.Thing}} has a sale but counts as {{.Stage}}.",
				"Thing", capital(called("motor", r.Name())), "Stage", string(r.Stage)))
		}
	}
	return out
}

// drawFaults are draws from the shelf for a motor whose cost sheet says otherwise, and the reverse.
func drawFaults(c Contents) []say.Sentence {
	unit := map[string]string{}
	name := map[string]string{}
	for _, g := range c.Goods {
		unit[g.ID], name[g.ID] = g.Unit, g.Name
	}
	drawn := map[string]costing.Move{}
	for _, m := range c.Moves {
		switch {
		case m.MotorID == "":
		case m.Kind == costing.Drawn:
			drawn[m.ID] = m
		case m.Kind == costing.PutBack: // on the cost sheet it stands below nothing
			m.Cost, m.Quantity = -m.Cost, -m.Quantity
			drawn[m.ID] = m
		}
	}
	var out []say.Sentence
	for i := range c.Records {
		r := &c.Records[i]
		for _, l := range r.Lines {
			m, there := drawn[l.ID]
			delete(drawn, l.ID)
			switch {
			case l.Kind != costing.Shelf || l.ShelfID == "":
				if there {
					out = append(out, drawFault(r.Name(), l.Text))
				}
			case !there, m.MotorID != l.MotorID, m.GoodID != l.ShelfID, m.Cost != l.Total,
				l.Unit == unit[m.GoodID] && l.Quantity != m.Quantity:
				out = append(out, drawFault(r.Name(), l.Text))
			}
		}
	}
	left := make([]string, 0, len(drawn))
	for id := range drawn {
		left = append(left, id)
	}
	slices.Sort(left)
	for _, id := range left {
		out = append(out, say.New("check.draw.unlisted",
			"{{.Good}} was drawn from the shelf for a motor on {{.Day}}, but no line of its cost sheet says so.",
			"Good", name[drawn[id].GoodID], "Day", drawn[id].On.String()))
	}
	return out
}

func drawFault(motor, line string) say.Sentence {
	return say.New("check.draw.differs", "On the cost sheet of {{.Motor}}, {{.Line}} does not agree with what the shelf says was drawn.",
		"Motor", called("motor", motor), "Line", called("line", line))
}

// undoFaults are entries of the undo log that could not be undone.
func (f *File) undoFaults(ctx context.Context) ([]say.Sentence, error) {
	var out []say.Sentence
	err := f.reading(ctx, "check the undo log", func(r reader) error {
		out = nil
		rows, err := r.QueryContext(ctx, `SELECT s.label, c.table_name, c.was, c.became
			FROM changes c JOIN steps s ON s.n = c.step ORDER BY c.step, c.table_name, c.row_id`)
		if err != nil {
			return err
		}
		defer rows.Close()
		fresh := map[string]row{}
		for rows.Next() {
			var label, name string
			var images [2]string
			if err := rows.Scan(&label, &name, &images[0], &images[1]); err != nil {
				return err
			}
			if !readable(fresh, name, images) {
				out = append(out, say.New("check.undo", "The step {{.Label}} cannot be undone: its note is damaged.",
					"Label", fmt.Sprintf("%q", label)))
			}
		}
		return rows.Err()
	})
	return out, err
}

func readable(fresh map[string]row, name string, images [2]string) bool {
	t := tableNamed(name)
	if t == nil {
		return false
	}
	if _, ok := fresh[name]; !ok {
		fresh[name] = t.fresh()
	}
	for _, image := range images {
		if image != "" && fresh[name].restore(image) != nil {
			return false
		}
	}
	return true
}

// counts say what is in the file.
func counts(c Contents) []say.Sentence {
	stages := map[costing.Stage]int{}
	var lines, sessions, sold int
	for i := range c.Records {
		r := &c.Records[i]
		stages[r.Stage]++
		lines += len(r.Lines)
		sessions += len(r.Sessions)
		if r.Sale != nil {
			sold++
		}
	}
	var each []string
	for _, s := range costing.Stages {
		if stages[s] > 0 {
			each = append(each, fmt.Sprintf("%d %s", stages[s], s))
		}
	}
	out := []say.Sentence{say.New("check.motors", "Motors: {{.Count}}{{if .Stages}} ({{.Stages}}){{end}}.",
		"Count", len(c.Records), "Stages", strings.Join(each, ", "))}
	for _, n := range []struct {
		key, text string
		count     int
	}{
		{"check.lines", "Cost lines: {{.Count}}.", lines},
		{"check.sessions", "Entries of time worked: {{.Count}}.", sessions},
		{"check.sales", "Sales: {{.Count}}.", sold},
		{"check.goods", "Goods on the shelf: {{.Count}}.", len(c.Goods)},
		{"check.moves", "Shelf entries: {{.Count}}.", len(c.Moves)},
		{"check.receipts", "Receipts: {{.Count}}.", len(c.Receipts)},
		{"check.pieces", "Parts and things by themselves: {{.Count}}.", len(c.Pieces)},
		{"check.cards", "Job cards: {{.Count}}.", len(c.Cards)},
		{"check.photos", "Photos: {{.Count}}.", len(c.Photos)},
		{"check.lots", "Lots offered: {{.Count}}.", len(c.Bundles)},
		{"check.closings", "Years closed: {{.Count}}.", len(c.Closings)},
	} {
		out = append(out, say.New(n.key, n.text, "Count", n.count))
	}
	return out
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
