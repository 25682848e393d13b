package schedule

import (
	"cmp"
	"slices"

	"dohra/repertoire"
)

// In which order a day is played: an easy kept piece to warm up, the hardest
// climb while fresh, then kinds and techniques alternated, and a kept piece at
// full tempo to end (common practice, no source).

// order puts turns, given in order of value, in order of playing.
func order(turns []Turn) []Turn {
	rest := deck(slices.Clone(turns))
	end, ends := rest.take(fastest, isKept)
	if ends && len(rest) == 0 {
		return []Turn{end}
	}
	var ordered []Turn
	if warm, ok := rest.take(slowest, isKept); ok {
		warm.Why = "warm up: " + warm.Why
		ordered = append(ordered, warm)
	} else if first, ok := rest.take(slowest, anyTurn); ok {
		ordered = append(ordered, first)
	}
	if hard, ok := rest.take(hardest, climbs); ok {
		ordered = append(ordered, hard)
	}
	for len(rest) > 0 {
		ordered = append(ordered, rest.alternate(ordered[len(ordered)-1], end.Kind))
	}
	if ends {
		end.Why = "to end: " + end.Why
		ordered = append(ordered, end)
	}
	sunder(ordered)
	return ordered
}

// sunder changes the places of turns that stand beside one of their family with
// others, where that parts them; the first two and the last keep theirs.
func sunder(turns []Turn) {
	beside := func(i int) bool { return i > 0 && i < len(turns) && related(turns[i-1], turns[i]) }
	meets := func(i int) bool { return beside(i) || beside(i+1) }
	for i := 2; i < len(turns)-1; i++ {
		for j := 2; j < len(turns)-1 && meets(i); j++ {
			turns[i], turns[j] = turns[j], turns[i]
			if meets(i) || meets(j) {
				turns[i], turns[j] = turns[j], turns[i]
			}
		}
	}
}

func isKept(t Turn) bool    { return t.stage == Kept }
func climbs(t Turn) bool    { return t.stage != Kept }
func anyTurn(Turn) bool     { return true }
func slowest(a, b Turn) int { return cmp.Compare(a.Target, b.Target) }
func fastest(a, b Turn) int { return cmp.Compare(b.Target, a.Target) }
func hardest(a, b Turn) int { return cmp.Compare(b.steps, a.steps) }

// A deck is the turns that have no place yet, in order of value.
type deck []Turn

// take removes the best of the turns that fit; of equals, the one worth most.
func (d *deck) take(better func(a, b Turn) int, fits func(Turn) bool) (Turn, bool) {
	best := -1
	for i, t := range *d {
		if fits(t) && (best < 0 || better(t, (*d)[best]) < 0) {
			best = i
		}
	}
	if best < 0 {
		return Turn{}, false
	}
	t := (*d)[best]
	*d = slices.Delete(*d, best, best+1)
	return t, true
}

// related reports whether two pieces are of one family, as far as neighbours go.
func related(a, b Turn) bool {
	return a.After == b.ID || b.After == a.ID || a.After != 0 && a.After == b.After
}

// alternate removes a turn of another family, kind and technique than the last,
// or at least of another kind. The kind of which most are left goes first, counting
// the one that will end the day, so that the kinds do not run out unevenly.
func (d *deck) alternate(last Turn, endKind repertoire.Kind) Turn {
	left := map[repertoire.Kind]int{endKind: 1}
	for _, t := range *d {
		left[t.Kind]++
	}
	mostLeft := func(a, b Turn) int { return cmp.Compare(left[b.Kind], left[a.Kind]) }
	otherKind := func(t Turn) bool { return t.Kind != last.Kind }
	otherBoth := func(t Turn) bool { return otherKind(t) && (t.technique == "" || t.technique != last.technique) }
	stranger := func(t Turn) bool { return otherKind(t) && !related(t, last) }
	strange := func(t Turn) bool { return otherBoth(t) && !related(t, last) }
	for _, fits := range []func(Turn) bool{strange, stranger, otherBoth, otherKind} {
		if t, ok := d.take(mostLeft, fits); ok {
			return t
		}
	}
	t, _ := d.take(mostLeft, anyTurn)
	return t
}
