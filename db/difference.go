package db

import (
	"slices"
	"strings"

	"dohra/repertoire"
)

// The states of a piece in a change.
const (
	New     = "new"
	Changed = "changed"
	Same    = "same"
	Gone    = "gone"
)

// A Change is what becomes of one piece.
type Change struct {
	Title   string
	State   string
	Plays   int    // how many more
	Differs string // in what
}

// Changes returns what becomes of every piece, by title.
func Changes(before, after Archive) []Change {
	old, found := map[string]Record{}, map[string]bool{}
	for _, r := range before.Pieces {
		old[repertoire.Fold(r.Title)] = r
	}
	var all []Change
	for _, r := range after.Pieces {
		key := repertoire.Fold(r.Title)
		was, known := old[key]
		found[key] = true
		c := Change{Title: r.Title, State: New, Plays: len(r.Plays) - len(was.Plays)}
		if known {
			c.State, c.Differs = Same, r.differs(was)
			if c.Differs != "" || samePlays(r.Plays, was.Plays) < max(len(r.Plays), len(was.Plays)) {
				c.State = Changed
			}
		}
		all = append(all, c)
	}
	for _, r := range before.Pieces {
		if !found[repertoire.Fold(r.Title)] {
			all = append(all, Change{Title: r.Title, State: Gone, Plays: -len(r.Plays)})
		}
	}
	slices.SortStableFunc(all, func(a, b Change) int { return foldedOrder(a.Title, b.Title) })
	return all
}

// differs tells in what a record is not as other, apart from its plays.
func (r Record) differs(other Record) string {
	var all []string
	if text := r.Entry.Differs(other.Entry); text != "" {
		all = append(all, text)
	}
	if r.Added != other.Added {
		all = append(all, "added")
	}
	if r.Resting != other.Resting {
		all = append(all, "resting")
	}
	return strings.Join(all, ", ")
}
