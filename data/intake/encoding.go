package intake

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"skegworth/valuation/say"
)

// decode turns the bytes of a text file into UTF-8. A byte order mark decides; without one, text that
// is UTF-8 is taken as that, text in pairs with zero bytes as UTF-16, and all else as Windows-1252,
// which agrees with Latin-1 in every printable letter and is what "save as CSV" writes on Western
// machines. The note says which was assumed, where that was not plain.
func decode(data []byte) (string, []say.Sentence, error) {
	switch {
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		return mended(data[3:])
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		return through(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), data)
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return through(unicode.UTF16(unicode.BigEndian, unicode.UseBOM), data)
	}
	if little, ok := pairs(data); ok {
		endian := unicode.BigEndian
		if little {
			endian = unicode.LittleEndian
		}
		s, _, err := through(unicode.UTF16(endian, unicode.IgnoreBOM), data)
		return s, []say.Sentence{say.New("intake.utf16", "The file does not say how its letters are stored; it was read as UTF-16.")}, err
	}
	if good, bad := multibyte(data); bad <= good {
		return mended(data)
	}
	s, _, err := through(charmap.Windows1252, data)
	return s, []say.Sentence{say.New("intake.latin1",
		"The file is not UTF-8; its letters were read as Windows-1252 (Latin-1). Look whether accents and currency signs came out right.")}, err
}

func through(e encoding.Encoding, data []byte) (string, []say.Sentence, error) {
	out, err := e.NewDecoder().Bytes(data)
	if err != nil {
		return "", nil, fmt.Errorf("read its letters: %w", err)
	}
	return string(out), nil, nil
}

// mended is UTF-8 with what little is broken in it replaced.
func mended(data []byte) (string, []say.Sentence, error) {
	if utf8.Valid(data) {
		return string(data), nil, nil
	}
	return string(bytes.ToValidUTF8(data, []byte("\ufffd"))), []say.Sentence{say.New("intake.letters",
		"Some letters in the file are broken; each stands as \ufffd.")}, nil
}

// multibyte counts the sequences of UTF-8 beyond ASCII and the bytes that are none. A file cut within
// a letter, or glued from two encodings, is still UTF-8 for the most part.
func multibyte(data []byte) (good, bad int) {
	for i := 0; i < len(data); {
		if data[i] < utf8.RuneSelf {
			i++
			continue
		}
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			bad++
		} else {
			good++
		}
		i += size
	}
	return good, bad
}

// pairs tells whether text looks like UTF-16 without its mark: in Western text nearly every second
// byte is then zero.
func pairs(data []byte) (little, ok bool) {
	head := data[:min(len(data), 4096)&^1]
	if len(head) < 8 {
		return false, false
	}
	var even, odd int
	for i := 0; i < len(head); i += 2 {
		if head[i] == 0 {
			even++
		}
		if head[i+1] == 0 {
			odd++
		}
	}
	most := len(head) / 2 * 3 / 4
	return odd > even, max(even, odd) > most && min(even, odd) < most/4
}
