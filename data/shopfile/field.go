package shopfile

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"skegworth/valuation/day"
)

// field is one column of a row, tied to the Go value it is kept for. Scan takes what a database gives
// and what JSON with json.Number gives, so that a row can be restored from the undo log as it is read
// from a table.
type field interface {
	column() string
	value() (any, error) // a string, int64 or float64, or nil for a reference to nothing
	held() any           // the Go value itself, of its own type
	Scan(src any) error
}

// name is the column of a field.
type name string

func (n name) column() string { return string(n) }

// said is the column as a person would say it.
func (n name) said() string {
	return strings.ReplaceAll(strings.TrimSuffix(string(n), "_id"), "_", " ")
}

func (n name) mismatch(src any) error {
	return fmt.Errorf("the %s holds %s, which does not belong there", n.said(), shown(src))
}

// shown is a value as an error may show it: on one line, and no longer than that.
func shown(v any) string {
	if raw, ok := v.([]byte); ok {
		v = string(raw[:min(len(raw), 200)])
	}
	if s := fmt.Sprintf("%.60v", v); utf8.ValidString(s) && !strings.ContainsFunc(s, unicode.IsControl) {
		return s
	}
	return fmt.Sprintf("%.60q", v)
}

// text is a column of words.
type textField[T ~string] struct {
	name
	p        *T
	from     []T  // the only words allowed; nil allows any
	ref      bool // the key of another row, kept as NULL when there is none
	required bool
	most     int // bytes
}

func text[T ~string](column string, p *T) field {
	return textField[T]{name: name(column), p: p, most: longestText}
}

// page is a text that the program writes itself, far longer than what a person writes.
func page(column string, p *string) field {
	return textField[string]{name: name(column), p: p, most: longestPage}
}

// word is a text that is one of a few, or not known.
func word[T ~string](column string, p *T, from []T) field {
	return textField[T]{name: name(column), p: p, from: from, most: longestText}
}

// mustWord is a word that may not be left out.
func mustWord[T ~string](column string, p *T, from []T) field {
	return textField[T]{name: name(column), p: p, from: from, required: true, most: longestText}
}

// ref is the key of another row, or "".
func ref(column string, p *string) field {
	return textField[string]{name: name(column), p: p, ref: true, most: longestText}
}

// mustRef is the key of another row, which may not be left out.
func mustRef(column string, p *string) field {
	return textField[string]{name: name(column), p: p, ref: true, required: true, most: longestText}
}

func (f textField[T]) value() (any, error) {
	s := string(*f.p)
	if s == "" {
		switch {
		case f.required:
			return nil, fmt.Errorf("the %s is missing", f.said())
		case f.ref:
			return nil, nil
		}
		return "", nil
	}
	if len(s) > f.most {
		return nil, f.long()
	}
	if !utf8.ValidString(s) || strings.IndexByte(s, 0) >= 0 {
		return nil, fmt.Errorf("the %s has characters that are not text", f.said())
	}
	if f.from != nil && !slices.Contains(f.from, *f.p) {
		return nil, fmt.Errorf("the %s cannot be %.60q", f.said(), s)
	}
	return s, nil
}

func (f textField[T]) held() any { return *f.p }

func (f textField[T]) long() error {
	return fmt.Errorf("the %s is longer than %d letters, the most that are kept", f.said(), f.most)
}

func (f textField[T]) Scan(src any) error {
	switch v := src.(type) {
	case nil:
		*f.p = ""
	case string:
		if len(v) > f.most {
			return f.long()
		}
		*f.p = T(v)
	case []byte:
		if len(v) > f.most {
			return f.long()
		}
		*f.p = T(v)
	default:
		return f.mismatch(src)
	}
	return nil
}

// whole is a column of whole numbers: counts, minutes, minor units.
type wholeField[T ~int | ~int64] struct {
	name
	p *T
}

func whole[T ~int | ~int64](column string, p *T) field { return wholeField[T]{name(column), p} }

func (f wholeField[T]) value() (any, error) { return int64(*f.p), nil }

func (f wholeField[T]) held() any { return *f.p }

// rungField is a whole number from 0 to a highest one.
type rungField struct {
	wholeField[int]
	top int
}

func rung(column string, p *int, top int) field {
	return rungField{wholeField[int]{name(column), p}, top}
}

func (f rungField) value() (any, error) {
	if *f.p < 0 || *f.p > f.top {
		return nil, fmt.Errorf("the %s cannot be %d, only 0 to %d", f.said(), *f.p, f.top)
	}
	return f.wholeField.value()
}

func (f wholeField[T]) Scan(src any) error {
	n, err := f.scanWhole(src)
	*f.p = T(n)
	return err
}

func (n name) scanWhole(src any) (int64, error) {
	switch v := src.(type) {
	case nil:
		return 0, nil
	case int64:
		return v, nil
	case json.Number:
		if whole, err := v.Int64(); err == nil {
			return whole, nil
		}
	}
	return 0, n.mismatch(src)
}

// flag is a yes or no, kept as 1 or 0.
type flagField struct {
	name
	p *bool
}

func flag(column string, p *bool) field { return flagField{name(column), p} }

func (f flagField) value() (any, error) {
	if *f.p {
		return int64(1), nil
	}
	return int64(0), nil
}

func (f flagField) held() any { return *f.p }

func (f flagField) Scan(src any) error {
	n, err := f.scanWhole(src)
	*f.p = n != 0
	return err
}

// real is a column of measures. Only finite numbers are kept.
type realField struct {
	name
	p *float64
}

func real(column string, p *float64) field { return realField{name(column), p} }

func (f realField) value() (any, error) {
	if math.IsNaN(*f.p) || math.IsInf(*f.p, 0) {
		return nil, fmt.Errorf("the %s is not a number", f.said())
	}
	return *f.p + 0, nil // minus zero is kept as zero
}

func (f realField) held() any { return *f.p }

func (f realField) Scan(src any) error {
	switch v := src.(type) {
	case nil:
		*f.p = 0
		return nil
	case float64:
		*f.p = v
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return f.mismatch(src)
		}
		return nil
	case int64:
		*f.p = float64(v)
		return nil
	case json.Number:
		if r, err := v.Float64(); err == nil {
			*f.p = r
			return nil
		}
	}
	return f.mismatch(src)
}

// dayField is a calendar day, kept in its ISO form.
type dayField struct {
	name
	p *day.Day
}

func date(column string, p *day.Day) field { return dayField{name(column), p} }

// lastDay is the last day that has four digits to its year.
var lastDay = day.Of(9999, 12, 31)

func (f dayField) value() (any, error) {
	if *f.p < 0 || *f.p > lastDay {
		return nil, fmt.Errorf("the day of %s lies outside the years 1 to 9999", f.said())
	}
	return f.p.String(), nil
}

func (f dayField) held() any { return *f.p }

func (f dayField) Scan(src any) error {
	var s string
	if err := text(f.column(), &s).Scan(src); err != nil {
		return err
	}
	d, err := day.Parse(s)
	if err != nil {
		return f.mismatch(src)
	}
	*f.p = d
	return nil
}

// jsonField is a small list or table kept as JSON text, "" when it is empty.
type jsonField struct {
	name
	encode func() (string, error)
	decode func(string) error
	whole  func() any
}

func (f jsonField) value() (any, error) { return f.encode() }

func (f jsonField) held() any { return f.whole() }

func (f jsonField) Scan(src any) error {
	var s string
	if err := text(f.column(), &s).Scan(src); err != nil {
		return err
	}
	if err := f.decode(s); err != nil {
		return f.mismatch(src)
	}
	return nil
}

// list is a column of measures in order.
func list(column string, p *[]float64) field {
	f := jsonField{name: name(column), whole: func() any { return *p }}
	f.encode = func() (string, error) {
		if len(*p) == 0 {
			return "", nil
		}
		out, err := json.Marshal(*p)
		if err != nil {
			return "", fmt.Errorf("the %s has a figure that is not a number", f.said())
		}
		return string(out), nil
	}
	f.decode = func(s string) error {
		*p = nil
		if s == "" {
			return nil
		}
		return json.Unmarshal([]byte(s), p)
	}
	return f
}

// table of words is a column that says one of a few words for each of some names.
func wordsByName[T ~string](column string, p *map[string]T, from []T) field {
	f := jsonField{name: name(column), whole: func() any { return *p }}
	f.encode = func() (string, error) {
		if len(*p) == 0 {
			return "", nil
		}
		for of, said := range *p {
			if _, err := text(column, &of).value(); err != nil {
				return "", err
			}
			if !slices.Contains(from, said) {
				return "", fmt.Errorf("the %s of %s cannot be %.60q", f.said(), shown(of), said)
			}
		}
		out, err := json.Marshal(*p)
		return string(out), err
	}
	f.decode = func(s string) error {
		*p = nil
		if s == "" {
			return nil
		}
		return json.Unmarshal([]byte(s), p)
	}
	return f
}
