// Command speed times the whole fit of hedonic beside R's least squares on the same rows, turn by turn, and
// the bands that hang on it:
//
//	go run ./testdata/speed OUT_DIR
//
// Needs R 4 (Debian: r-base-core). What counts is the ratio within one run.
package main

import (
	"encoding/binary"
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"gonum.org/v1/gonum/mat"

	"skegworth/valuation/hedonic"
)

const (
	rows, columns = 10_000, 40
	turns         = 3 // ours and R's in turn
	repeats       = 3 // of each in a turn
)

// The bars, and the goal.
const (
	mostOfLM    = 5
	goalOfLM    = 2
	mostOfBands = 200 * time.Millisecond // 10,000 motors
	mostOfSale  = 16 * time.Millisecond  // one more sale among 500 and a band: a frame
)

func main() {
	log.SetFlags(0)
	if len(os.Args) != 2 {
		log.Fatal("say where to: go run ./testdata/speed OUT_DIR")
	}
	if err := run(os.Args[1]); err != nil {
		log.Fatalf("time the fit: %v", err)
	}
}

func run(folder string) error {
	d := sales()
	file := filepath.Join(folder, "speed.bin")
	if err := write(file, d); err != nil {
		return err
	}
	defer os.Remove(file)
	var ours, plain, full []time.Duration
	for range turns {
		for range repeats {
			t, err := whole(d)
			if err != nil {
				return err
			}
			ours = append(ours, t)
		}
		bare, lm, err := leastSquares(file)
		if err != nil {
			return err
		}
		plain, full = append(plain, bare...), append(full, lm...)
	}
	ratio := float64(median(ours)) / float64(median(full))
	fmt.Printf("%d sales x %d columns, medians: the whole fit %v, R's lm.fit %v, R's lm %v\n", rows, columns, short(median(ours)), short(median(plain)), short(median(full)))
	fmt.Printf("the whole fit / R's lm: %.2f   bar: at most %d, goal %d   %s\n", ratio, mostOfLM, goalOfLM, verdict(ratio <= mostOfLM))

	bands, err := benchmark("BenchmarkTenThousandBands")
	if err != nil {
		return err
	}
	fmt.Printf("a band for each of 10,000 motors: %v   bar: under %v   %s\n", short(bands), mostOfBands, verdict(bands < mostOfBands))
	sale, err := benchmark("BenchmarkOneMoreSale")
	if err != nil {
		return err
	}
	fmt.Printf("one more sale added to 500 and the band drawn again: %v   bar: within %v   %s\n", short(sale), mostOfSale, verdict(sale <= mostOfSale))
	return nil
}

// sales are made up: half the columns matter, and the response has heavy tails.
func sales() hedonic.Data {
	r := rand.New(rand.NewPCG(1, 2))
	d := hedonic.Data{X: mat.NewDense(rows, columns, nil), Y: make([]float64, rows)}
	for i := range rows {
		d.X.Set(i, 0, 1)
		d.Y[i] = 7 + 0.3*r.NormFloat64()/(0.2+r.Float64())
		for j := 1; j < columns; j++ {
			x := r.NormFloat64()
			d.X.Set(i, j, x)
			if j%2 == 0 {
				d.Y[i] += 0.1 * x
			}
		}
	}
	return d
}

// whole is the time of everything that a band needs: the grid, the tails, leave-one-out and calibration.
func whole(d hedonic.Data) (time.Duration, error) {
	start := time.Now()
	m, err := hedonic.Fit(d, hedonic.Vague(d))
	if err != nil {
		return 0, err
	}
	m.LeaveOneOut()
	return time.Since(start), nil
}

// write lays the rows out for R.
func write(file string, d hedonic.Data) error {
	f, err := os.Create(file)
	if err != nil {
		return err
	}
	defer f.Close()
	for j := range columns {
		if err := binary.Write(f, binary.LittleEndian, mat.Col(nil, j, d.X)); err != nil {
			return err
		}
	}
	if err := binary.Write(f, binary.LittleEndian, d.Y); err != nil {
		return err
	}
	return f.Close()
}

// leastSquares lets R time itself.
func leastSquares(file string) (plain, full []time.Duration, err error) {
	out, err := output("Rscript", filepath.Join("testdata", "speed", "speed.R"), file, strconv.Itoa(rows), strconv.Itoa(columns), strconv.Itoa(repeats))
	if err != nil {
		return nil, nil, err
	}
	for line := range strings.Lines(out) {
		var a, b float64
		if _, err := fmt.Sscan(line, &a, &b); err != nil {
			return nil, nil, fmt.Errorf("read R's times from %q: %w", line, err)
		}
		plain, full = append(plain, seconds(a)), append(full, seconds(b))
	}
	return plain, full, nil
}

var perOp = regexp.MustCompile(`\s([0-9.]+) ns/op`)

// benchmark is the median time of one benchmark of valuation.
func benchmark(name string) (time.Duration, error) {
	out, err := output("go", "test", "-tags", "migrated_fynedo", "-run", "NONE", "-bench", "^"+name+"$", "-count", "5", "./valuation")
	if err != nil {
		return 0, err
	}
	var times []time.Duration
	for _, found := range perOp.FindAllStringSubmatch(out, -1) {
		ns, err := strconv.ParseFloat(found[1], 64)
		if err != nil {
			return 0, err
		}
		times = append(times, time.Duration(ns))
	}
	if len(times) == 0 {
		return 0, fmt.Errorf("%s gave no times: %s", name, out)
	}
	return median(times), nil
}

func output(name string, args ...string) (string, error) {
	command := exec.Command(name, args...)
	command.Env = append(os.Environ(), "LC_ALL=C") // R warns of a language that the machine lacks
	command.Stderr = os.Stderr
	out, err := command.Output()
	if err != nil {
		return "", fmt.Errorf("%s: %w", command, err)
	}
	return string(out), nil
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

func median(of []time.Duration) time.Duration {
	sorted := slices.Sorted(slices.Values(of))
	return sorted[len(sorted)/2]
}

func short(d time.Duration) time.Duration { return d.Round(100 * time.Microsecond) }

func verdict(met bool) string {
	if met {
		return "met"
	}
	return "NOT MET"
}
