package intake

import (
	"strings"

	"github.com/xuri/excelize/v2"
)

// dateStyles tells of each cell style of a workbook whether it shows a date.
func dateStyles(f *excelize.File) []bool {
	if f.Styles == nil || f.Styles.CellXfs == nil {
		return nil
	}
	own := map[int]string{}
	if f.Styles.NumFmts != nil {
		for _, n := range f.Styles.NumFmts.NumFmt {
			own[n.NumFmtID] = n.FormatCode
		}
	}
	out := make([]bool, len(f.Styles.CellXfs.Xf))
	for i, xf := range f.Styles.CellXfs.Xf {
		if xf.NumFmtID == nil {
			continue
		}
		if code, ok := own[*xf.NumFmtID]; ok {
			out[i] = showsDate(code)
		} else {
			out[i] = builtInDate(*xf.NumFmtID)
		}
	}
	return out
}

// builtInDate tells whether a number format that every workbook has without naming it shows a date:
// ECMA-376 part 1, 18.8.30. 18 to 21 and 45 to 47 show a time alone; 27 to 36 and 50 to 58 are dates
// in East Asian editions.
func builtInDate(id int) bool {
	return id >= 14 && id <= 17 || id == 22 || id >= 27 && id <= 31 || id == 36 || id >= 50 && id <= 54 || id == 57 || id == 58
}

// showsDate tells whether a number format has a day or a year in it. Text in quotes, letters after a
// backslash or an underscore, and what stands in brackets (colours, languages, counted hours) are not
// part of it.
func showsDate(code string) bool {
	first, _, _ := strings.Cut(code, ";")
	if strings.EqualFold(first, "general") {
		return false
	}
	inQuotes, inBrackets := false, false
	for i := 0; i < len(first); i++ {
		switch c := first[i]; {
		case inQuotes:
			inQuotes = c != '"'
		case inBrackets:
			inBrackets = c != ']'
		case c == '"':
			inQuotes = true
		case c == '[':
			inBrackets = true
		case c == '\\', c == '_', c == '*':
			i++
		case c == 'd', c == 'D', c == 'y', c == 'Y':
			return true
		}
	}
	return false
}
