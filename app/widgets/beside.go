package widgets

import "skegworth/app/logbook"

// Beside runs fn beside the window's own thread. What goes wrong in it ends the program as calmly as what
// goes wrong in the window.
func Beside(fn func()) {
	go func() {
		defer logbook.Guard()
		fn()
	}()
}
