package intake

import (
	"bytes"
	"fmt"
	"os"
	"strings"

	"skegworth/valuation/say"
)

// tellMotors writes everything a list of motors holds, for a person.
func tellMotors(rows []MotorRow, notes []say.Sentence, err error) string {
	var out strings.Builder
	if err != nil {
		fmt.Fprintf(&out, "error: %v\n", err)
	}
	for _, n := range notes {
		fmt.Fprintf(&out, "note: %s\n", n)
	}
	for _, r := range rows {
		fmt.Fprintf(&out, "line %d: on=%s", r.Line, r.On)
		tellMotor(&out, r.Motor)
		if r.Err != nil {
			fmt.Fprintf(&out, " error: %v", r.Err)
		}
		out.WriteByte('\n')
	}
	return out.String()
}

func listMotorsFile(path string) ([]MotorRow, []say.Sentence, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	return ListMotors(bytes.NewReader(data), path, usual)
}
