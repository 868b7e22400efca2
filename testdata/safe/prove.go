//go:build linux && amd64

package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// prove makes sure that losses are found where there are some: on a disk that only says it has flushed, and in
// shop files from which somebody took, or to which somebody added, what the book does not say. It returns how
// many of them were found.
func prove(program, home string, seed uint64) (found int, err error) {
	spend := operations()[0]
	got, err := spend.try(home, []fault{{name: "a disk that lies about flushing", power: true, lies: true}}, 1<<20, 1, seed)
	if err != nil {
		return found, err
	}
	if len(got.losses) == 0 {
		return found, fmt.Errorf("on a disk that lies about flushing no loss was found")
	}
	found++
	k := &killer{program: program, folder: filepath.Join(scratch, "prove"), home: home,
		chance: rand.New(rand.NewPCG(seed, 0)), lives: map[string]time.Duration{}}
	if err := k.begin(); err != nil {
		return found, err
	}
	slip := exec.Command(program, "spend", k.path, "S138", "impeller 14.50 word-1", "draw gear oil 0.00777 qt")
	slip.Env = environment(home, k.folder)
	if out, err := slip.CombinedOutput(); err != nil {
		return found, fmt.Errorf("%w: %s", err, out)
	}
	book := func() {
		k.book = []*change{{word: "word-1", query: countLines, count: 1, state: there}, {word: "777", query: countDraws, count: 1, state: there}}
	}
	book()
	if err := k.judge(nil); err != nil || len(k.tally.losses) > 0 {
		return found, fmt.Errorf("a shop file in order is not taken for that: %v, %w", k.tally.losses, err)
	}
	const double = "CREATE TEMP TABLE more AS SELECT * FROM lines WHERE supplier = 'word-1'; UPDATE more SET id = id || 'x'; INSERT INTO lines SELECT * FROM more"
	whole := k.path
	for n, harm := range []string{
		"DELETE FROM lines WHERE supplier = 'word-1'",
		double,
		"DELETE FROM moves WHERE ROUND(quantity * 100000) = 777",
		"UPDATE lines SET total = total + 1 WHERE ROUND(quantity * 100000) = 777",
		"DELETE FROM motors WHERE tag = 'S138'",
		"", // bytes instead of rows
	} {
		k.folder = filepath.Join(scratch, fmt.Sprintf("prove-%d", n))
		k.path = filepath.Join(k.folder, shopName)
		if err := os.MkdirAll(k.folder, 0o700); err != nil {
			return found, err
		}
		if err := copyShop(whole, k.path); err != nil {
			return found, err
		}
		if err := damage(k, harm); err != nil {
			return found, fmt.Errorf("%s: %w", harm, err)
		}
		book()
		k.tally.losses = nil
		if err := k.judge(nil); err != nil {
			return found, err
		}
		if len(k.tally.losses) == 0 {
			return found, fmt.Errorf("%q was not found out", harm)
		}
		found++
	}
	return found, nil
}

// damage does harm to a shop file behind everybody's back.
func damage(k *killer, harm string) error {
	if harm == "" {
		data, err := os.ReadFile(k.path)
		if err != nil {
			return err
		}
		for at := len(data) / 3; at < len(data)/3+3*4096; at++ {
			data[at] ^= 0xff
		}
		return os.WriteFile(k.path, data, 0o600)
	}
	db, err := k.open(k.path)
	if err != nil {
		return err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, statement := range strings.Split(harm, "; ") {
		done, err := db.Exec(statement)
		if err != nil {
			return err
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 && !strings.HasPrefix(statement, "CREATE") {
			return fmt.Errorf("%d rows were harmed, %v", n, err)
		}
	}
	return nil
}
