// Command peers scores hedonic on the splits that peers.R made, beside the peers scored there:
//
//	Rscript testdata/peers/peers.R OUT_DIR
//	go run ./testdata/peers -peers OUT_DIR [-all]
//
// The prior is vague and scaled by the data: nothing is known of houses.
package main

import (
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"runtime"
	"slices"
	"text/tabwriter"

	"golang.org/x/sync/errgroup"

	"skegworth/valuation/hedonic"
)

const level = 0.8

// The bars: the geometric mean of our score over the best peer's, and the mean coverage.
const (
	mostRatio     = 0.97
	leastCoverage = 0.78
	mostCoverage  = 0.83
)

func main() {
	log.SetFlags(0)
	folder := flag.String("peers", "", "the folder that peers.R wrote")
	all := flag.Bool("all", false, "a second table with each peer averaged over every repeat that it ran, the ridge too")
	flag.Parse()
	if err := run(*folder, *all); err != nil {
		log.Fatalf("score the bands: %v", err)
	}
}

func run(folder string, all bool) error {
	sets, err := readSets(folder)
	if err != nil {
		return err
	}
	splits, err := readSplits(folder)
	if err != nil {
		return err
	}
	peers, err := readPeers(folder)
	if err != nil {
		return err
	}
	results := make([]figures, len(splits))
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, s := range splits {
		group.Go(func() (err error) {
			results[i], err = judge(sets[s.set], s)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	report(splits, results, peers)
	if !all {
		return nil
	}
	if peers, err = readPeersEach(folder); err != nil {
		return err
	}
	fmt.Println("\nEach peer over every repeat that it ran:")
	report(splits, results, peers)
	return nil
}

// figures are what a method earns on one split, or on the average.
type figures struct{ cover, score, width float64 }

// judge learns from the training rows and scores the bands of the test rows.
func judge(d table, s split) (figures, error) {
	learned := d.rows(s.train)
	model, err := hedonic.Fit(learned, hedonic.Vague(learned))
	if err != nil {
		return figures{}, fmt.Errorf("%s, %d sales, repeat %d: %w", s.set, s.n, s.k, err)
	}
	var sum figures
	for _, i := range s.test {
		low, high := model.Predict(d.x.RawRowView(i), 1).Interval(level)
		f := scored(low, high, d.y[i])
		sum.cover += f.cover
		sum.score += f.score
		sum.width += f.width
	}
	n := float64(len(s.test))
	return figures{sum.cover / n, sum.score / n, sum.width / n}, nil
}

// scored is one band: the interval score is that of Gneiting and Raftery (2007), eq. 43; lower is better.
func scored(low, high, y float64) figures {
	miss := 1 - level
	f := figures{1, high - low, high - low}
	if y < low || y > high {
		f.cover = 0
		f.score += 2 / miss * max(low-y, y-high)
	}
	return f
}

// report prints a line a cell, ours and every peer's score side by side, and the bars.
func report(splits []split, results []figures, peers []peer) {
	var cells []cell
	ours := map[cell][]figures{}
	for i, s := range splits {
		if _, known := ours[s.cell]; !known {
			cells = append(cells, s.cell)
		}
		ours[s.cell] = append(ours[s.cell], results[i])
	}
	var names []string
	for _, p := range peers {
		if !slices.Contains(names, p.name) {
			names = append(names, p.name)
		}
	}
	slices.Sort(names)
	w := tabwriter.NewWriter(os.Stdout, 0, 8, 2, ' ', 0)
	fmt.Fprintf(w, "Mean interval score of %.0f %% bands of log price, coverage in brackets\n", 100*level)
	fmt.Fprint(w, "set, n\tours\twidth\t")
	for _, name := range names {
		fmt.Fprint(w, name, "\t")
	}
	fmt.Fprintln(w, "ours / best")
	logs, cover := 0.0, 0.0
	for _, c := range cells {
		mean := average(ours[c])
		fmt.Fprintf(w, "%s %d\t%.3f (%.3f)\t%.3f\t", c.set, c.n, mean.score, mean.cover, mean.width)
		best := math.Inf(1)
		for _, name := range names {
			i := slices.IndexFunc(peers, func(p peer) bool { return p.cell == c && p.name == name })
			if i < 0 {
				fmt.Fprint(w, "-\t")
				continue
			}
			fmt.Fprintf(w, "%.3f (%.3f)\t", peers[i].score, peers[i].cover)
			best = min(best, peers[i].score)
		}
		fmt.Fprintf(w, "%.3f\n", mean.score/best)
		logs += math.Log(mean.score / best)
		cover += mean.cover
	}
	w.Flush()
	n := float64(len(cells))
	ratio, held := math.Exp(logs/n), cover/n
	fmt.Printf("geometric mean of ours / best: %.4f   bar: at most %.2f   %s\n", ratio, mostRatio, verdict(ratio <= mostRatio))
	fmt.Printf("mean coverage of ours: %.4f   bar: %.2f to %.2f   %s\n", held, leastCoverage, mostCoverage,
		verdict(leastCoverage <= held && held <= mostCoverage))
}

func average(of []figures) figures {
	var sum figures
	for _, f := range of {
		sum.cover += f.cover
		sum.score += f.score
		sum.width += f.width
	}
	n := float64(len(of))
	return figures{sum.cover / n, sum.score / n, sum.width / n}
}

func verdict(met bool) string {
	if met {
		return "met"
	}
	return "NOT MET"
}
