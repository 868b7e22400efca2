package command

import (
	"encoding/json"
	"fmt"
	"math"

	"skegworth/app/shop"
	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

type askWord struct {
	Shop  string `arg:"" help:"Path of the shop file."`
	Motor string `arg:"" optional:"" help:"The motor: its id, tag or name, as 'skegworth motors' lists them; all that are ready or offered if not given."`
	onFlag
	By    string `placeholder:"DATE" help:"Day by which it is wished to be gone, as 2026-04-30."`
	Offer string `placeholder:"AMOUNT" help:"An offer made today: is it worth taking?"`
	JSON  bool   `name:"json" help:"Print JSON."`
}

func (w *askWord) Run(p Program) error {
	by, err := onFlag{w.By}.day()
	if err != nil {
		return fmt.Errorf("by: %q is not a day written as 2026-04-30", w.By)
	}
	s, err := w.open(w.Shop)
	if err != nil {
		return err
	}
	defer s.Close()
	var offered money.Amount
	if w.Offer != "" {
		if offered, err = s.Currency().Parse(w.Offer); err != nil {
			return fmt.Errorf("offer: %w", err)
		}
		if w.Motor == "" {
			return fmt.Errorf("offer: say which motor it is for")
		}
	}
	if w.Motor == "" {
		var all []askJSON
		for i, r := range s.Records(costing.Finished, costing.Listed) {
			a, err := s.AskingBy(r.ID, by)
			if err != nil {
				return fmt.Errorf("%s: %w", r.Name(), err)
			}
			if w.JSON {
				all = append(all, askAnswer(s, a))
				continue
			}
			if i > 0 {
				fmt.Fprintln(p.Out)
			}
			if err := p.printAsk(s, a); err != nil {
				return err
			}
		}
		if w.JSON {
			return printJSON(p.Out, struct {
				Motors []askJSON `json:"motors"`
			}{append([]askJSON{}, all...)})
		}
		return nil
	}
	id, err := s.Find("motor", w.Motor)
	if err != nil {
		return err
	}
	a, err := s.AskingBy(id, by)
	if err != nil {
		return fmt.Errorf("motor: %w", err)
	}
	out := askAnswer(s, a)
	var weighed shop.OfferAnswer
	if w.Offer != "" {
		if weighed, err = s.WeighOffer(a, offered); err != nil {
			return err
		}
		d := weightJSON(s.Currency(), weighed)
		out.Offer = &d
	}
	if w.JSON {
		return printJSON(p.Out, out)
	}
	if w.Offer != "" {
		fmt.Fprintf(p.Out, "%s\n%s\n\n", weighed.Answer, weighed.Second)
	}
	return p.printAsk(s, a)
}

type askJSON struct {
	ID            string      `json:"id"`
	Motor         string      `json:"motor"`
	Currency      string      `json:"currency"`
	Answer        string      `json:"answer"`
	Ask           json.Number `json:"ask"`
	WalkAway      json.Number `json:"walk_away"`
	Reason        string      `json:"reason"`
	Days          daysJSON    `json:"days"`
	ExpectedPrice json.Number `json:"expected_price"`
	ExpectedNet   json.Number `json:"expected_net"`
	BestBy        *byJSON     `json:"best_by"`
	Present       *pointJSON  `json:"as_asked_now"`
	Plan          []stepJSON  `json:"plan"`
	Curve         []pointJSON `json:"curve"`
	Offers        []markJSON  `json:"offers"`
	Asked         []markJSON  `json:"asked"`
	Offer         *weighJSON  `json:"offer,omitempty"`
	Grid          gridJSON    `json:"grid"`
	Holding       holdingJSON `json:"holding_per_day"`
	OnTheSpot     json.Number `json:"on_the_spot"`
	Listings      int         `json:"own_listings"`
	SoldListings  int         `json:"own_listings_sold"`
	RestsOn       string      `json:"rests_on"`
	BreakEven     json.Number `json:"break_even"`
	PaidForTime   json.Number `json:"paid_for_time"`
	Spent         json.Number `json:"spent"`
	Band          worthJSON   `json:"band"`
	Warnings      []string    `json:"warnings"`
}

type daysJSON struct {
	Low    int     `json:"low"`
	Mid    int     `json:"mid"`
	High   int     `json:"high"`
	Chance float64 `json:"chance_of_a_buyer"`
	Within int     `json:"within"`
}

type byJSON struct {
	Day    string      `json:"day"`
	Ask    json.Number `json:"ask"`
	Chance float64     `json:"chance_of_a_buyer"`
	Free   json.Number `json:"ask_without_a_day"`
}

type stepJSON struct {
	Day string      `json:"day"`
	Ask json.Number `json:"ask"`
}

type pointJSON struct {
	Ask    json.Number `json:"ask"`
	Net    json.Number `json:"net"`
	Days   float64     `json:"days"`
	Mid    float64     `json:"mid_days"`
	Chance float64     `json:"chance_of_a_buyer"`
}

type markJSON struct {
	Day    string      `json:"day"`
	Kind   string      `json:"kind"`
	Amount json.Number `json:"amount"`
}

type weighJSON struct {
	Amount  json.Number `json:"amount"`
	Take    bool        `json:"take"`
	Answer  string      `json:"answer"`
	Sure    string      `json:"sure"`
	Net     json.Number `json:"net"`
	Waiting json.Number `json:"waiting"`
	More    float64     `json:"chance_waiting_brings_more"`
	Reserve int         `json:"reserve_days"`
	From    string      `json:"good_enough_from"`
}

type holdingJSON struct {
	Space json.Number `json:"space"`
	Money json.Number `json:"money"`
	Ages  json.Number `json:"getting_older"`
	Total json.Number `json:"total"`
	Usual bool        `json:"usual_cost_of_money"`
}

type gridJSON struct {
	Sales []gridSaleJSON `json:"sales"`
	Facts []gridFactJSON `json:"facts"`
}

type gridSaleJSON struct {
	ID       string      `json:"id"`
	Motor    string      `json:"motor"`
	Sold     string      `json:"sold"`
	Price    json.Number `json:"price"`
	Adjusted json.Number `json:"adjusted"`
}

type gridFactJSON struct {
	Field   string         `json:"field"`
	Subject string         `json:"subject"`
	Cells   []gridCellJSON `json:"cells"`
}

type gridCellJSON struct {
	Theirs string      `json:"theirs"`
	Money  json.Number `json:"money"`
	Own    float64     `json:"own_share"`
	Prior  bool        `json:"mostly_trade_prior"`
	Sales  int         `json:"own_sales"`
}

// part keeps a figure of JSON to what it means: four digits of a chance, tenths of a day.
func part(v float64, digits float64) float64 { return math.Round(v*digits) / digits }

func askAnswer(s *shop.Shop, a shop.AskAnswer) askJSON {
	c, d := s.Currency(), a.Advice
	out := askJSON{
		ID: a.Record.ID, Motor: a.Record.Name(), Currency: c.Code(), Answer: a.Answer.String(), Ask: amount(c, d.Ask), WalkAway: amount(c, d.WalkAway),
		Reason: d.Reason.String(), Days: daysJSON{d.Follow.Low, d.Follow.Mid, d.Follow.High, part(d.Follow.Chance, 1e4), d.Follow.Last},
		ExpectedPrice: amount(c, d.Follow.Price), ExpectedNet: amount(c, d.Follow.Net),
		Plan: []stepJSON{}, Curve: []pointJSON{}, Offers: []markJSON{}, Asked: []markJSON{}, Grid: gridOf(c, a.Grid),
		Holding:   holdingJSON{amount(c, d.Holding.Space), amount(c, d.Holding.Money), amount(c, d.Holding.Ages), amount(c, d.Holding.Total), d.Holding.Usual},
		OnTheSpot: amount(c, d.Spot), Listings: d.Listings, SoldListings: d.SoldListings, RestsOn: a.Behind.String(),
		BreakEven: amount(c, d.BreakEven), PaidForTime: amount(c, d.PaidForTime), Spent: amount(c, a.Sheet.Total),
		Band: bandJSON(c, a.Band, 0.8), Warnings: say.Strings(a.Warnings),
	}
	if d.By != 0 {
		out.BestBy = &byJSON{d.By.String(), amount(c, d.Ask), part(d.Follow.Chance, 1e4), amount(c, d.Free.Ask)}
	}
	if o := d.Present; o.Ask > 0 {
		out.Present = &pointJSON{amount(c, o.Ask), amount(c, o.Net), part(o.Days, 10), float64(o.Mid), part(o.Chance, 1e4)}
	}
	for _, step := range d.Plan {
		out.Plan = append(out.Plan, stepJSON{step.On.String(), amount(c, step.Ask)})
	}
	for _, p := range d.Curve {
		out.Curve = append(out.Curve, curvePoint(c, p))
	}
	for _, m := range a.Marks {
		mark := markJSON{m.On.String(), string(m.Kind), amount(c, m.Amount)}
		if m.Kind == shop.MarkOffer {
			out.Offers = append(out.Offers, mark)
		} else {
			out.Asked = append(out.Asked, mark)
		}
	}
	return out
}

func curvePoint(c money.Currency, p asking.Point) pointJSON {
	return pointJSON{amount(c, p.Ask), amount(c, p.Net), part(p.Days, 10), part(p.Mid, 10), part(p.Chance, 1e4)}
}

func gridOf(c money.Currency, g valuation.Grid) gridJSON {
	out := gridJSON{Sales: []gridSaleJSON{}, Facts: []gridFactJSON{}}
	for _, k := range g.Columns {
		out.Sales = append(out.Sales, gridSaleJSON{k.Sale.ID, k.Sale.Motor.Name(), k.Sale.Sold.String(), amount(c, k.Price), amount(c, k.Adjusted)})
	}
	for _, r := range g.Rows {
		fact := gridFactJSON{Field: r.Field, Subject: r.Subject.String(), Cells: []gridCellJSON{}}
		for _, x := range r.Cells {
			fact.Cells = append(fact.Cells, gridCellJSON{x.Theirs.String(), amount(c, x.Money), part(x.Own, 1e4), x.Prior, x.Sales})
		}
		out.Facts = append(out.Facts, fact)
	}
	return out
}

func weightJSON(c money.Currency, o shop.OfferAnswer) weighJSON {
	return weighJSON{amount(c, o.Decision.Offer), o.Take, o.Answer.String(), o.Second.String(), amount(c, o.Net), amount(c, o.Waiting), part(o.More, 1e4), o.Reserve, o.From.String()}
}

func (p Program) printAsk(s *shop.Shop, a shop.AskAnswer) error {
	c := s.Currency()
	fmt.Fprintf(p.Out, "%s, in %s\n%s\n", a.Record.Name(), c.Code(), a.Answer)
	for _, line := range append(append([]say.Sentence{}, a.Second...), a.Plan...) {
		fmt.Fprintln(p.Out, line)
	}
	fmt.Fprintf(p.Out, "%s\n%s\n%s\n", a.Worth, a.Holding, a.Behind)
	if len(a.Grid.Columns) > 0 {
		fmt.Fprintln(p.Out, "\nthe nearest of your own sales, made like this motor")
		t := newTable("llrrr", "motor", "sold on", "for", "differences", "as this motor")
		for _, k := range a.Grid.Columns {
			sign := "+"
			if k.Net < 0 {
				sign = "-"
			}
			t.row(k.Sale.Motor.Name(), k.Sale.Sold.String(), c.Whole(k.Price), sign+c.Whole(max(k.Net, -k.Net)), c.Whole(k.Adjusted))
		}
		if err := t.print(p.Out); err != nil {
			return err
		}
	}
	printWarnings(p.Out, a.Warnings)
	return nil
}
