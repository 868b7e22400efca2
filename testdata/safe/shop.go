//go:build linux && amd64

package main

import (
	"context"
	"os"
	"path/filepath"
	"time"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

const (
	onDay    = "2026-11-25" // the day that all is asked on
	shopName = "shop.skegworth"
)

// smallShop makes a shop file of one motor on the bench and one good on the shelf.
func smallShop(path string) error {
	ctx := context.Background()
	f, err := shopfile.Create(ctx, path, shopfile.WithClock(func() time.Time { return time.Date(2026, 11, 1, 9, 0, 0, 0, time.UTC) }))
	if err != nil {
		return err
	}
	on := day.Of(2026, 10, 1)
	err = f.Write(ctx, "a small shop", "", func(tx *shopfile.Tx) error {
		r := costing.Record{Stage: costing.Bench, Tag: "B1", BoughtOn: on, Motor: valuation.Motor{Make: "Halvard", Power: 40, Year: 2004}}
		if err := tx.PutRecord(&r); err != nil {
			return err
		}
		if err := tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.Purchase, On: on, Text: "the motor", Quantity: 1, Each: 40000, Total: 40000}); err != nil {
			return err
		}
		g := costing.Good{Name: "gear oil", Unit: "qt"}
		if err := tx.PutGood(&g); err != nil {
			return err
		}
		return tx.PutMove(&costing.Move{GoodID: g.ID, Kind: costing.Bought, On: on, Quantity: 8, Cost: 8000})
	})
	if closing := f.Close(); err == nil {
		err = closing
	}
	return err
}

// pastSales is a file of sales to take in, each with the note.
func pastSales(note string, powers ...string) []byte {
	out := "sold,price,power,year,stroke,make,state,note\n"
	for _, power := range powers {
		out += "2025-05-04,1850," + power + ",1998,two,Halvard,runs," + note + "\n"
	}
	return []byte(out)
}

// environment of the program: a home of its own outside of the folder that is watched, and inside of it the
// place for passing files, which can be full as well.
func environment(home, folder string) []string {
	return []string{"LANG=C.UTF-8", programVariable + "=" + os.Getenv(programVariable), "PATH=" + os.Getenv("PATH"), "HOME=" + home, "XDG_DATA_HOME=" + filepath.Join(home, "data"),
		"XDG_STATE_HOME=" + filepath.Join(home, "state"), "XDG_CACHE_HOME=" + filepath.Join(home, "cache"), "TMPDIR=" + filepath.Join(folder, "tmp")}
}

// copyFolder copies files and folders.
func copyFolder(from, to string) error { return os.CopyFS(to, os.DirFS(from)) }
