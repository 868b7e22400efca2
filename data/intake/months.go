package intake

import "strings"

// monthNames in full, folded, by language. Short forms are the first three letters or more.
var monthNames = [][12]string{
	{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"},
	{"enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"},
	{"januar", "februar", "marz", "april", "mai", "juni", "juli", "august", "september", "oktober", "november", "dezember"},
	{"janvier", "fevrier", "mars", "avril", "mai", "juin", "juillet", "aout", "septembre", "octobre", "novembre", "decembre"},
	{"gennaio", "febbraio", "marzo", "aprile", "maggio", "giugno", "luglio", "agosto", "settembre", "ottobre", "novembre", "dicembre"},
	{"janeiro", "fevereiro", "marco", "abril", "maio", "junho", "julho", "agosto", "setembro", "outubro", "novembro", "dezembro"},
	{"januari", "februari", "maart", "april", "mei", "juni", "juli", "augustus", "september", "oktober", "november", "december"},
	{"", "", "mrt", "", "", "", "", "", "setiembre", "", "", ""}, // short forms and spellings that are no beginning of the above
}

// monthOf reads a folded word as a month, 0 when it is none or could be two ("jui" is June and July).
func monthOf(word string) int {
	if len(word) < 3 {
		return 0
	}
	found := 0
	for _, names := range monthNames {
		for i, name := range names {
			if strings.HasPrefix(name, word) {
				if found != 0 && found != i+1 {
					return 0
				}
				found = i + 1
			}
		}
	}
	return found
}
