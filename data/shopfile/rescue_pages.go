package shopfile

import (
	"encoding/binary"
	"errors"
	"io"
	"os"
)

// The first byte of a page of a b-tree, in SQLite's file format.
const (
	indexBranch = 2
	tableBranch = 5
	indexLeaf   = 10
	tableLeaf   = 13
)

const (
	pageSize   = 4096 // of every shop file
	headerSize = 100  // before the b-tree of the first page
)

// survey is what the pages of a damaged file look like each by itself, whatever leads to them.
type survey struct {
	pages   int64
	kind    []byte           // by page, from 1; 0 where it is none of a b-tree
	below   []bool           // a branch leads to the page, so that it is no root
	filled  []bool           // there are rows on the page
	own     map[part]int64   // root pages by what is left of the schema; 0 where it contradicts itself
	schema  map[int64]bool   // pages on which that was found
	free    map[int64]bool   // pages on the list of free ones
	columns map[int64]uint64 // how many columns the first row of a leaf has
}

// surveyOf looks at every page once. Nothing that is read is trusted to lie within its page or the file.
func surveyOf(path string) (*survey, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	about, err := file.Stat()
	if err != nil {
		return nil, err
	}
	n := (about.Size() + pageSize - 1) / pageSize
	s := &survey{pages: n, kind: make([]byte, n+1), below: make([]bool, n+1), filled: make([]bool, n+1),
		own: map[part]int64{}, schema: map[int64]bool{}, free: map[int64]bool{}, columns: map[int64]uint64{}}
	page := make([]byte, pageSize)
	for at := int64(1); at <= n; at++ {
		clear(page)
		if _, err := file.ReadAt(page, (at-1)*pageSize); err != nil && !errors.Is(err, io.EOF) {
			continue // a sector that the disk no longer gives
		}
		s.look(at, page)
	}
	return s, s.list(file)
}

func (s *survey) look(at int64, page []byte) {
	start := 0
	if at == 1 {
		start = headerSize
	}
	cells, ok := cellsOf(page, start)
	if !ok {
		return
	}
	kind := page[start]
	s.filled[at] = len(cells) > 0
	switch kind {
	case tableBranch, indexBranch:
		children := []int64{int64(binary.BigEndian.Uint32(page[start+8:]))}
		for _, c := range cells {
			children = append(children, int64(binary.BigEndian.Uint32(page[c:])))
		}
		seen := map[int64]bool{}
		for _, c := range children {
			if c < 2 || c > s.pages || c == at || seen[c] {
				return
			}
			seen[c] = true
		}
		for c := range seen {
			s.below[c] = true
		}
	case tableLeaf:
		for i, c := range cells {
			columns, entry, root := rowHead(page[c:])
			if i == 0 {
				s.columns[at] = columns
			}
			if entry == (part{}) || root < 2 || root > s.pages {
				continue
			}
			s.schema[at] = true
			if known, twice := s.own[entry]; twice && known != root {
				root = 0
			}
			s.own[entry] = root
		}
	}
	s.kind[at] = kind
}

// cellsOf are where the cells of a page begin; false for a page that cannot be one of a b-tree.
func cellsOf(page []byte, start int) ([]int, bool) {
	head := 8
	switch page[start] {
	case tableBranch, indexBranch:
		head = 12
	case tableLeaf, indexLeaf:
	default:
		return nil, false
	}
	n := int(binary.BigEndian.Uint16(page[start+3:]))
	content := int(binary.BigEndian.Uint16(page[start+5:]))
	if content < start+head+2*n || content > pageSize {
		return nil, false
	}
	out := make([]int, n)
	for i := range out {
		out[i] = int(binary.BigEndian.Uint16(page[start+head+2*i:]))
		if out[i] < content || out[i] > pageSize-4 {
			return nil, false
		}
	}
	return out, true
}

// rowHead reads the head of a row: how many columns it has and, where it is one of a schema, what it is the
// entry of and the root page that it names.
func rowHead(cell []byte) (columns uint64, entry part, root int64) {
	var sizes []uint64
	skip := func() (uint64, bool) {
		v, n := varint(cell)
		cell = cell[n:]
		return v, n > 0
	}
	if _, ok := skip(); !ok { // the length of the row
		return 0, part{}, 0
	}
	if _, ok := skip(); !ok { // its number
		return 0, part{}, 0
	}
	length, n := varint(cell)
	if n == 0 || length < uint64(n) || length > uint64(len(cell)) {
		return 0, part{}, 0
	}
	head, body := cell[n:length], cell[length:]
	for len(head) > 0 {
		v, n := varint(head)
		if n == 0 {
			return 0, part{}, 0
		}
		sizes, head = append(sizes, v), head[n:]
	}
	columns = uint64(len(sizes))
	if columns != 5 {
		return columns, part{}, 0
	}
	var words [3]string
	for i := range words {
		size := (sizes[i] - 13) / 2
		if sizes[i] < 13 || sizes[i]%2 == 0 || size > uint64(len(body)) {
			return columns, part{}, 0
		}
		words[i], body = string(body[:size]), body[size:]
	}
	// Whole numbers of one to four bytes, the highest first; 9 is the number one without any.
	if sizes[3] < 1 || sizes[3] > 4 || sizes[3] > uint64(len(body)) || words[0] != "table" && words[0] != "index" {
		return columns, part{}, 0
	}
	for _, b := range body[:sizes[3]] {
		root = root<<8 | int64(b)
	}
	return columns, part{kind: words[0], name: words[1], of: words[2]}, root
}

// varint is a number as SQLite writes it, and how many bytes it takes; none where there is not enough.
func varint(b []byte) (v uint64, n int) {
	for n < len(b) && n < 8 {
		v = v<<7 | uint64(b[n]&0x7f)
		n++
		if b[n-1] < 0x80 {
			return v, n
		}
	}
	if n == 8 && len(b) > 8 {
		return v<<8 | uint64(b[8]), 9
	}
	return 0, 0
}

// list follows the list of free pages as far as it makes sense: what lies on them is of no table.
func (s *survey) list(file io.ReaderAt) error {
	word := func(at int64) int64 {
		var b [4]byte
		if _, err := file.ReadAt(b[:], at); err != nil {
			return 0
		}
		return int64(binary.BigEndian.Uint32(b[:]))
	}
	for trunk := word(32); trunk >= 2 && trunk <= s.pages && !s.free[trunk]; {
		s.free[trunk] = true
		at := (trunk - 1) * pageSize
		for i := range min(word(at+4), pageSize/4-2) {
			if leaf := word(at + 8 + 4*i); leaf >= 2 && leaf <= s.pages {
				s.free[leaf] = true
			}
		}
		trunk = word(at)
	}
	return nil
}

// bears tells how well a page can be the root of a table or an index: whether it is one by its looks, and
// whether it is something else by them. One that is spoilt is neither.
func (s *survey) bears(kind string, root int64) (right, wrong bool) {
	switch {
	case root > s.pages: // cut off
		return false, false
	case root < 2 || s.below[root]:
		return false, true
	}
	switch s.kind[root] {
	case 0:
		return false, false
	case tableBranch, tableLeaf:
		return kind == "table", kind != "table"
	}
	return kind == "index", kind != "index"
}

// unclaimed tells whether rows of a table lie where none of the entries leads.
func (s *survey) unclaimed(entries []entry) bool {
	claimed := map[int64]bool{}
	for _, e := range entries {
		claimed[e.root] = true
	}
	for at := int64(2); at <= s.pages; at++ {
		table := s.kind[at] == tableLeaf || s.kind[at] == tableBranch
		if table && s.filled[at] && !s.below[at] && !claimed[at] && !s.schema[at] && !s.free[at] {
			return true
		}
	}
	return false
}
