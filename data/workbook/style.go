package workbook

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// look is how a cell is drawn: its kind of figure and the part of the sheet it stands in.
type look struct {
	kind  kind
	part  part
	inset bool // set off from the figure to its left
	link  bool // leads to another sheet
}

// part is a part of a sheet.
type part int

const (
	body    part = iota
	head         // the heads of the columns
	foot         // the total row
	title        // the sheet's name
	answer       // the sentence to act on
	section      // the head of a block on the year sheet
	note         // explanations and warnings
	sumPart      // a total inside a block
)

// Colours: the program's deep water blue for heads, greys beside it.
const (
	ink   = "1F2D3A"
	deep  = "12475E"
	pale  = "E7EEF1"
	rule  = "9AA7B0"
	quiet = "55636E"
)

// style is the number of the style in the file, made when it is first asked for.
func (b *book) style(l look) (int, error) {
	if id, ok := b.styles[l]; ok {
		return id, nil
	}
	s := &excelize.Style{
		Font:      &excelize.Font{Family: "Calibri", Size: 10, Color: ink},
		Alignment: &excelize.Alignment{Vertical: "top"},
	}
	format := b.format(l)
	s.CustomNumFmt = &format
	switch l.kind {
	case words:
		s.Alignment.WrapText = l.part != title
	case date:
		s.Alignment.Horizontal = "left"
	default:
		s.Alignment.Horizontal = "right"
	}
	if l.inset {
		s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
	}
	switch l.part {
	case head:
		s.Font.Bold, s.Font.Color = true, "FFFFFF"
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{deep}}
		s.Alignment.Vertical, s.Alignment.WrapText = "bottom", true
	case foot, sumPart:
		s.Font.Bold = true
		s.Border = []excelize.Border{{Type: "top", Color: ink, Style: 1}}
		if l.part == foot {
			s.Border = append(s.Border, excelize.Border{Type: "bottom", Color: ink, Style: 6})
			s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{pale}}
		}
	case title:
		s.Font.Bold, s.Font.Size, s.Font.Color = true, 15, deep
	case answer:
		s.Font.Bold, s.Font.Size = true, 12
	case section:
		s.Font.Bold, s.Font.Size, s.Font.Color = true, 11, deep
		s.Border = []excelize.Border{{Type: "bottom", Color: rule, Style: 1}}
	case note:
		s.Font.Color = quiet
	}
	if l.link {
		s.Font.Underline, s.Font.Color = "single", "0A5C8A"
	}
	id, err := b.file.NewStyle(s)
	if err != nil {
		return 0, err
	}
	b.styles[l] = id
	return id, nil
}

// format is the number format of a look, in the code all spreadsheets share: comma and point stand for
// whatever marks the reader's own settings have. Heads are text whatever stands under them.
func (b *book) format(l look) string {
	if l.part == head {
		return "@"
	}
	switch l.kind {
	case words:
		return "@"
	case date:
		return "yyyy-mm-dd"
	case amount:
		return moneyFormat(b.Currency.Symbol(), b.Currency.Digits(), l.part == body)
	case exact:
		return moneyFormat(b.Currency.Symbol(), b.Currency.Digits(), false)
	case estimate:
		return moneyFormat(b.Currency.Symbol(), 0, false)
	case hours:
		return "#,##0.00"
	case measure:
		return "#,##0.###"
	case share:
		return "0.0%"
	}
	return "#,##0"
}

// moneyFormat writes amounts with the currency's sign and its digits. A sign that ends in a letter is
// set off by a blank: kr 1,480.50. A dash may stand for nothing, so that a column of many costs shows
// which there are.
func moneyFormat(symbol string, digits int, dash bool) string {
	figure := "#,##0"
	if digits > 0 {
		figure += "." + strings.Repeat("0", digits)
	}
	symbol = strings.NewReplacer("[", "", "]", "", ";", "", "-", "").Replace(symbol)
	sign := ""
	if symbol != "" {
		sign = "[$" + symbol + "]"
		if last, _ := utf8.DecodeLastRuneInString(symbol); unicode.IsLetter(last) {
			sign += `\ `
		}
	}
	format := sign + figure + ";-" + sign + figure
	if dash {
		format += `;"–"`
	}
	return format
}
