package db

import (
	"bytes"
	"cmp"
	"encoding/json"
	"maps"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// Merge joins two files of one player, such as a laptop's and a desktop's. It
// does not matter which is first. A piece is known by its title. Where the two
// say different things of a piece, the one that changed it later is believed, or
// else the one in which it was played later; likewise of a concert, or else the
// one in which anything was, as of settings and talas.
func Merge(a, b Archive) Archive {
	order := a.weight().compare(b.weight())
	if order < 0 || order == 0 && compareTexts(a, b) < 0 {
		a, b, order = b, a, -order // a is believed
	}
	joined := Archive{Version: archiveVersion, Settings: map[string]int{}}
	maps.Copy(joined.Settings, b.Settings)
	maps.Copy(joined.Settings, a.Settings)
	joined.Absences = a.Absences
	for _, away := range b.Absences {
		joined.Absences = schedule.Leave(joined.Absences, away)
	}
	joined.Talas = union(a.Talas, b.Talas, func(t repertoire.Tala) string { return t.Name }, first)
	joined.Pieces = union(a.Pieces, b.Pieces, func(r Record) string { return r.Title }, mergeRecords)
	uncircle(joined.Pieces)
	joined.Concerts = union(a.Concerts, b.Concerts, func(c Concert) string { return c.Name }, func(x, y Concert) Concert {
		if cmp.Or(cmp.Compare(x.Edited, y.Edited), order, compareTexts(x, y)) < 0 {
			return y
		}
		return x
	})
	return joined
}

// union returns what is in either list by name, in the order of folded names,
// and what join makes of what both have.
func union[T any](a, b []T, name func(T) string, join func(a, b T) T) (joined []T) {
	all := slices.Concat(a, b)
	slices.SortStableFunc(all, func(x, y T) int { return foldedOrder(name(x), name(y)) })
	for _, one := range all {
		if last := len(joined) - 1; last >= 0 && foldedOrder(name(joined[last]), name(one)) == 0 {
			joined[last] = join(joined[last], one)
		} else {
			joined = append(joined, one)
		}
	}
	return joined
}

func first[T any](a, _ T) T { return a }

// A weight is by what one file is believed more than another: when the thing was
// changed, when it, or anything, was played last, and how often.
type weight struct {
	edited int64
	last   repertoire.Day
	plays  int
}

func (w weight) compare(other weight) int {
	return cmp.Or(cmp.Compare(w.edited, other.edited), cmp.Compare(w.last, other.last), cmp.Compare(w.plays, other.plays))
}

func (a Archive) weight() weight { return weight{last: a.LastDay(), plays: a.Plays()} }

func (r Record) weight() weight { return weight{r.Edited, r.lastDay(), len(r.Plays)} }

// mergeRecords joins what two files say of one piece.
func mergeRecords(a, b Record) Record {
	if cmp.Or(a.weight().compare(b.weight()), compareSaid(a, b)) < 0 {
		a, b = b, a
	}
	a.Added = min(a.Added, b.Added)
	a.Plays = mergePlays(a.Plays, b.Plays, mergeDay)
	return a
}

// compareSaid gives two records an order by what the player says of the piece, so
// that it never matters which is first. What comes after nothing is the later,
// for a merge may have freed it from a circle.
func compareSaid(a, b Record) int {
	after := cmp.Compare(b.After, a.After)
	for _, r := range []*Record{&a, &b} {
		r.After, r.Added, r.Plays = "", 0, nil
	}
	return cmp.Or(compareTexts(a, b), after)
}

// compareTexts compares as JSON.
func compareTexts(a, b any) int {
	textA, _ := json.Marshal(a)
	textB, _ := json.Marshal(b)
	return bytes.Compare(textA, textB)
}

// mergePlays joins the plays of a piece, day by day as join does.
func mergePlays(a, b []Play, join func(a, b []Play) []Play) []Play {
	joined := make([]Play, 0, max(len(a), len(b)))
	for len(a) > 0 || len(b) > 0 {
		var day repertoire.Day
		switch {
		case len(a) == 0:
			day = b[0].Day
		case len(b) == 0:
			day = a[0].Day
		default:
			day = min(a[0].Day, b[0].Day)
		}
		nA, nB := playedOn(a, day), playedOn(b, day)
		joined = append(joined, join(a[:nA], b[:nB])...)
		a, b = a[nA:], b[nB:]
	}
	return joined
}

// playedOn returns how many of the first plays were on that day.
func playedOn(plays []Play, day repertoire.Day) int {
	n := 0
	for n < len(plays) && plays[n].Day == day {
		n++
	}
	return n
}

// mergeDay joins the plays of one day, whichever is first: what both begin
// with, then what one of them goes on with, then what only the other has.
func mergeDay(a, b []Play) []Play {
	same := samePlays(a, b)
	both, a, b := a[:same:same], a[same:], b[same:]
	if slices.CompareFunc(a, b, comparePlays) > 0 {
		a, b = b, a
	}
	return append(both, addDay(a, b)...)
}

// addDay adds to the plays of one day those that are not there. Plays that are
// alike in all are one play, unless one side has more of them.
func addDay(a, b []Play) []Play {
	joined := slices.Clone(a)
	have := map[Play]int{}
	for _, p := range a {
		have[p]++
	}
	for _, p := range b {
		if have[p]--; have[p] < 0 {
			joined = append(joined, p)
		}
	}
	return joined
}

func comparePlays(a, b Play) int {
	return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Tempo, b.Tempo), cmp.Compare(a.Clarity, b.Clarity),
		cmp.Compare(a.Minutes, b.Minutes), cmp.Compare(a.Note, b.Note),
		compareBools(a.Sore, b.Sore), compareBools(a.Spoken, b.Spoken), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Through, b.Through))
}

func compareBools(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
