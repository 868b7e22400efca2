//go:build linux && amd64

package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
)

// fuzzed is what the record of fuzzing comes to, see testdata/safe/fuzz.
type fuzzed struct {
	executions, findings int64
	targets              map[string]bool
}

func readRecord(path string) (fuzzed, error) {
	out := fuzzed{targets: map[string]bool{}}
	f, err := os.Open(path)
	if err != nil {
		return out, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return out, err
	}
	for i, row := range rows {
		if i == 0 || len(row) < 5 {
			continue
		}
		tried, err := strconv.ParseInt(row[2], 10, 64)
		if err != nil {
			return out, fmt.Errorf("%s, row %d: %w", path, i+1, err)
		}
		found, err := strconv.ParseInt(row[4], 10, 64)
		if err != nil {
			return out, fmt.Errorf("%s, row %d: %w", path, i+1, err)
		}
		out.executions, out.findings = out.executions+tried, out.findings+found
		out.targets[row[1]] = true
	}
	return out, nil
}
