package shopfile

import (
	"skegworth/costing"
	"skegworth/valuation"
)

// motorRow ties a record to its row: what the motor is, where it stands, and the plan for it. Its lines,
// hours and sale are rows of their own.
func motorRow(r *costing.Record) row {
	m, p := &r.Motor, &r.Plan
	return row{&r.ID, &r.Version, []field{
		mustWord("stage", &r.Stage, costing.Stages),

		text("make", &m.Make),
		text("model", &m.Model),
		real("power", &m.Power),
		flag("power_about", &m.PowerAbout),
		flag("old_rating", &m.OldRating),
		whole("year", &m.Year),
		flag("year_about", &m.YearAbout),
		word("stroke", &m.Stroke, valuation.Strokes),
		word("state", &m.State, valuation.States),
		whole("cylinders", &m.Cylinders),
		word("fuel", &m.Fuel, valuation.Fuels),
		whole("shaft", &m.Shaft),
		word("starting", &m.Start, valuation.Starts),
		word("lift", &m.Lift, valuation.Lifts),
		word("steering", &m.Steering, valuation.Steerings),
		word("water", &m.Water, valuation.Waters),
		real("hours", &m.Hours),
		flag("hours_known", &m.HoursKnown),
		rung("looks", &m.Looks, 5),
		list("compression", &m.Compression),
		word("turns", &m.Turns, valuation.Answers),
		word("oil", &m.Oil, valuation.Oils),
		word("submerged", &m.Submerged, valuation.Answers),
		word("lower_unit", &m.LowerUnit, valuation.Answers),
		word("welded", &m.Welded, valuation.Answers),
		word("parts_supplied", &m.PartsSupplied, valuation.Answers),
		word("plate", &m.Plate, valuation.Answers),
		word("shown_running", &m.ShownRunning, valuation.Answers),
		word("controls", &m.Controls, valuation.Answers),
		word("propeller", &m.Propeller, valuation.Answers),
		word("tank", &m.Tank, valuation.Answers),
		word("helm", &m.Helm, valuation.Answers),
		whole("warranty_days", &m.WarrantyDays),
		text("bracket_number", &m.BracketNumber),
		text("powerhead_number", &m.PowerheadNumber),
		wordsByName("how_known", &m.HowKnown, []valuation.How{valuation.Measured, valuation.Seen, valuation.Told}),

		text("tag", &r.Tag),
		text("stand", &r.Stand),
		text("note", &r.Note),
		date("seen_on", &r.SeenOn),
		whole("seller_asks", &r.SellerAsks),
		text("seller", &r.Seller),
		text("source", &r.Source),
		date("bought_on", &r.BoughtOn),
		date("finished_on", &r.FinishedOn),
		date("listed_on", &r.ListedOn),
		whole("ask", &r.Ask),
		date("left_on", &r.LeftOn),

		word("plan_state", &p.State, valuation.States),
		real("plan_parts_low", &p.Parts.Low),
		real("plan_parts_likely", &p.Parts.Likely),
		real("plan_parts_high", &p.Parts.High),
		real("plan_hours_low", &p.Hours.Low),
		real("plan_hours_likely", &p.Hours.Likely),
		real("plan_hours_high", &p.Hours.High),
		whole("plan_selling", &p.Selling),
		real("plan_trip", &p.Trip),
		whole("plan_days", &p.Days),

		real("weight_kg", &r.Keeping.Weight),
		word("laid", &r.Keeping.Laid, costing.Laids),
		date("laid_on", &r.Keeping.LaidOn),

		flag("own_lines", &r.Targets.Own),
		whole("line_profit", &r.Targets.Profit),
		whole("line_per_hour", &r.Targets.PerHour),
		real("line_risk", &r.Targets.Risk),
	}, func() string { return called("motor", r.Name()) }}
}
