package desk

import (
	_ "embed"

	"fyne.io/fyne/v2"
)

// The marks of the rail and of the program, drawn for it.
var (
	//go:embed icons/prospects.svg
	prospectsSVG []byte
	//go:embed icons/bench.svg
	benchSVG []byte
	//go:embed icons/asking.svg
	askingSVG []byte
	//go:embed icons/sold.svg
	soldSVG []byte
	//go:embed icons/shelf.svg
	shelfSVG []byte
	//go:embed icons/yearend.svg
	yearEndSVG []byte
	//go:embed icons/record.svg
	recordSVG []byte
	//go:embed icons/settings.svg
	settingsSVG []byte
	//go:embed icon.png
	programPNG []byte

	iconProspects = fyne.NewStaticResource("rail-prospects.svg", prospectsSVG)
	iconBench     = fyne.NewStaticResource("rail-bench.svg", benchSVG)
	iconAsking    = fyne.NewStaticResource("rail-asking.svg", askingSVG)
	iconSold      = fyne.NewStaticResource("rail-sold.svg", soldSVG)
	iconShelf     = fyne.NewStaticResource("rail-shelf.svg", shelfSVG)
	iconYearEnd   = fyne.NewStaticResource("rail-yearend.svg", yearEndSVG)
	iconRecord    = fyne.NewStaticResource("rail-record.svg", recordSVG)
	iconSettings  = fyne.NewStaticResource("rail-settings.svg", settingsSVG)
	iconProgram   = fyne.NewStaticResource("skegworth.png", programPNG)
)
