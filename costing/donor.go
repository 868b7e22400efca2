package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// OffDonor charges a part taken off one motor to another: a line on the motor that gets it, and a line
// of the same amount taken off the donor, so that the two together cost nothing new and what stays on
// the donor is what it cost less what was taken. The second line's Undoes is left empty: it takes back
// a share of the whole donor, not one line of it.
func OffDonor(donorID, motorID, text string, value money.Amount, on day.Day) (get, give Line) {
	get = Line{MotorID: motorID, Kind: PartDonor, On: on, Text: text, Quantity: 1, Each: value, Total: value}
	give = Line{MotorID: donorID, Kind: PartDonor, On: on, Text: text, Quantity: 1, Each: -value, Total: -value}
	return get, give
}
