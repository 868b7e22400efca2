package shelf

// typed is a field that may hold what could not be read.
type typed interface{ Problem() error }

// sound is the first thing in the fields that could not be read. Nothing is booked from a form that shows
// one: the field's value would be an older one, or nothing.
func sound(fields ...typed) error {
	for _, f := range fields {
		if err := f.Problem(); err != nil {
			return err
		}
	}
	return nil
}
