package workbook

import "skegworth/valuation/say"

// Words that stand in more than one sheet.
var (
	total     = say.New("workbook.total", "Total")
	noHours   = say.New("workbook.nohours", "no hours")
	noSale    = say.New("workbook.nosale", "no sale")
	notKnown  = say.New("workbook.notknown", "not known")
	subject   = say.New("workbook.subject", "The year of an outboard rebuilding shop")
	notAdvice = say.New("workbook.notadvice", "Not tax or legal advice.")
)

var (
	held   = say.New("workbook.held", "held")
	missed = say.New("workbook.missed", "missed")
)
