package costing

import "skegworth/valuation/day"

// PhotoKind is what a picture is of.
type PhotoKind string

const (
	OfMotor   PhotoKind = "motor"
	OfReceipt PhotoKind = "receipt"
)

// Photo is one picture kept in the shop file. The picture itself is read by its PictureID when it is
// shown.
type Photo struct {
	ID        string
	Version   int64
	MotorID   string // "" for a receipt that no motor has been named for
	Kind      PhotoKind
	PictureID string
	Place     float64 // its place in the order: lower comes first
	Caption   string
	On        day.Day // taken into the shop file
	Width     int     // of the picture as kept, pixels
	Height    int
	FiledOn   day.Day // a receipt whose lines have been entered
	Shows     Shows   // of a motor
}

// Shows is what a photo of a motor is kept for beside showing it; "" for nothing in particular.
type Shows string

const (
	ShowsPlate  Shows = "plate"  // the serial plate
	ShowsSigned Shows = "signed" // the receipt that the seller signed
)

// AllShows are all there are.
var AllShows = []Shows{ShowsPlate, ShowsSigned}

// Unfiled tells whether it is a receipt whose lines are still to be entered.
func (p Photo) Unfiled() bool { return p.Kind == OfReceipt && p.FiledOn == 0 }

// Between is a place between two neighbours in an order; either may be missing. It is not the middle of
// two places so near that there is none: then renumber.
func Between(before, after *Photo) (place float64, room bool) {
	switch {
	case before == nil && after == nil:
		return 1, true
	case before == nil:
		return after.Place - 1, true
	case after == nil:
		return before.Place + 1, true
	}
	place = (before.Place + after.Place) / 2
	return place, before.Place < place && place < after.Place
}
