package main

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// file is one of the archive.
type file struct {
	name string
	data []byte
	mode int64
}

// publish writes the archive, the bill of materials and the checksums of both.
func publish(out, base string, files []file, bill []byte, at time.Time) error {
	packed, err := pack(base, files, at)
	if err != nil {
		return err
	}
	var sums strings.Builder
	for _, f := range []file{{name: base + ".tar.gz", data: packed}, {name: base + ".cdx.json", data: bill}} {
		if err := os.WriteFile(filepath.Join(out, f.name), f.data, 0o644); err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(f.data), f.name)
	}
	if err := os.WriteFile(filepath.Join(out, "SHA256SUMS"), []byte(sums.String()), 0o644); err != nil {
		return err
	}
	_, err = fmt.Print(sums.String())
	return err
}

// pack makes a compressed archive in which nothing tells of the machine or the moment: sorted, owned by
// nobody in particular, all of one time.
func pack(base string, files []file, at time.Time) ([]byte, error) {
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b file) int { return strings.Compare(a.name, b.name) })
	var out bytes.Buffer
	pressed, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	archive := tar.NewWriter(pressed)
	for _, f := range files {
		header := &tar.Header{Name: base + "/" + f.name, Mode: f.mode, Size: int64(len(f.data)), ModTime: at, Typeflag: tar.TypeReg, Format: tar.FormatUSTAR}
		if err := archive.WriteHeader(header); err != nil {
			return nil, err
		}
		if _, err := archive.Write(f.data); err != nil {
			return nil, err
		}
	}
	if err := archive.Close(); err != nil {
		return nil, err
	}
	err = pressed.Close() // before what it wrote is looked at
	return out.Bytes(), err
}
