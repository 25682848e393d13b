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
// say different things of a piece, the one in which it was played later is
// believed; of settings and talas, the one in which anything was.
func Merge(a, b Archive) Archive {
	if older(a.LastDay(), b.LastDay(), a.Plays(), b.Plays(), a, b) {
		a, b = b, a // a is believed
	}
	joined := Archive{Version: archiveVersion, Settings: map[string]int{}}
	maps.Copy(joined.Settings, b.Settings)
	maps.Copy(joined.Settings, a.Settings)
	joined.Absences = a.Absences
	for _, away := range b.Absences {
		joined.Absences = schedule.Leave(joined.Absences, away)
	}
	joined.Talas = union(a.Talas, b.Talas, func(t repertoire.Tala) string { return t.Name })

	joined.Pieces = union(a.Pieces, b.Pieces, func(r Record) string { return r.Title })
	other := map[string]Record{}
	for _, r := range b.Pieces {
		other[repertoire.Fold(r.Title)] = r
	}
	mine := map[string]bool{}
	for _, r := range a.Pieces {
		mine[repertoire.Fold(r.Title)] = true
	}
	for i, r := range joined.Pieces {
		key := repertoire.Fold(r.Title)
		if twin, both := other[key]; both && mine[key] {
			joined.Pieces[i] = mergeRecords(r, twin)
		}
	}
	uncircle(joined.Pieces)
	joined.Concerts = union(a.Concerts, b.Concerts, func(c Concert) string { return c.Name })
	return joined
}

// union returns what is in either list by name, a's where both have it, in the
// order of folded names.
func union[T any](a, b []T, name func(T) string) []T {
	all := slices.Concat(a, b)
	slices.SortStableFunc(all, func(x, y T) int { return foldedOrder(name(x), name(y)) })
	return slices.CompactFunc(all, func(x, y T) bool { return foldedOrder(name(x), name(y)) == 0 })
}

// older reports whether the first of two is to be believed less: its last day
// is earlier, or it has fewer plays, or, so that the order never matters, its
// JSON is the lesser.
func older(lastA, lastB repertoire.Day, playsA, playsB int, a, b any) bool {
	if lastA != lastB || playsA != playsB {
		return cmp.Or(cmp.Compare(lastA, lastB), cmp.Compare(playsA, playsB)) < 0
	}
	textA, _ := json.Marshal(a)
	textB, _ := json.Marshal(b)
	return bytes.Compare(textA, textB) < 0
}

// mergeRecords joins what two files say of one piece.
func mergeRecords(a, b Record) Record {
	if older(a.lastDay(), b.lastDay(), len(a.Plays), len(b.Plays), a, b) {
		a, b = b, a
	}
	a.Added = min(a.Added, b.Added)
	a.Plays = mergePlays(a.Plays, b.Plays, mergeDay)
	return a
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
