//go:build linux && amd64

package main

import (
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"strings"

	"skegworth/app/shop"
)

func inFolder(name string, f func(string) error) func(string) error {
	return func(folder string) error { return f(filepath.Join(folder, name)) }
}

func withFile(prepare func(string) error, name string, data []byte) func(string) error {
	return func(folder string) error {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o600); err != nil {
			return err
		}
		return prepare(folder)
	}
}

func nothing(string) error { return nil }

// exported is a small shop and the folder of its open files.
func exported(folder string) error {
	aside := filepath.Join(folder, "small.skegworth")
	if err := smallShop(aside); err != nil {
		return err
	}
	s, err := shop.Open(aside)
	if err != nil {
		return err
	}
	_, err = s.Export(filepath.Join(folder, "open"))
	if closing := s.Close(); err == nil {
		err = closing
	}
	return err
}

// oldBook is a shop with a workbook written before, which a new one replaces.
func oldBook(folder string) error {
	path := filepath.Join(folder, shopName)
	if err := smallShop(path); err != nil {
		return err
	}
	s, err := shop.Open(path)
	if err != nil {
		return err
	}
	err = s.WriteWorkbook(2025, filepath.Join(folder, "year.xlsx"))
	if closing := s.Close(); err == nil {
		err = closing
	}
	return err
}

// lines that are typed at spend: a cost, time, a draw from the shelf, and a part with its core charge.
var typedLines = []string{"2 x impeller 14.50 harbour supply\n", "1.5h carbs\n", "draw gear oil 3 floz\n", "starter 128 core 40\n"}

func operations() []operation {
	small := inFolder(shopName, smallShop)
	all := []operation{
		{name: "spend", prepare: small, words: []string{"spend", shopName, "B1", "--on", onDay}, typed: strings.Join(typedLines, ""), lines: typedLines},
		{name: "intake into a new shop", prepare: withFile(nothing, "past.csv", pastSales("new", "40", "60", "90")), empty: true,
			words: []string{"intake", shopName, "past.csv"}},
		{name: "intake", prepare: withFile(small, "past.csv", pastSales("more", "40", "60", "90")), words: []string{"intake", shopName, "past.csv"}},
		{name: "close a year", prepare: small, words: []string{"review", shopName, "--year", "2025", "--close", "--on", onDay}},
		{name: "export", prepare: small, words: []string{"export", shopName, "open"}, made: map[string]func(string) error{"open": wholeExport}},
		{name: "rebuild", prepare: exported, words: []string{"rebuild", "open", shopName}},
		{name: "workbook over an older one", prepare: oldBook, words: []string{"review", shopName, "--year", "2026", "--on", onDay, "--out", "year.xlsx"},
			made: map[string]func(string) error{"year.xlsx": wholeBook}},
		{name: "tables of a year", prepare: small, words: []string{"review", shopName, "--year", "2026", "--on", onDay, "--csv", "tables"},
			made: map[string]func(string) error{"tables": wholeTables}},
		{name: "a page", prepare: small, words: []string{"paper", "schedule", shopName, "2026", "--on", onDay, "--out", "page.pdf"},
			made: map[string]func(string) error{"page.pdf": wholePDF}},
		{name: "copy", prepare: small, words: []string{"copy", shopName, "copied.skegworth"}, made: map[string]func(string) error{"copied.skegworth": accepts}},
		{name: "restore", prepare: withCopy, words: []string{"restore", shopName, "older.skegworth"}},
	}
	if older != "" {
		all = append(all, operation{name: "upgrade", prepare: olderShop, words: []string{"check", shopName}})
	}
	return all
}

// withCopy is a shop with lines that a copy of it, made before, does not have.
func withCopy(folder string) error {
	path := filepath.Join(folder, shopName)
	if err := smallShop(path); err != nil {
		return err
	}
	s, err := shop.Open(path)
	if err != nil {
		return err
	}
	defer s.Close()
	if err := s.CopyTo(filepath.Join(folder, "older.skegworth")); err != nil {
		return err
	}
	motor, err := s.Find("motor", "B1")
	if err != nil {
		return err
	}
	_, err = s.QuickLine(motor, "", "impeller 14.50")
	return err
}

// older is the shop file of an older program, packed; empty when none was given.
var older string

func olderShop(folder string) error {
	packed, err := os.Open(older)
	if err != nil {
		return err
	}
	defer packed.Close()
	plain, err := gzip.NewReader(packed)
	if err != nil {
		return err
	}
	data, err := io.ReadAll(plain)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, shopName), data, 0o600)
}
