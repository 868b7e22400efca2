package command

import (
	"encoding/json"
	"fmt"
	"strings"

	"skegworth/app/shop"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// lotNamed is the lot of an id or a name, or of a part of one name only.
func lotNamed(s *shop.Shop, words string) (id string, found bool) {
	wanted := strings.ToLower(strings.TrimSpace(words))
	for _, b := range s.Lots() {
		if strings.ToLower(b.ID) == wanted || strings.ToLower(b.Name) == wanted {
			return b.ID, true
		}
	}
	return "", false
}

type lotJSON struct {
	ID       string          `json:"id"`
	Lot      string          `json:"lot"`
	Currency string          `json:"currency"`
	Ready    bool            `json:"ready"`
	Asking   *json.Number    `json:"asking"`
	Top      *json.Number    `json:"top_price"`
	Limit    string          `json:"limit"`
	Sentence string          `json:"sentence"`
	Choices  []choiceJSON    `json:"choices"`
	Members  []lotMemberJSON `json:"members"`
	Capacity capacityJSON    `json:"capacity"`
	Warnings []string        `json:"warnings"`
}

// choiceJSON is all of a lot or some of it. Profit and the chance of a loss are at what is asked for it, or at
// the top price where that is not known.
type choiceJSON struct {
	Choice       string       `json:"choice"`
	Members      []string     `json:"members"`
	Best         bool         `json:"best"`
	Asking       *json.Number `json:"asking"`
	TopPrice     json.Number  `json:"top_price"`
	Limit        offer.Limit  `json:"limit"`
	TooThin      bool         `json:"too_thin"`
	Profit       json.Number  `json:"profit"`
	ChanceOfLoss float64      `json:"chance_of_loss"`
	Hours        float64      `json:"hours"`
}

type lotMemberJSON struct {
	Member  string      `json:"member"`
	MotorID string      `json:"motor_id,omitempty"`
	Exit    offer.Exit  `json:"exit,omitempty"`
	Brings  json.Number `json:"brings"`
	Carries json.Number `json:"carries"`
}

func lotAnswer(s *shop.Shop, v shop.LotVerdict) lotJSON {
	c := s.Currency()
	out := lotJSON{ID: v.Lot.ID, Lot: v.Lot.Name, Currency: c.Code(), Ready: v.Ready, Limit: v.Limit.String(), Sentence: v.Answer.String(),
		Choices: []choiceJSON{}, Members: []lotMemberJSON{}, Capacity: capacityAnswer(s), Warnings: say.Strings(v.Warnings)}
	out.Asking = known(c, v.Lot.Asks)
	if v.Ready {
		n := amount(c, v.Top)
		out.Top = &n
	}
	for _, r := range v.Rows {
		x := choiceJSON{Choice: r.Name.String(), Best: r.Best, Asking: known(c, r.Asks), TopPrice: amount(c, r.Top), Limit: r.Pick.Offer.Binds,
			TooThin: r.Thin, Profit: amount(c, r.At.BeforeOwnTime), ChanceOfLoss: r.At.Loss, Hours: r.At.Hours.Float()}
		for _, i := range r.Pick.Members {
			x.Members = append(x.Members, v.Members[i].Name)
		}
		out.Choices = append(out.Choices, x)
	}
	for _, m := range v.Members {
		out.Members = append(out.Members, lotMemberJSON{m.Name, m.MotorID, m.Exit, amount(c, m.Brings), amount(c, m.Carries)})
	}
	return out
}

// known is an amount, nil where it is nothing.
func known(c money.Currency, a money.Amount) *json.Number {
	if a <= 0 {
		return nil
	}
	n := amount(c, a)
	return &n
}

func (p Program) printLot(s *shop.Shop, v shop.LotVerdict) error {
	c := s.Currency()
	fmt.Fprintf(p.Out, "%s, in %s\n%s\n", v.Lot.Name, c.Code(), v.Answer)
	if !v.Ready {
		printWarnings(p.Out, v.Warnings)
		return nil
	}
	fmt.Fprintf(p.Out, "%s\n\n", v.Limit)
	t := newTable("lrrrrl", "choice", "asked", "top price", "expected profit", "hours", "loses money")
	for _, r := range v.Rows {
		asked, top := "-", c.Whole(r.Top)
		if r.Asks > 0 {
			asked = c.Whole(r.Asks)
		}
		if r.Thin {
			top = "too thin"
		}
		t.row(r.Name.String(), asked, top, c.Whole(r.At.BeforeOwnTime), r.At.Hours.String(), offer.Chance(r.At.Loss).String())
	}
	if err := t.print(p.Out); err != nil {
		return err
	}
	fmt.Fprintln(p.Out)
	m := newTable("llrr", "in it", "way out", "brings", "carries of the price")
	for _, x := range v.Members {
		way := "-"
		if x.Exit != "" {
			way = x.Exit.Name().String()
		}
		m.row(x.Name, way, c.Whole(x.Brings), c.Whole(x.Carries))
	}
	if err := m.print(p.Out); err != nil {
		return err
	}
	printWarnings(p.Out, v.Warnings)
	return nil
}

// allOffers are all prospects and lots, and what the shop has money, room and time for.
func (p Program) allOffers(s *shop.Shop, asJSON bool) error {
	c := s.Currency()
	if asJSON {
		out := struct {
			Currency  string       `json:"currency"`
			Prospects []offerJSON  `json:"prospects"`
			Lots      []lotJSON    `json:"lots"`
			Capacity  capacityJSON `json:"capacity"`
		}{c.Code(), []offerJSON{}, []lotJSON{}, capacityAnswer(s)}
		for _, r := range s.Prospects() {
			v, err := s.Appraise(r.Record.ID)
			if err != nil {
				return fmt.Errorf("prospect: %w", err)
			}
			out.Prospects = append(out.Prospects, offerAnswer(s, v))
		}
		for _, b := range s.Lots() {
			v, err := s.AppraiseLot(b.ID)
			if err != nil {
				return fmt.Errorf("lot: %w", err)
			}
			out.Lots = append(out.Lots, lotAnswer(s, v))
		}
		return printJSON(p.Out, out)
	}
	t := newTable("lrrl", "prospect or lot", "asked", "pay up to", "stands as")
	line := func(name string, asks, top money.Amount, ready, thin bool, stage string) {
		asked, pay := "-", "-"
		if asks > 0 {
			asked = c.Whole(asks)
		}
		if ready {
			pay = c.Whole(top)
		}
		if thin {
			pay = "too thin"
		}
		t.row(name, asked, pay, stage)
	}
	for _, r := range s.Prospects() {
		line(r.Record.Name(), r.Record.SellerAsks, r.Top, r.Ready, r.Thin, string(r.Record.Stage))
	}
	for _, b := range s.Lots() {
		v, err := s.AppraiseLot(b.ID)
		if err != nil {
			return fmt.Errorf("lot: %w", err)
		}
		line(b.Name, b.Asks, v.Top, v.Ready, v.Offer.TooThin, "lot")
	}
	if err := t.print(p.Out); err != nil {
		return err
	}
	fmt.Fprintln(p.Out)
	for _, x := range s.Capacity().Lines {
		fmt.Fprintln(p.Out, x)
	}
	return nil
}
