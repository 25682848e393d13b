package schedule

import (
	"fmt"
	"slices"
)

// The way through the set of the nearest concert, as one: a run-through, lightly
// on the day before, or to warm up on the day itself.

// Settle decides on the way through the set for a day of that many minutes, once
// and before any claim is made. A run-through is whole or there is none, and then
// the day is like any other; on a light day the pieces are shortened to fit.
// stood returns a piece as it stood when the day began.
func (r Rehearsal) Settle(minutes int, stood func(piece int64) (Candidate, bool)) Rehearsal {
	r.pass = nil
	if !r.Runs && !r.Light() {
		return r
	}
	var wanted []int
	for _, p := range r.Next.Set {
		c, there := stood(p.Piece)
		if !there {
			return r
		}
		wanted = append(wanted, r.passMinutes(c))
	}
	if r.Light() || sum(wanted) <= minutes {
		r.pass = fitted(minutes, wanted)
	}
	return r
}

// among returns what finds a piece among those at these places.
func among(all []Candidate, at map[int64]int) func(piece int64) (Candidate, bool) {
	return func(piece int64) (c Candidate, there bool) {
		i, there := at[piece]
		if there {
			c = all[i]
		}
		return c, there
	}
}

// passMinutes returns what the candidate takes of the day's way through the set.
func (r Rehearsal) passMinutes(c Candidate) int {
	if r.left() == 0 {
		return warmUp
	}
	if _, seconds := r.calls[c.ID].Lasts(c.Piece); seconds > 0 {
		return minutes(seconds)
	}
	return r.prepared(c).Least()
}

// passes reports whether the day goes through the set, and the piece is of it.
func (r Rehearsal) passes(piece int64) bool {
	at := r.Next.At(piece)
	return at >= 0 && at < len(r.pass)
}

// fitted returns the minutes of the pieces of a way through a set, in its order,
// given those that they want: the longest are shortened until all fit. When there
// are more pieces than minutes, the last have none.
func fitted(minutes int, wanted []int) []int {
	lengths := slices.Clone(wanted[:min(len(wanted), minutes)])
	for over := sum(lengths) - minutes; over > 0; over-- {
		lengths[slices.Index(lengths, slices.Max(lengths))]--
	}
	return lengths
}

func sum(of []int) (n int) {
	for _, i := range of {
		n += i
	}
	return n
}

// passTurns returns the turns of the way through the set, with which the chosen
// begin.
func (r Rehearsal) passTurns(chosen []Candidate) []Turn {
	turns := make([]Turn, len(r.pass))
	for i, c := range chosen[:len(r.pass)] {
		target := r.Target(c)
		turns[i] = Turn{Candidate: c, Begin: target, Target: target, Minutes: r.pass[i], Why: r.whyPasses(c, target), Run: !r.Light(), densest: densest(c.Bols)}
		if r.Light() && c.Stage != Untouched {
			turns[i].Begin = slower(target, warmBy)
		}
	}
	return turns
}

// whyPasses says what the way through the set is for, and the place of a piece in
// it.
func (r Rehearsal) whyPasses(c Candidate, target int) string {
	name, need := r.Next.Name, r.calls[c.ID].Tempo
	place := fmt.Sprintf("%d of %d", r.Next.At(c.ID)+1, len(r.Next.Set))
	if r.Light() {
		what := "the set once, lightly"
		if r.left() == 0 {
			what = "to warm up"
		}
		return fmt.Sprintf("%s %s: %s, %s", name, ago(-r.left()), what, place)
	}
	if target < need {
		return fmt.Sprintf("run-through of %s, %s: as it goes, needs %d", name, place, need)
	}
	return fmt.Sprintf("run-through of %s, %s", name, place)
}
