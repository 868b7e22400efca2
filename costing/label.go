package costing

import "skegworth/valuation/say"

var kindNames = map[Kind]string{
	Purchase:    "price paid",
	PurchaseTax: "tax not recovered",
	Trip:        "trip",
	FreightIn:   "freight in",
	PartNew:     "new part",
	PartOther:   "aftermarket part",
	PartUsed:    "used part",
	PartDonor:   "part off a donor",
	CoreCharge:  "core charge",
	CoreLost:    "core charge lost",
	Shelf:       "from the shelf",
	Kit:         "consumables, flat rate",
	Outside:     "outside work",
	Overhead:    "workshop overhead",
	Listing:     "listing",
	MarketFee:   "marketplace fee",
	Delivery:    "delivery",
	Comeback:    "comeback",
	Refund:      "refund to the buyer",
	WriteDown:   "written down to what it will bring",
}

var groupNames = map[Group]string{
	Buying:      "buying",
	Parts:       "parts",
	Consumables: "consumables",
	OutsideWork: "outside work",
	Workshop:    "workshop overhead",
	Selling:     "selling",
	AfterSale:   "after the sale",
	WrittenDown: "written down",
	Owed:        "owed to you",
}

var stageNames = map[Stage]string{
	Prospect: "prospect",
	Passed:   "passed by",
	Bench:    "on the bench",
	Finished: "finished",
	Listed:   "for sale",
	Sold:     "sold",
	Broken:   "broken for parts",
	Kept:     "kept",
	Lost:     "written off",
	History:  "price history",
}

var moveNames = map[MoveKind]string{
	Bought:  "bought",
	Drawn:   "drawn",
	Counted: "counted",

	SentBack:   "sent back",
	PutBack:    "put back",
	TakenHome:  "taken for private use",
	MarkedDown: "written down",
}

// Name of the kind as a label: "aftermarket part".
func (k Kind) Name() say.Sentence { return label("kind.", string(k), kindNames[k]) }

// Name of the group as a label: "outside work".
func (g Group) Name() say.Sentence { return label("group.", string(g), groupNames[g]) }

// Name of the stage as a label: "on the bench".
func (s Stage) Name() say.Sentence { return label("stage.", string(s), stageNames[s]) }

// Name of the move as a label: "counted".
func (m MoveKind) Name() say.Sentence { return label("move.", string(m), moveNames[m]) }

// label shows a word that has no name as it is, so that what came from a newer file is not hidden.
func label(prefix, word, name string) say.Sentence {
	if name == "" {
		name = word
	}
	return say.New(prefix+word, name)
}
