package schedule

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"dohra/repertoire"
)

// A Concert is a dated set of pieces with a performance tempo each.
type Concert struct {
	Name    string
	Day     repertoire.Day
	Minutes int      // of its slot
	Talas   []string // that it is to be in; none for any
	Set     []Place  // in the order in which it is played
	Note    string   // what happened
	Edited  int64    // when the player last changed it, Unix seconds, or 0
}

// A Place is a piece's in a set. It lasts its rounds, or its minutes where they
// are given, or as many rounds as its kind commonly has.
type Place struct {
	Piece   int64
	Tempo   int // matras/min
	Rounds  int // or 0
	Minutes int // or 0
}

// The limits of a concert.
const (
	MaxSlot   = 480 // minutes
	MaxRounds = 200
	maxSet    = 200 // pieces
)

// Check refuses a concert without a name or a day, a slot outside 1 to MaxSlot
// minutes, and a set that has a piece twice or a place out of range.
func (c Concert) Check() error {
	if name, err := repertoire.CleanTitle(c.Name); err != nil || name != c.Name {
		return fmt.Errorf("%q is no name of a concert", c.Name)
	}
	if note, err := repertoire.CleanNote(c.Note); err != nil || note != c.Note {
		return errors.New("the note of a concert is one line")
	}
	if c.Day == repertoire.Never {
		return errors.New("a concert has a day")
	}
	if c.Minutes < 1 || c.Minutes > MaxSlot {
		return fmt.Errorf("the slot of %d minutes is outside 1 to %d", c.Minutes, MaxSlot)
	}
	if len(c.Set) > maxSet {
		return fmt.Errorf("a set has at most %d pieces", maxSet)
	}
	for i, p := range c.Set {
		if slices.ContainsFunc(c.Set[:i], func(other Place) bool { return other.Piece == p.Piece }) {
			return errors.New("a piece stands in the set twice")
		}
		if err := p.Check(); err != nil {
			return err
		}
	}
	return nil
}

// Check refuses a place whose tempo, rounds or minutes are out of range.
func (p Place) Check() error {
	switch {
	case p.Rounds < 0 || p.Rounds > MaxRounds:
		return fmt.Errorf("rounds %d are outside 1 to %d", p.Rounds, MaxRounds)
	case p.Minutes < 0 || p.Minutes > MaxSlot:
		return fmt.Errorf("minutes %d are outside 1 to %d", p.Minutes, MaxSlot)
	case p.Rounds > 0 && p.Minutes > 0:
		return errors.New("a place has rounds or minutes, not both")
	}
	return repertoire.CheckTempo("performance tempo", p.Tempo)
}

// At returns where the piece stands in the set, or -1.
func (c Concert) At(piece int64) int {
	return slices.IndexFunc(c.Set, func(p Place) bool { return p.Piece == piece })
}

// Awake returns the concert without the pieces of its set that are set aside, which
// no day plans and of which nothing is foreseen.
func (c Concert) Awake(aside map[int64]bool) Concert {
	c.Set = slices.DeleteFunc(slices.Clone(c.Set), func(p Place) bool { return aside[p.Piece] })
	return c
}

// setAside returns the pieces that rest on the day, or were not there yet.
func setAside(day repertoire.Day, pieces []Candidate) map[int64]bool {
	aside := map[int64]bool{}
	for _, c := range pieces {
		if !c.Awake(day) {
			aside[c.ID] = true
		}
	}
	return aside
}

// once are the kinds that a set commonly brings one time; the others have
// manyRounds (our choice).
var once = []repertoire.Kind{"uthan", "mohra", "mukhda", "gat", "tukda", "tihai", "chakradar", "paran"}

const manyRounds = 4

// Lasts returns the rounds of a piece at its place and the seconds they take; 0
// of each that is not known.
func (p Place) Lasts(of repertoire.Piece) (rounds, seconds int) {
	if rounds = p.Rounds; rounds == 0 {
		if rounds = manyRounds; slices.Contains(once, of.Kind) {
			rounds = 1
		}
	}
	length := 60 * of.Matras
	switch {
	case p.Minutes > 0 && length == 0:
		return 0, 60 * p.Minutes
	case p.Minutes > 0:
		return max(1, 60*p.Minutes*p.Tempo/length), 60 * p.Minutes
	}
	return rounds, (rounds*length + p.Tempo - 1) / p.Tempo
}

// An Item is a place of the running order.
type Item struct {
	Place
	Of      Candidate
	Starts  int // seconds after the beginning, or Unknown after a piece of no known length
	Rounds  int // or 0 where that is not known
	Seconds int // or 0 where that is not known
}

// Unknown is a time of the running order that is not known.
const Unknown = -1

// Running returns the set with the time at which each piece begins.
func (c Concert) Running(pieces map[int64]Candidate) []Item {
	starts := 0
	items := make([]Item, len(c.Set))
	for i, p := range c.Set {
		of := pieces[p.Piece]
		rounds, seconds := p.Lasts(of.Piece)
		items[i] = Item{p, of, starts, rounds, seconds}
		if seconds == 0 || starts == Unknown {
			starts = Unknown
		} else {
			starts += seconds
		}
	}
	return items
}

// Length returns the seconds that are known of a running order, and how many
// pieces are of no known length.
func Length(items []Item) (seconds, unknown int) {
	for _, i := range items {
		seconds += i.Seconds
		if i.Seconds == 0 {
			unknown++
		}
	}
	return seconds, unknown
}

// root returns the first piece of a piece's family.
func root(piece int64, pieces map[int64]Candidate) int64 {
	for range pieces { // there may be no circle, and no longer way
		after := pieces[piece].After
		if _, there := pieces[after]; !there {
			break
		}
		piece = after
	}
	return piece
}

// Proposed returns the set in an order that a solo commonly has: talas one after
// another, families together and in the order of their kinds, slow before fast,
// and a tihai at the end of its family (common practice, no source).
func (c Concert) Proposed(pieces map[int64]Candidate) []Place {
	type family struct{ tala, kind, tempo, root int }
	families := map[int64]family{}
	key := func(p Place) family {
		of := pieces[p.Piece]
		return family{c.talaOrder(of.Tala, pieces), of.Kind.Order(), p.Tempo, int(root(p.Piece, pieces))}
	}
	byKey := func(a, b family) int {
		return cmp.Or(cmp.Compare(a.tala, b.tala), cmp.Compare(a.kind, b.kind), cmp.Compare(a.tempo, b.tempo), cmp.Compare(a.root, b.root))
	}
	for _, p := range c.Set {
		mine := key(p)
		if first, there := families[int64(mine.root)]; !there || byKey(mine, first) < 0 {
			families[int64(mine.root)] = mine
		}
	}
	set := slices.Clone(c.Set)
	slices.SortStableFunc(set, func(a, b Place) int {
		mineA, mineB := key(a), key(b)
		return cmp.Or(byKey(families[int64(mineA.root)], families[int64(mineB.root)]), byKey(mineA, mineB))
	})
	return set
}

// talaOrder returns the place of a tala: among those of the concert, or else by
// the first piece of the set that is in it.
func (c Concert) talaOrder(tala string, pieces map[int64]Candidate) int {
	if i := slices.Index(c.Talas, tala); i >= 0 {
		return i
	}
	return len(c.Talas) + slices.IndexFunc(c.Set, func(p Place) bool { return pieces[p.Piece].Tala == tala })
}

// Fills returns the pieces that are kept on a day, are not in the set and, at their
// goal tempo, fit into so many seconds, the surest to hold until the concert first.
func (c Concert) Fills(on repertoire.Day, seconds int, all []Candidate) []Item {
	var items []Item
	for _, of := range all {
		p := Place{Piece: of.ID, Tempo: of.Goal}
		rounds, takes := p.Lasts(of.Piece)
		fits := takes > 0 && takes <= seconds && (len(c.Talas) == 0 || slices.Contains(c.Talas, of.Tala))
		if fits && of.StageOn(on, of.Goal) == Kept && !of.Rests(c.Day) && c.At(of.ID) < 0 {
			items = append(items, Item{Place: p, Of: of, Rounds: rounds, Seconds: takes})
		}
	}
	slices.SortStableFunc(items, func(a, b Item) int {
		return cmp.Compare(a.Of.missing(c.Day, a.Tempo), b.Of.missing(c.Day, b.Tempo))
	})
	return items
}
