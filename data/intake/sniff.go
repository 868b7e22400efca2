package intake

import (
	"bytes"
	"fmt"
	"unicode/utf16"
)

// form is what a file holds, told by its first bytes. Names lie: shops rename CSV to .xlsx and back.
type form uint8

const (
	plainText form = iota
	workbook
)

// sniff tells text from a workbook, and names the things that are neither, so that the sentence can
// say what to do.
func sniff(data []byte) (form, error) {
	switch {
	case len(data) == 0:
		return plainText, ErrEmpty
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("PK\x05\x06")):
		if bytes.Contains(data[:min(len(data), 200)], []byte("mimetypeapplication/vnd.oasis.opendocument")) {
			return workbook, fmt.Errorf("%w: it is an OpenDocument file; save it as .xlsx or CSV", ErrNotTable)
		}
		return workbook, nil
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")):
		if bytes.Contains(data, inUTF16("EncryptedPackage")) {
			return workbook, fmt.Errorf("%w: the workbook is locked with a password; save it without one", ErrNotTable)
		}
		return workbook, fmt.Errorf("%w: it is an old .xls workbook; save it as .xlsx or CSV", ErrNotTable)
	}
	for _, known := range []struct{ start, name string }{
		{"%PDF", "a PDF"}, {"\x89PNG", "a picture"}, {"\xff\xd8\xff", "a picture"}, {"GIF8", "a picture"},
		{"\x1f\x8b", "packed with gzip"}, {"Rar!", "packed with RAR"}, {"7z\xbc\xaf", "packed with 7-Zip"},
		{"SQLite format 3\x00", "a database"}, {"{\\rtf", "a text document"},
	} {
		if bytes.HasPrefix(data, []byte(known.start)) {
			return plainText, fmt.Errorf("%w: it is %s", ErrNotTable, known.name)
		}
	}
	head := bytes.ToLower(bytes.TrimLeft(bytes.TrimPrefix(data[:min(len(data), 512)], []byte("\xef\xbb\xbf")), " \t\r\n"))
	for _, start := range []string{"<?xml", "<html", "<!doctype html", "<table", "<meta"} {
		if bytes.HasPrefix(head, []byte(start)) {
			return plainText, fmt.Errorf("%w: it is a web page or XML under a spreadsheet's name; open it in a spreadsheet and save it as .xlsx or CSV", ErrNotTable)
		}
	}
	return plainText, nil
}

func inUTF16(s string) []byte {
	var out []byte
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return out
}
