package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Kind is what a cost line was for.
type Kind string

const (
	Purchase    Kind = "purchase"     // the price paid for the motor
	PurchaseTax Kind = "purchase-tax" // tax on it that is not recovered
	Trip        Kind = "trip"         // distance x rate
	FreightIn   Kind = "freight-in"
	PartNew     Kind = "part-new"         // new, maker's own
	PartOther   Kind = "part-aftermarket" // new, another maker's
	PartUsed    Kind = "part-used"
	PartDonor   Kind = "part-donor"  // off a donor motor
	CoreCharge  Kind = "core-charge" // paid for the old part to be sent back: owed to the shop, no cost
	CoreLost    Kind = "core-lost"   // a core charge that will not come back: cost on the day it is given up
	Shelf       Kind = "shelf"       // drawn from the shelf by measure
	Kit         Kind = "kit"         // consumables at a flat rate a job
	Outside     Kind = "outside"
	Overhead    Kind = "overhead"
	Listing     Kind = "listing"
	MarketFee   Kind = "market-fee"
	Delivery    Kind = "delivery"
	Comeback    Kind = "comeback"   // work or parts after the sale
	Refund      Kind = "refund"     // money given back to the buyer
	WriteDown   Kind = "write-down" // below nothing: what the motor carries and will not bring
)

// Kinds in the order a form offers them.
var Kinds = []Kind{Purchase, PurchaseTax, Trip, FreightIn, PartNew, PartOther, PartUsed, PartDonor, CoreCharge,
	CoreLost, Shelf, Kit, Outside, Overhead, Listing, MarketFee, Delivery, Comeback, Refund, WriteDown}

// Group is where a kind stands in a report.
type Group string

const (
	Buying      Group = "buying"
	Parts       Group = "parts"
	Consumables Group = "consumables"
	OutsideWork Group = "outside"
	Workshop    Group = "overhead"
	Selling     Group = "selling"
	AfterSale   Group = "after-sale"
	WrittenDown Group = "written-down" // taken off the carrying amount: a cost of the day, not of the sale
	Owed        Group = "owed"         // money that is to come back: no cost
)

// Groups in the order a report prints them.
var Groups = []Group{Buying, Parts, Consumables, OutsideWork, Workshop, Selling, AfterSale, WrittenDown, Owed}

// Group of the kind.
func (k Kind) Group() Group {
	switch k {
	case Purchase, PurchaseTax, Trip, FreightIn:
		return Buying
	case PartNew, PartOther, PartUsed, PartDonor, CoreLost:
		return Parts
	case Shelf, Kit:
		return Consumables
	case Outside:
		return OutsideWork
	case Overhead:
		return Workshop
	case Listing, MarketFee, Delivery:
		return Selling
	case WriteDown:
		return WrittenDown
	case CoreCharge:
		return Owed
	default:
		return AfterSale
	}
}

// Carried tells whether lines of the group enter the motor's carrying amount: what brings it to its
// place and condition (IAS 2 paras 10-15), never selling or after-sale cost (para 16), nor money that is
// owed to the shop. A write-down lowers it (paras 28 and 34).
func (g Group) Carried() bool { return g != Selling && g != AfterSale && g != Owed }

// Line is one cost of one motor. Total is what was paid; a return or refund of an earlier line is a
// line of its own with a negative Total and that line's id in Undoes.
type Line struct {
	ID        string
	Version   int64
	MotorID   string
	Kind      Kind
	On        day.Day
	Text      string
	Quantity  float64
	Unit      string       // "", "ft", "qt" ...
	Each      money.Amount // unit cost, kept as typed
	Total     money.Amount // Quantity x Each rounded, or as typed
	Supplier  string
	ShelfID   string  // the shelf good drawn from
	Undoes    string  // id of the line this one takes back
	Due       day.Day // of a core charge: the last day it can be sent back, 0 when none is known
	Origin    Origin
	JobID     string // the job of the motor's plan that it is for
	InKind    bool   // paid with a motor sold, not with money: the fair value of one taken in
	FromOwner bool   // put in by the owner of the shop, at what it was worth: nobody was paid
}

// Origin tells where the money of a line came from when nobody was paid for it.
type Origin string

const (
	Paid     Origin = ""     // it was paid, or is still owed
	FromPool Origin = "pool" // a share of workshop bills that were paid already
	ByRate   Origin = "rate" // at a rate that stands for bills which are then in no other figure
)

// Origins are all there are.
var Origins = []Origin{Paid, FromPool, ByRate}

// Good is one kind of thing on the shelf, interchangeable within itself.
type Good struct {
	ID      string
	Version int64
	Name    string
	Unit    string  // the unit it is counted in: "qt", "each"
	Reorder float64 // say so at or below this count; 0 never
	Note    string
}

// MoveKind is what happened to a good.
type MoveKind string

const (
	Bought  MoveKind = "bought"
	Drawn   MoveKind = "drawn"   // used on a motor, or general use when there is no motor
	Counted MoveKind = "counted" // counted; Quantity is what is there

	SentBack   MoveKind = "sent-back"   // returned to the supplier: undoes a purchase, Cost is what came back for it
	PutBack    MoveKind = "put-back"    // drawn and not used: undoes a draw, Cost is what the motor is given back
	TakenHome  MoveKind = "taken-home"  // for private use: drawings
	MarkedDown MoveKind = "marked-down" // worth less than it cost, by Cost; nothing left the shelf
)

// MoveKinds are all there are.
var MoveKinds = []MoveKind{Bought, Drawn, Counted, SentBack, PutBack, TakenHome, MarkedDown}

// Move is one thing that happened to a good on the shelf. Draws on a motor also stand as a line of kind
// Shelf on that motor, with the same id, quantity and cost.
type Move struct {
	ID       string
	Version  int64
	GoodID   string
	MotorID  string
	Kind     MoveKind
	On       day.Day
	Quantity float64      // in the good's own unit: bought and drawn amounts are positive; counted is the count
	Cost     money.Amount // bought: paid for it all; drawn: what the motor was charged; counted: the difference's value
	Supplier string
	Note     string
	Undoes   string // sent back, put back: the id of the purchase or draw
	By       Method // how the cost of a draw or count was found; "" is by average

	FromOwner bool // bought: put in by the owner of the shop, at what it was worth
}

// Settings are the shop's own choices. Rates and targets here are defaults of common practice until the
// shop sets its own.
type Settings struct {
	ShopName    string
	Currency    string       // ISO 4217
	Language    string       // BCP 47, decides marks in numbers and the words on screen; "" follows the system
	Anchor      money.Amount // what a plain running 50 hp, 15-year-old two-stroke brings around here; 0 not answered
	HalfLife    float64      // years after which a sale counts half
	OwnRate     money.Amount // worth of an own hour
	Profit      money.Amount // least expected profit before own time
	PerHour     money.Amount // least pay per own hour
	Risk        float64      // accepted chance of a loss, 0 to 1
	FeeRate     float64      // share of the price a marketplace keeps, 0 to 1
	TripRate    money.Amount // per unit of distance
	Distance    string       // mi or km
	Volume      string       // gal or L
	Pressure    string       // psi, bar or kPa
	PowerUnit   string       // hp or kW
	FiscalMonth int          // month the year starts, 1 to 12
	By          Method       // how draws from the shelf are costed; "" is by average
	Overhead    Overheads    // how the workshop's own bills reach the motors; "" they do not
	PerWorkHour money.Amount // overhead for an hour worked, where it goes by rate

	// Usual rates on the price paid, where a prospect says nothing of its own.
	BuyerFeeRate    float64
	PurchaseTaxRate float64

	CostOfMoney float64      // a year, as a share: what the cash in a motor would earn or cost elsewhere
	SpaceADay   money.Amount // what a place in the shop costs a day, for each motor
	HoursAWeek  float64      // own hours at the bench; 0 not said
	Places      int          // motors that fit into the shop; 0 not said
	Cash        money.Amount // set aside for motors, as counted at the end of CashOn
	CashOn      day.Day      // 0 when it never was
	SeasonFrom  int          // first and last month in which motors sell, 1 to 12; 0 not said
	SeasonTo    int
	LooksApart  bool // trips to motors passed over are not carried by those bought

	BarredWaters string // where older two-strokes may not run, in the shop's words, for its listings
	ListingEnd   string // what every listing ends with: where to see the motor, how it is paid

	Version int64
}

// DefaultSettings for a new shop; every rate is common practice from memory, for the shop to change.
func DefaultSettings() Settings {
	return Settings{
		ShopName: "", Currency: "USD", HalfLife: 4, OwnRate: 2500, Profit: 25000, PerHour: 2000, Risk: 0.2,
		FeeRate: 0, TripRate: 40, Distance: "mi", Volume: "gal", Pressure: "psi", PowerUnit: "hp", FiscalMonth: 1,
	}
}
