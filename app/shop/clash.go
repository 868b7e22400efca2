package shop

import (
	"errors"
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// Clash is a change that was not made because somebody else changed or removed the same thing meanwhile. It
// holds the change, to be made once it is chosen what shall hold: see [Shop.Choices], [Shop.Settle],
// [Shop.BringBack] and [Shop.LetGo].
type Clash struct {
	*shopfile.Conflict

	deed   deed
	again  func() error // the use-case itself, on the thing as it now is; nil where only its change can be made again
	theirs shopfile.Seen
	known  bool         // theirs is
	stays  say.Sentence // why what was removed cannot come back; nothing when it can
	lines  []ChoiceLine
}

// Unwrap makes it the store's conflict too.
func (c *Clash) Unwrap() error { return c.Conflict }

// Unsaved tells that what was typed is in no file yet.
func (c *Clash) Unsaved() bool { return true }

// What is the name of the change.
func (c *Clash) What() say.Sentence { return c.deed.what }

// CanComeBack tells whether a thing that was removed can be brought back with the change, and if not why.
func (c *Clash) CanComeBack() (why say.Sentence, can bool) { return c.stays, c.stays.Empty() }

// NotSaved is a change that the store could not take at this moment. Nothing was changed; it can be made again.
type NotSaved struct {
	What  say.Sentence
	why   string
	cause error
}

// Unsaved tells that what was typed is in no file yet.
func (n *NotSaved) Unsaved() bool { return true }

// Waits tells that it can be saved once the store takes it.
func (n *NotSaved) Waits() bool { return true }

// Unwrap gives the store's error.
func (n *NotSaved) Unwrap() error { return n.cause }

// Error is the whole sentence.
func (n *NotSaved) Error() string { return n.Sentence().String() }

// Sentence says what was not saved and why.
func (n *NotSaved) Sentence() say.Sentence {
	return say.New("unsaved", "{{.What}} is not saved: {{.Why}}", "What", n.What, "Why", n.why)
}

// OnClash asks to be told of a change that has to be chosen about.
func (s *Shop) OnClash(f func(*Clash)) { s.clashed = f }

// failed is what a change that could not be saved ends with. What others did meanwhile is read, so that
// the screens show it.
func (s *Shop) failed(d deed, err error) error {
	var conflict *shopfile.Conflict
	switch {
	case errors.As(err, &conflict) && conflict.Row != shopfile.Key{}:
		c := &Clash{Conflict: conflict, deed: d}
		if conflict.Removed() {
			c.stays = s.stayGone(conflict.Row)
		}
		c.lines = s.choiceLines(conflict)
		if err := s.catchUp(); err != nil {
			return err
		}
		c.theirs, c.known = s.contents.Find(conflict.Row)
		if s.settling != nil {
			return c
		}
		if conflict.Version != 0 && !conflict.Removing && len(conflict.Columns) == 0 { // both made it the same
			return s.settle(c, shopfile.Choice{Version: conflict.Version})
		}
		if s.clashed != nil {
			s.clashed(c)
		}
		return c
	case errors.Is(err, shopfile.ErrConflict), errors.Is(err, shopfile.ErrNotFound):
		if err := s.catchUp(); err != nil {
			return err
		}
		return err
	}
	if why, is := shopfile.AtThisMoment(err); is {
		return &NotSaved{d.what, why, err}
	}
	return err
}

// anew says how a use-case is gone through again, on things as they now are, when it met with a clash.
func anew(err error, again func() error) error {
	var c *Clash
	if errors.As(err, &c) && c.again == nil {
		c.again = again
	}
	return err
}

// Settle makes the change again so that the columns named in theirs are left as the other side has them.
// When the thing was changed once more since it was looked at, there is another [Clash].
func (s *Shop) Settle(c *Clash, theirs map[string]bool) error {
	kept := c.Removing
	for _, d := range c.Columns {
		kept = kept || d.ByMe && !theirs[d.Name]
	}
	if !kept {
		return s.LetGo(c)
	}
	return s.settle(c, shopfile.Choice{Version: c.Version, Theirs: theirs})
}

// BringBack brings a thing back that was removed, with the change.
func (s *Shop) BringBack(c *Clash) error {
	if why, can := c.CanComeBack(); !can {
		return errors.New(why.String())
	}
	return s.settle(c, shopfile.Choice{Back: true})
}

// LetGo leaves the thing as the other side has it, which is what the shop shows already.
func (s *Shop) LetGo(*Clash) error { return nil }

// settling is what is being chosen about while a change is made again.
type settling struct {
	key    shopfile.Key
	choice shopfile.Choice
	clash  *Clash
}

func (s *Shop) settle(c *Clash, choice shopfile.Choice) error {
	if err := s.catchUp(); err != nil {
		return err
	}
	s.settling = &settling{c.Row, choice, c}
	defer func() { s.settling = nil }()
	err := error(nil)
	if c.again != nil && !choice.Back {
		err = c.again()
	} else {
		err = s.do(c.deed)
	}
	var next *Clash
	if errors.As(err, &next) && next.again == nil {
		next.again = c.again
	}
	return err
}

// inOrder makes a change that was chosen about, and refuses it where the records would not agree with each
// other afterwards: some things can only be taken whole.
func inOrder(tx *shopfile.Tx, change func(*shopfile.Tx) error) error {
	before, err := tx.InOrder()
	if err != nil {
		return err
	}
	if err := change(tx); err != nil {
		return err
	}
	after, err := tx.InOrder()
	if err != nil {
		return err
	}
	known := map[string]int{}
	for _, f := range before {
		known[f]++
	}
	for _, f := range after {
		if known[f]--; known[f] < 0 {
			return fmt.Errorf("this cannot be mixed: %s Keep all of one side", f)
		}
	}
	return nil
}

// stayGone says why a row that was removed elsewhere cannot come back by itself; nothing where it can.
func (s *Shop) stayGone(k shopfile.Key) say.Sentence {
	whole := say.New("clash.whole", "Other things went with it, which would not come back. Undo on the other bench brings it back whole.")
	switch k.Table {
	case "sessions", "snags", "checks", "chances", "bids", "rates", "tax_rules", "goods":
		return say.Sentence{}
	case "motors":
		if r, err := s.Record(k.ID); err == nil && bare(r) {
			return say.Sentence{}
		}
	case "lines":
		for i := range s.contents.Records {
			for _, l := range s.contents.Records[i].Lines {
				if l.ID == k.ID && s.byItself(l) {
					return say.Sentence{}
				}
			}
		}
	}
	return whole
}

// bare tells whether nothing hangs on a motor.
func bare(r costing.Record) bool {
	return len(r.Lines)+len(r.Sessions)+len(r.Jobs)+len(r.Snags)+len(r.Checks)+len(r.Guesses)+len(r.Asks)+len(r.Bids)+len(r.Holds) == 0 &&
		r.Sale == nil && r.BundleID == ""
}

// byItself tells whether a line stands for nothing that is written down elsewhere too.
func (s *Shop) byItself(l costing.Line) bool {
	_, piece := s.pieceOfLine(l)
	_, item := s.itemOf(l.ID)
	return l.ShelfID == "" && l.Undoes == "" && !piece && !item
}
