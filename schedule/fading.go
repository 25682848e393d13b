package schedule

import (
	"math"
	"slices"

	"dohra/repertoire"
)

// What is being lost of the pieces that were kept.

// fallen is the part of the goal below which a piece that was kept counts as
// gone: to be rebuilt, and no longer to be saved (our choice).
const fallen = 0.85

// A Loss is what a day finds of a piece that was kept.
type Loss struct {
	Candidate
	Untouched int // days since it was last played
	Then      int // the clean tempo when it stood highest, matras/min
	Now       int // the clean tempo that is believed now
	Lasts     int // days until Now is below 85 per cent of the goal; 0 when it is
	Minutes   int // of the turns that would bring it back to its goal
}

// OfGoal returns Now as per cent of the goal.
func (l Loss) OfGoal() int { return 100 * l.Now / l.Goal }

// Fading returns, in the order of pieces, the loss of each that was kept, does
// not rest and is believed slower than it was.
func Fading(day repertoire.Day, pieces []Candidate) (losses []Loss) {
	for _, c := range pieces {
		if c.Stage < Kept || c.Rests(day) {
			continue
		}
		now, _ := c.CleanOn(day)
		l := Loss{
			Candidate: c, Untouched: int(day - c.Last), Then: tempoAt(c.Peak - c.Room), Now: now,
			Lasts: c.lastsAbove(fallen, day, c.Goal), Minutes: c.turnsBack(day, c.Goal) * c.Least(),
		}
		if l.Now < l.Then {
			losses = append(losses, l)
		}
	}
	return losses
}

// lastsAbove returns for how many days from that day, at most longest, the
// clean tempo stays at that part of the goal, in matras/min, or above.
func (b Belief) lastsAbove(part float64, day repertoire.Day, goal int) int {
	reserve := b.Edge - b.Room - math.Log(part*float64(goal))
	if reserve <= 0 {
		return 0
	}
	return int(min(max(0, lasts(reserve, math.Exp(b.Hold))-b.waited(day)), longest))
}

// turnsBack returns how many turns, each with one play near the edge, bring the
// piece within reach of its goal, as the belief learns: at least one.
func (b Belief) turnsBack(day repertoire.Day, goal int) int {
	edge, _ := b.on(day)
	n := 0
	for n == 0 || edge < lnOf(goal)-within {
		edge += learned + relearned*max(0, b.Peak-edge)
		n++
	}
	return n
}

// standingPlace is how many minutes the standing place for an old piece has (our
// choice).
const standingPlace = 4

// KeepPlace gives the standing place of the day to the old piece that was left
// alone longest, of those that ask for a turn and fit into it: it comes before
// all others, however few the minutes. It returns the piece, or 0.
func KeepPlace(day repertoire.Day, claims []Claim) (piece int64) {
	at := -1
	for i, c := range claims {
		old := c.Stage >= Kept && c.Wants <= day && c.Least <= standingPlace
		if old && (at < 0 || c.Last < claims[at].Last || c.Last == claims[at].Last && c.Piece < claims[at].Piece) {
			at = i
		}
	}
	if at < 0 {
		return 0
	}
	claims[at].Place = true
	return claims[at].Piece
}

// placed puts what has the standing place first.
func placed(ranked []Claim) []Claim {
	if at := slices.IndexFunc(ranked, func(c Claim) bool { return c.Place }); at > 0 {
		c := ranked[at]
		copy(ranked[1:], ranked[:at])
		ranked[0] = c
	}
	return ranked
}
