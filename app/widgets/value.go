package widgets

// valued is an Entry whose text stands for a value. Leaving the field writes the value out in its usual
// form; a text that cannot be read stays as it is, with the reason under it, and the value stays what it
// was.
type valued[T any] struct {
	Entry

	// OnValue is given every value that could be read, when typing pauses. An error stands under the
	// field.
	OnValue func(T) error

	value  T
	parse  func(string) (T, error)
	format func(T) string
}

func (v *valued[T]) startValue(self entryWidget, parse func(string) (T, error), format func(T) string) {
	v.parse, v.format = parse, format
	v.selectAll = true
	v.start(self)
	v.OnSave = v.read
	v.onLeave = func() {
		if v.problem == nil {
			v.write(v.format(v.value))
		}
	}
}

func (v *valued[T]) read(text string) error {
	value, err := v.parse(text)
	if err != nil {
		return err
	}
	v.value = value
	if v.OnValue != nil {
		return v.OnValue(value)
	}
	return nil
}

// SetValue shows a value from outside, without saving it; while the field has the keyboard it waits.
func (v *valued[T]) SetValue(value T) {
	if !v.focused && !v.unsaved {
		v.value = value
	}
	v.Set(v.format(value))
}

// Value is the last value that could be read, after saving what waits.
func (v *valued[T]) Value() T {
	v.Flush()
	return v.value
}

// Clear empties the field, also while it has the keyboard: what was in it has been used.
func (v *valued[T]) Clear() {
	var none T
	v.value = none
	v.outside = nil
	v.saver.forget()
	v.write("")
	v.SetProblem(nil)
}
