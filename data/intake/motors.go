package intake

import (
	"fmt"
	"io"
	"path/filepath"

	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// MotorRow is one motor of a list that is to be valued.
type MotorRow struct {
	Line  int
	Motor valuation.Motor
	On    day.Day // day to value it on, 0 when the list does not say
	Err   error   // why the row cannot be used, one sentence that names the field; a [*valuation.FieldError]
}

// ReadMotors reads a list of motors from a CSV or XLSX file: the header of past sales without sold and
// price, and with "on" for the day each is to be valued. Rows come in the order of the file, also those
// with an error. The sentences tell what was decided while reading, and what was passed over. The error
// returned is for the file as a whole.
func ReadMotors(path string, o Options) ([]MotorRow, []say.Sentence, error) {
	f, err := open(path)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	return ListMotors(f, filepath.Base(path), o)
}

// ListMotors is ReadMotors on an open file; name is used in errors only.
func ListMotors(r io.Reader, name string, o Options) ([]MotorRow, []say.Sentence, error) {
	t, err := readTable(r, motorsHeader)
	if err != nil {
		return nil, nil, fmt.Errorf("take in %s: %w", oneLine(name), err)
	}
	read := newReader(t, o, []string{on}, nil, 0)
	rows := make([]MotorRow, len(t.lines))
	for i, l := range t.lines {
		rows[i] = read.motorRow(l)
	}
	return rows, read.notes(), nil
}

func (r *reader) motorRow(l line) MotorRow {
	row := MotorRow{Line: l.number}
	if row.Err = r.fit(l); row.Err != nil {
		return row
	}
	if row.On, row.Err = r.day(l, on); row.Err != nil {
		return row
	}
	row.Motor, row.Err = r.motorOf(l, row.On)
	return row
}
