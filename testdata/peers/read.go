package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mat"

	"skegworth/valuation/hedonic"
)

// cell is a set of sales and how many of them are learned from.
type cell struct {
	set string
	n   int
}

// split is one repeat: the rows learned from and the rows judged, counted from 0.
type split struct {
	cell
	k           int
	train, test []int
}

// peer is a method in one cell.
type peer struct {
	cell
	name string
	figures
}

// table is a set of sales, the columns after a column of ones.
type table struct {
	x *mat.Dense
	y []float64
}

// rows are the sales learned from.
func (t table) rows(of []int) hedonic.Data {
	_, k := t.x.Dims()
	d := hedonic.Data{X: mat.NewDense(len(of), k, nil), Y: make([]float64, len(of))}
	for i, r := range of {
		d.X.SetRow(i, t.x.RawRowView(r))
		d.Y[i] = t.y[r]
	}
	return d
}

func readSets(folder string) (map[string]table, error) {
	sets := map[string]table{}
	for _, name := range []string{"windsor", "ames"} {
		lines, err := read(folder, name+".csv")
		if err != nil {
			return nil, err
		}
		k := len(lines[0])
		t := table{mat.NewDense(len(lines)-1, k, nil), make([]float64, len(lines)-1)}
		for i, line := range lines[1:] {
			for j, word := range line {
				v, err := strconv.ParseFloat(word, 64)
				if err != nil {
					return nil, fmt.Errorf("read %s.csv, line %d: %w", name, i+2, err)
				}
				t.x.Set(i, j, v)
			}
			t.y[i] = t.x.At(i, 0)
			t.x.Set(i, 0, 1)
		}
		sets[name] = t
	}
	return sets, nil
}

func readSplits(folder string) ([]split, error) {
	lines, err := read(folder, "splits.csv")
	if err != nil {
		return nil, err
	}
	var splits []split
	for i, line := range lines[1:] {
		s, err := splitOf(line)
		if err != nil {
			return nil, fmt.Errorf("read splits.csv, line %d: %w", i+2, err)
		}
		splits = append(splits, s)
	}
	return splits, nil
}

func splitOf(line []string) (s split, err error) {
	s.set = line[0]
	if s.n, err = strconv.Atoi(line[1]); err != nil {
		return s, err
	}
	if s.k, err = strconv.Atoi(line[2]); err != nil {
		return s, err
	}
	if s.train, err = rowsOf(line[3]); err != nil {
		return s, err
	}
	s.test, err = rowsOf(line[4])
	return s, err
}

// rowsOf reads rows counted from 1.
func rowsOf(text string) ([]int, error) {
	var rows []int
	for _, word := range strings.Fields(text) {
		r, err := strconv.Atoi(word)
		if err != nil {
			return nil, err
		}
		rows = append(rows, r-1)
	}
	return rows, nil
}

// readPeers reads each peer's means by cell.
func readPeers(folder string) ([]peer, error) { return peersIn(folder, "peers.csv", 3) }

// readPeersEach averages what each peer earned on every repeat that it ran.
func readPeersEach(folder string) ([]peer, error) { return peersIn(folder, "peers_each.csv", 4) }

// peersIn averages the figures in a file by cell and peer. They follow the words of a line, the last of
// which is the peer's name.
func peersIn(folder, name string, words int) ([]peer, error) {
	lines, err := read(folder, name)
	if err != nil {
		return nil, err
	}
	var peers []peer
	each := map[peer][]figures{}
	for i, line := range lines[1:] {
		n, err := strconv.Atoi(line[1])
		if err != nil {
			return nil, fmt.Errorf("read %s, line %d: %w", name, i+2, err)
		}
		var v [3]float64
		for j := range v {
			if v[j], err = strconv.ParseFloat(line[words+j], 64); err != nil {
				return nil, fmt.Errorf("read %s, line %d: %w", name, i+2, err)
			}
		}
		p := peer{cell: cell{line[0], n}, name: line[words-1]}
		if _, known := each[p]; !known {
			peers = append(peers, p)
		}
		each[p] = append(each[p], figures{v[0], v[1], v[2]})
	}
	for i, p := range peers {
		peers[i].figures = average(each[p])
	}
	return peers, nil
}

func read(folder, name string) ([][]string, error) {
	f, err := os.Open(filepath.Join(folder, name))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	if len(lines) < 2 {
		return nil, fmt.Errorf("read %s: no lines", name)
	}
	return lines, nil
}
