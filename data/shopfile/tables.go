package shopfile

import (
	"skegworth/costing"
)

// The tables whose changes can be undone. Each has one function that ties a Go value to its columns;
// reading, writing, undo and checks all go by it.
var (
	settingsTable = define(table{name: "settings", thing: "settings",
		fresh: func() row { return settingsRow(new(costing.Settings)) }})
	motors = define(table{name: "motors", thing: "motor",
		refs:  map[string]string{"lot_id": "lots"},
		fresh: func() row { return motorRow(new(costing.Record)) }})
	goods = define(table{name: "goods", thing: "shelf good",
		fresh: func() row { return goodRow(new(costing.Good)) }})
	lines = define(table{name: "lines", thing: "line",
		refs:  map[string]string{"motor_id": "motors", "good_id": "goods", "undoes": "lines", "job_id": "jobs"},
		fresh: func() row { return lineRow(new(costing.Line)) }})
	sessions = define(table{name: "sessions", thing: "time worked",
		refs:  map[string]string{"motor_id": "motors", "job_id": "jobs"},
		fresh: func() row { return sessionRow(new(costing.Session)) }})
	sales = define(table{name: "sales", thing: "sale",
		refs:   map[string]string{"motor_id": "motors", "taken_id": "motors"},
		unique: []string{"motor_id", "source"},
		fresh:  func() row { return saleRow(new(soldMotor)) }})
	moves = define(table{name: "moves", thing: "shelf entry",
		refs:  map[string]string{"good_id": "goods", "motor_id": "motors", "undoes": "moves"},
		fresh: func() row { return moveRow(new(costing.Move)) }})
	clock = define(table{name: "clock", thing: "stopwatch",
		refs:  map[string]string{"motor_id": "motors", "job_id": "jobs"},
		fresh: func() row { return clockRow(new(stopwatch)) }})

	// tables in an order in which each comes after those it refers to.
	tables = []*table{settingsTable, rates, lots, lotThings, motors, goods, cards, cardDraws, jobs, snags, checks, chances, photos,
		asks, bids, holds, lines, sessions, sales, moves, clock, receipts, items, pieces, taxRules, closings, settlements}
)

// tableNamed is the table of that name, nil when there is none.
func tableNamed(name string) *table {
	for _, t := range tables {
		if t.name == name {
			return t
		}
	}
	return nil
}

// soldMotor is a sale with the motor it belongs to.
type soldMotor struct {
	MotorID string
	costing.Sale
}

// stopwatch is the running clock with the version of its row.
type stopwatch struct {
	version int64
	costing.Clock
}

func settingsRow(s *costing.Settings) row {
	id := "shop"
	return row{&id, &s.Version, []field{
		text("shop_name", &s.ShopName),
		text("currency", &s.Currency),
		text("language", &s.Language),
		whole("anchor", &s.Anchor),
		real("half_life", &s.HalfLife),
		whole("own_rate", &s.OwnRate),
		whole("profit", &s.Profit),
		whole("per_hour", &s.PerHour),
		real("risk", &s.Risk),
		real("fee_rate", &s.FeeRate),
		whole("trip_rate", &s.TripRate),
		text("distance", &s.Distance),
		text("volume", &s.Volume),
		text("pressure", &s.Pressure),
		text("power_unit", &s.PowerUnit),
		whole("fiscal_month", &s.FiscalMonth),
		word("shelf_method", &s.By, costing.Methods),
		word("overhead", &s.Overhead, []costing.Overheads{costing.OverheadRate, costing.OverheadPool}),
		whole("overhead_rate", &s.PerWorkHour),
		real("buyer_fee_rate", &s.BuyerFeeRate),
		real("purchase_tax_rate", &s.PurchaseTaxRate),
		real("cost_of_money", &s.CostOfMoney),
		whole("space_a_day", &s.SpaceADay),
		real("hours_a_week", &s.HoursAWeek),
		whole("places", &s.Places),
		whole("cash", &s.Cash),
		date("cash_counted_on", &s.CashOn),
		rung("season_from", &s.SeasonFrom, 12),
		rung("season_to", &s.SeasonTo, 12),
		flag("looks_apart", &s.LooksApart),
		text("barred_waters", &s.BarredWaters),
		text("listing_end", &s.ListingEnd),
	}, func() string { return "the settings page" }}
}

func lineRow(l *costing.Line) row {
	return row{&l.ID, &l.Version, []field{
		mustRef("motor_id", &l.MotorID),
		mustWord("kind", &l.Kind, costing.Kinds),
		date("spent_on", &l.On),
		text("wording", &l.Text),
		real("quantity", &l.Quantity),
		text("unit", &l.Unit),
		whole("unit_cost", &l.Each),
		whole("total", &l.Total),
		text("supplier", &l.Supplier),
		ref("good_id", &l.ShelfID),
		ref("undoes", &l.Undoes),
		date("due_on", &l.Due),
		word("origin", &l.Origin, costing.Origins),
		ref("job_id", &l.JobID),
		flag("in_kind", &l.InKind),
		flag("from_owner", &l.FromOwner),
	}, func() string { return called("line", l.Text) }}
}

func sessionRow(s *costing.Session) row {
	return row{&s.ID, &s.Version, []field{
		mustRef("motor_id", &s.MotorID),
		date("worked_on", &s.On),
		whole("minutes", &s.Time),
		text("task", &s.Task),
		flag("paid", &s.Paid),
		whole("rate", &s.Rate),
		ref("job_id", &s.JobID),
	}, func() string { return called("time worked", s.Task) }}
}

func saleRow(s *soldMotor) row {
	return row{&s.ID, &s.Version, []field{
		mustRef("motor_id", &s.MotorID),
		date("sold_on", &s.Sold),
		whole("price", &s.Price),
		text("channel", &s.Channel),
		text("buyer", &s.Buyer),
		text("note", &s.Note),
		flag("left_out", &s.LeftOut),
		text("left_out_why", &s.LeftOutWhy),
		text("source", &s.Source),
		text("package", &s.Package),
		text("contact", &s.Contact),
		flag("with_controls", &s.Included.Controls),
		flag("with_propeller", &s.Included.Propeller),
		flag("with_tank", &s.Included.Tank),
		flag("with_harness", &s.Included.Harness),
		text("with_other", &s.Included.Other),
		whole("freight", &s.Freight),
		whole("deposit", &s.Deposit),
		word("paid_by", &s.Method, costing.Payments),
		date("cleared_on", &s.ClearedOn),
		ref("taken_id", &s.Exchange.MotorID),
		whole("taken_allowed", &s.Exchange.Allowed),
		whole("taken_worth", &s.Exchange.Value),
		word("tax_scheme", &s.Scheme, costing.TaxSchemes),
	}, func() string { return called("sale", s.Sold.String()) }}
}

func goodRow(g *costing.Good) row {
	return row{&g.ID, &g.Version, []field{
		text("name", &g.Name),
		text("unit", &g.Unit),
		real("reorder", &g.Reorder),
		text("note", &g.Note),
	}, func() string { return called("shelf good", g.Name) }}
}

func moveRow(m *costing.Move) row {
	return row{&m.ID, &m.Version, []field{
		mustRef("good_id", &m.GoodID),
		ref("motor_id", &m.MotorID),
		mustWord("kind", &m.Kind, costing.MoveKinds),
		date("moved_on", &m.On),
		real("quantity", &m.Quantity),
		whole("cost", &m.Cost),
		text("supplier", &m.Supplier),
		text("note", &m.Note),
		ref("undoes", &m.Undoes),
		word("method", &m.By, costing.Methods),
		flag("from_owner", &m.FromOwner),
	}, func() string { return called("shelf entry", string(m.Kind)+" "+m.On.String()) }}
}

func clockRow(s *stopwatch) row {
	id := "clock"
	return row{&id, &s.version, []field{
		ref("motor_id", &s.MotorID),
		text("task", &s.Task),
		whole("started_at", &s.Start),
		ref("job_id", &s.JobID),
		flag("paid", &s.Paid),
		whole("rate", &s.Rate),
		whole("kept_at", &s.Kept),
	}, func() string { return "the stopwatch" }}
}
