package valuation

import "skegworth/valuation/say"

// FieldError says which fact about a motor cannot be used, and why. Field is the word of the intake
// header and of the terminal, such as "power" or "lower-unit".
type FieldError struct {
	Field string
	Why   say.Sentence
}

// Error is one sentence that begins with the field's name.
func (e *FieldError) Error() string { return e.Field + ": " + e.Why.String() }

// Sentence is the reason without the field's name, for a screen that shows it at the field.
func (e *FieldError) Sentence() say.Sentence { return e.Why }
