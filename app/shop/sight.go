package shop

import (
	"skegworth/data/shopfile"
)

// versions are those that rows were given.
type versions = map[shopfile.Key]int64

// glimpse is how a row stood up to a state of the shop, before others changed it.
type glimpse struct {
	until int
	row   shopfile.Seen
}

// memory is what somebody at a field still has before their eyes after the shop was read anew: their change
// is made as of what they saw, so that it does not write over what they never saw.
type memory struct {
	state  int // goes up each time others' changes were read
	past   map[shopfile.Key][]glimpse
	asSeen int                               // the state that whoever writes has before them, 0 for the present one
	open   func() (oldest int, holding bool) // the oldest state still before somebody's eyes; nil where nobody looks
}

// Seen is a number for the state of the shop that is on show now.
func (s *Shop) Seen() int { return s.memory.state + 1 }

// AsSeen makes changes for somebody who has an earlier state before them. What others changed since, in the
// same column of the same row, makes it a [Clash].
func (s *Shop) AsSeen(state int, do func() error) error {
	before := s.memory.asSeen
	s.memory.asSeen = state
	defer func() { s.memory.asSeen = before }()
	return do()
}

// KeepSeen asks, each time others' changes are read, for the oldest state that is still before somebody's eyes.
func (s *Shop) KeepSeen(oldest func() (state int, holding bool)) { s.memory.open = oldest }

// remember keeps how rows stood that others changed, as long as somebody has them before their eyes.
func (s *Shop) remember(before, after *shopfile.Contents, wrote versions) {
	m := &s.memory
	if m.open == nil {
		return
	}
	oldest, holding := m.open()
	if !holding {
		m.past = nil
		m.state++
		return
	}
	for k, list := range m.past {
		for len(list) > 0 && list[0].until < oldest {
			list = list[1:]
		}
		if m.past[k] = list; len(list) == 0 {
			delete(m.past, k)
		}
	}
	state, found := s.Seen(), false
	for k, row := range before.Since(after) {
		if version, mine := wrote[k]; mine {
			if now, ok := after.Find(k); ok && now.Version == version {
				continue
			}
		}
		if m.past == nil {
			m.past = map[shopfile.Key][]glimpse{}
		}
		m.past[k] = append(m.past[k], glimpse{state, row})
		found = true
	}
	if found {
		m.state++
	}
}

// sight is what whoever changes something now has before them.
func (s *Shop) sight() shopfile.Sight {
	var known versions
	out := shopfile.Sight{
		Read: s.asRead,
		Has: func(k shopfile.Key) (int64, bool) {
			if known == nil {
				known = s.contents.Versions()
			}
			version, ok := known[k]
			return version, ok
		},
	}
	if s.settling != nil {
		out.Settled = map[shopfile.Key]shopfile.Choice{s.settling.key: s.settling.choice}
		return out
	}
	if s.memory.asSeen > 0 && s.memory.asSeen < s.Seen() {
		out.Shown = s.shown
	}
	return out
}

// shown is a row as it stood in the state that whoever writes has before them; false where it stands so still.
func (s *Shop) shown(k shopfile.Key) (shopfile.Seen, bool) {
	for _, g := range s.memory.past[k] {
		if g.until >= s.memory.asSeen {
			return g.row, true
		}
	}
	return shopfile.Seen{}, false
}

// asRead is a row as it was read at a version.
func (s *Shop) asRead(k shopfile.Key, version int64) (shopfile.Seen, bool) {
	if c := s.settling; c != nil && c.key == k && c.clash.known && c.clash.theirs.Version == version {
		return c.clash.theirs, true
	}
	if now, ok := s.contents.Find(k); ok && now.Version == version {
		return now, true
	}
	for _, g := range s.memory.past[k] {
		if g.row.Version == version {
			return g.row, true
		}
	}
	return shopfile.Seen{}, false
}
