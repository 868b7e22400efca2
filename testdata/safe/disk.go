//go:build linux && amd64

package main

import (
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sort"
	"syscall"
)

// disk remembers what of a folder would still be there if the power went now: of each file what it held when
// it was last flushed, of each folder the names it had when it was last flushed itself. It is told of every
// call before that is made, one at a time.
type disk struct {
	root  *node
	nodes map[uint64]*node // by inode, those that have a name
	lies  bool             // flushing does nothing, as on a disk that only says it did
}

// node is a file or a folder.
type node struct {
	folder bool
	mode   fs.FileMode
	kept   []byte             // of a file
	names  []map[string]*node // of a folder: first those kept, then what they have become since
}

// sector is what a disk writes whole.
const sector = 512

// newDisk takes all that is in the folder now as safe.
func newDisk(folder string) (*disk, error) {
	d := &disk{nodes: map[uint64]*node{}}
	err := d.look(folder)
	if err != nil {
		return nil, err
	}
	for _, n := range d.nodes {
		if n.folder {
			n.names = n.names[len(n.names)-1:]
		}
	}
	return d, filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		return d.flush(path)
	})
}

// look takes in which names there are now.
func (d *disk) look(folder string) error {
	seen := map[uint64]bool{}
	var err error
	d.root, err = d.visit(folder, seen)
	for inode := range d.nodes {
		if !seen[inode] {
			delete(d.nodes, inode) // the number may be given to another file
		}
	}
	return err
}

func (d *disk) visit(path string, seen map[uint64]bool) (*node, error) {
	about, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	inode := about.Sys().(*syscall.Stat_t).Ino
	n := d.nodes[inode]
	if n == nil || n.folder != about.IsDir() {
		n = &node{folder: about.IsDir()}
		if n.folder {
			n.names = []map[string]*node{{}}
		}
		d.nodes[inode] = n
	}
	n.mode = about.Mode()
	seen[inode] = true
	if !n.folder {
		return n, nil
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return nil, err
	}
	names := map[string]*node{}
	for _, e := range entries {
		child, err := d.visit(filepath.Join(path, e.Name()), seen)
		if err == nil {
			names[e.Name()] = child
		}
	}
	if !same(names, n.names[len(n.names)-1]) {
		n.names = append(n.names, names)
	}
	return n, nil
}

func same(a, b map[string]*node) bool {
	if len(a) != len(b) {
		return false
	}
	for name, n := range a {
		if b[name] != n {
			return false
		}
	}
	return true
}

// meet takes in a call that is about to be made, or not to be made at all.
func (d *disk) meet(folder string, c call) error {
	if err := d.look(folder); err != nil {
		return err
	}
	if c.kind != "flush" || d.lies {
		return nil
	}
	return d.flush(c.fd)
}

// flush makes what a file holds, or the names of a folder, safe.
func (d *disk) flush(path string) error {
	about, err := os.Stat(path)
	if err != nil {
		return err
	}
	n := d.nodes[about.Sys().(*syscall.Stat_t).Ino]
	switch {
	case n == nil: // it has no name any more
		return nil
	case n.folder:
		n.names = n.names[len(n.names)-1:]
		return nil
	}
	n.kept, err = os.ReadFile(path)
	return err
}

// cut makes the folder what it would be after the power went. With a source of chance, every sector and every
// change of a name that was not flushed may have reached the disk or not, those of one folder in their order;
// without one, nothing has that was not flushed.
func (d *disk) cut(folder string, chance *rand.Rand) error {
	if err := d.look(folder); err != nil {
		return err
	}
	live := map[*node][]byte{}
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		about, err := e.Info()
		if err != nil {
			return err
		}
		live[d.nodes[about.Sys().(*syscall.Stat_t).Ino]], err = os.ReadFile(path)
		return err
	})
	if err != nil {
		return err
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if err := os.RemoveAll(filepath.Join(folder, e.Name())); err != nil {
			return err
		}
	}
	return d.restore(folder, d.root, live, chance, map[*node]string{})
}

func (d *disk) restore(path string, n *node, live map[*node][]byte, chance *rand.Rand, made map[*node]string) error {
	names := n.names[0]
	if chance != nil {
		names = n.names[chance.IntN(len(n.names))]
	}
	sorted := make([]string, 0, len(names))
	for name := range names {
		sorted = append(sorted, name)
	}
	sort.Strings(sorted) // so that one seed does the same again
	for _, name := range sorted {
		child, at := names[name], filepath.Join(path, name)
		switch first, linked := made[child]; {
		case linked:
			if err := os.Link(first, at); err != nil {
				return err
			}
			continue
		case child.folder:
			if err := os.Mkdir(at, 0o700); err != nil {
				return err
			}
			if err := d.restore(at, child, live, chance, made); err != nil {
				return err
			}
		default:
			data := child.kept
			if now, there := live[child]; there && chance != nil {
				data = torn(child.kept, now, chance)
			}
			if err := os.WriteFile(at, data, 0o600); err != nil {
				return err
			}
			made[child] = at
		}
		if err := os.Chmod(at, child.mode.Perm()); err != nil {
			return err
		}
	}
	return nil
}

// torn is a file of which each sector is the old or the new one.
func torn(old, now []byte, chance *rand.Rand) []byte {
	size := len(old)
	if chance.IntN(2) == 0 {
		size = len(now)
	}
	out := make([]byte, size) // a sector that never came to the disk is nothing but zeros
	copy(out, old)
	share := chance.Float64()
	for at := 0; at < size; at += sector {
		if end := min(at+sector, size); at < len(now) && chance.Float64() < share {
			clear(out[at:end])
			copy(out[at:end], now[at:min(end, len(now))])
		}
	}
	return out
}
