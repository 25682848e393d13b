package schedule

import (
	"math"

	"dohra/repertoire"
)

// A Belief is what a piece's plays tell of the player's hands: their edge, the
// tempo that is an even chance to come out clear, and how long the piece holds
// when it is left alone. Both are normal distributions on a scale of natural
// logarithms. Each play is taken in by Bayes' rule, as one of six grades that
// part the scale between them (ordinal probit regression: P. McCullagh,
// "Regression models for ordinal data", J. R. Stat. Soc. B 42, 1980; from
// memory), the result held to a normal distribution.
type Belief struct {
	Of        repertoire.Day // the day of which it speaks: the last play, or Never
	Edge      float64        // ln of a tempo in matras/min
	EdgeDoubt float64        // its standard deviation
	Hold      float64        // ln of the days in which a tenth of the tempo goes
	HoldDoubt float64        // its standard deviation
	Peak      float64        // the highest that Edge was
	Room      float64        // how far below the edge the clean tempo lies, ln tempo
}

// The figures of the model: our choice, round numbers that did well in the trial.
// What comes of halving and doubling each stands in DEVELOPERS.md.
const (
	spread      = 0.05  // of one play around the edge, ln tempo: a mark of the ladder
	newDoubt    = 0.25  // of a new piece's edge, ln tempo: six marks
	newHold     = 30    // days that a new piece holds
	holdDoubt   = 0.8   // of that: a factor of two either way
	drift       = 0.006 // what a day without a play adds to the doubt of the edge
	learned     = 0.035 // what a play near the edge adds to it: most of a mark
	relearned   = 0.25  // the part of what was lost that it brings back
	unsettled   = 0.03  // what a play near the edge adds to the doubt of it
	spacing     = 0.25  // what a clear play after a long wait adds to Hold
	shock       = 3     // standard deviations by which one play can disappoint
	longestHold = 3650  // days
	nearby      = 0.25  // how far from the edge a play no longer teaches, ln tempo
)

// grades are the places, in ln tempo above the tempo that was played, where the
// edge begins to sound broken, smudged, strained, clear and effortless.
var grades = [...]float64{-0.18, -0.11, -0.05, 0, 0.09}

// even is how far below the edge the clean tempo lies at first, the one that
// comes out clear 85 times in a hundred: the 85 per cent point of the spread.
const even = 1.0364 * spread

// roomUp and roomDown are the steps by which Room follows what came of targets,
// in ln tempo: a weighted up-down staircase, which settles where step up · p =
// step down · (1-p) (C. Kaernbach, "Simple adaptive testing with the weighted
// up-down method", Perception & Psychophysics 49, 1991; from memory), p being 85
// per cent. So targets come out clear as often as they should even where the
// model is wrong: with a player who has stopped learning, or grades by a
// measure of their own.
const (
	roomUp   = 0.001
	roomDown = roomUp * 85 / 15
)

// firstBelief is what is believed of a piece before its first play, at the tempo
// that the player thought right for it.
func firstBelief(tempo int) Belief {
	edge := lnOf(tempo) + even
	return Belief{repertoire.Never, edge, newDoubt, math.Log(newHold), holdDoubt, edge, even}.rounded()
}

// waited returns the days from the day it speaks of, 0 for one before.
func (b Belief) waited(day repertoire.Day) float64 {
	if b.Of == repertoire.Never {
		return 0
	}
	return max(0, float64(day-b.Of))
}

// on returns the edge on that day and its doubt, if the piece is left alone.
func (b Belief) on(day repertoire.Day) (edge, doubt float64) {
	days, hold := b.waited(day), math.Exp(b.Hold)
	viaHold := pull(days, hold) * b.HoldDoubt
	return b.Edge - lost(days, hold), math.Sqrt(b.EdgeDoubt*b.EdgeDoubt + viaHold*viaHold + drift*drift*days)
}

// after returns the belief after a play. share is 1 for a play of the piece
// itself, less for one of a relative that has only that share of its phrases.
func (b Belief) after(p Play, share float64) Belief {
	days, at := b.waited(p.Day), lnOf(p.Tempo)
	heard := b.hear(p, days, at, share)
	heard.Of = p.Day
	heard.Room = b.room(p, at, share)
	return heard.learn(p, days, at, share).rounded()
}

// hear takes in how the play sounded. A surprise moves the edge and, after a
// wait, what it says of the hold, each by its part in the doubt.
func (b Belief) hear(p Play, days, at, share float64) Belief {
	hold := math.Exp(b.Hold)
	edge, doubt := b.on(p.Day)
	low, high := b.sounds(p, at, edge, share)
	scale := math.Hypot(doubt, spread/share)
	shift, shrink := cut((low-edge)/scale, (high-edge)/scale)
	shift = max(shift, -shock)
	onEdge := doubt * doubt / scale
	onHold := pull(days, hold) * b.HoldDoubt * b.HoldDoubt / scale
	b.Edge = edge + onEdge*shift
	if p.Clarity >= Clear && share == 1 {
		b.Edge = max(b.Edge, at) // for it was just played
	}
	b.Peak += min(0, b.EdgeDoubt*b.EdgeDoubt/scale*shift) // it may never have been so high
	b.Hold += onHold * shift
	b.EdgeDoubt = math.Sqrt(doubt*doubt - onEdge*onEdge*shrink)
	b.HoldDoubt = math.Sqrt(b.HoldDoubt*b.HoldDoubt - onHold*onHold*shrink)
	return b
}

// sounds returns between which places the edge sounded to be. A clear play below
// the clean tempo, and one of a relative, only say that it is not lower.
func (b Belief) sounds(p Play, at, edge, share float64) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if p.Clarity > Lost {
		low = at + grades[p.Clarity-1]
	}
	slow := at < edge-b.Room-halfMark
	if p.Clarity < Clear || p.Clarity == Clear && !slow && share == 1 {
		high = at + grades[p.Clarity]
	}
	return low, high
}

// room returns Room after a play. One below the clean tempo that was clear, and
// one above it that was not, show nothing.
func (b Belief) room(p Play, at, share float64) float64 {
	edge, _ := b.on(p.Day)
	off := at - (edge - b.Room)
	switch {
	case p.Clarity >= Clear && off > -halfMark:
		return max(b.Room-share*roomUp, 0)
	case p.Clarity < Clear && off < halfMark:
		return b.Room + share*roomDown
	}
	return b.Room
}

// halfMark is about half a mark of the ladder, ln tempo.
const halfMark = 0.02

// learn adds what the play taught: nothing far from the edge; near it a little
// that is new, and a good part of what was there before, for what was once known
// is relearned faster (savings: Ebbinghaus, 1885; from memory). Clear after a
// wait, the piece holds longer.
func (b Belief) learn(p Play, days, at, share float64) Belief {
	off := (at - b.Edge) / nearby
	near := share * max(0, 1-off*off)
	b.Peak = max(b.Peak, b.Edge)
	b.Edge += near * (learned + relearned*(b.Peak-b.Edge))
	b.Peak = max(b.Peak, b.Edge)
	b.EdgeDoubt = math.Sqrt(b.EdgeDoubt*b.EdgeDoubt + near*unsettled*unsettled)
	if p.Clarity >= Clear {
		b.Hold += near * spacing * days / (days + math.Exp(b.Hold))
	}
	return b
}

// rounded makes the belief the same on every machine, whose logarithms may
// differ in the last digit, and keeps the hold between a day and ten years.
func (b Belief) rounded() Belief {
	b.Hold = min(max(b.Hold, 0), math.Log(longestHold))
	for _, x := range []*float64{&b.Edge, &b.EdgeDoubt, &b.Hold, &b.HoldDoubt, &b.Peak, &b.Room} {
		*x = math.Round(*x*1e6) / 1e6
	}
	return b
}

// valid reports whether the belief can follow from plays.
func (b Belief) valid() bool {
	for _, x := range []float64{b.Edge, b.EdgeDoubt, b.Hold, b.HoldDoubt, b.Peak, b.Room} {
		if !(x > -1 && x < 100) {
			return false
		}
	}
	return b.EdgeDoubt >= 0 && b.HoldDoubt >= 0
}

// within is how near to the goal counts as there, in ln tempo: 3 per cent.
const within = 0.03

// missing returns the chance that the edge is below the goal, in matras/min, on
// that day.
func (b Belief) missing(day repertoire.Day, goal int) float64 {
	edge, doubt := b.on(day)
	return cumulative((lnOf(goal) - within - edge) / doubt)
}

// tempoAt returns the tempo in matras/min at a place on the scale of a belief.
func tempoAt(ln float64) int {
	return min(max(int(math.Round(math.Exp(ln))), repertoire.MinTempo), repertoire.MaxTempo)
}

// lnOf returns a tempo in matras/min as its place on the scale of a belief.
func lnOf(tempo int) float64 { return math.Log(float64(tempo)) }
