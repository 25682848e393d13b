package schedule

import (
	"math"
	"math/rand/v2"
	"slices"

	"dohra/repertoire"
)

// The players of an outlook learn and begin at about the pace that the log tells,
// and differ in what cannot be known: how fast they will learn, how well all of
// their pieces hold, and how much better or worse they play from day to day.
// The figures are our choice, such that the ranges held for other lives of the
// trial's players than those of its test.
const (
	paceDoubt = 0.25 // of the speed of learning, ln
	firmDoubt = 0.15 // of what all pieces hold, ln days
	form      = 0.02 // of a day, ln tempo
)

// live runs the player of that number through the days; those after the last draw
// are supplied.
func (a Ahead) live(draw int, days []Rehearsal) end {
	if draw >= draws {
		a.Pieces = append(slices.Clip(a.Pieces), a.supply()...)
		draw = (draws-supplied)/2 + draw - draws
	}
	rng := rand.New(rand.NewPCG(uint64(draw), uint64(a.From)))
	l := a.draw(rng, draw)
	climbs := make([]float64, len(l.claims)) // the true edge of what was never kept; otherwise out of reach
	for i, c := range l.claims {
		if climbs[i] = math.Inf(1); c.climbs() {
			climbs[i] = l.truth[i].Edge
		}
	}
	next := l.live(rng, days)
	e := l.end(a.From+repertoire.Day(a.Days), climbs)
	e.next = next
	return e
}

// draw returns the player of that number. What all pieces have in common is
// spread evenly over the players, so that few will do.
func (a Ahead) draw(rng *rand.Rand, draw int) *life {
	even := func(i int) float64 { return quantile((float64(i%draws) + 0.5) / draws) }
	firm := firmDoubt * even(3*draw+1)
	l := a.newLife(rng.NormFloat64, a.Pieces, func(c Candidate) Belief {
		b := c.Belief
		shift := b.EdgeDoubt * rng.NormFloat64()
		if c.Stage == Untouched {
			shift += a.Pace.Begins
		}
		b.Edge, b.Peak = b.Edge+shift, b.Peak+shift
		b.Hold = max(0, b.Hold+firm+b.HoldDoubt*rng.NormFloat64())
		return b
	})
	l.speed = math.Exp(a.Pace.Speed + paceDoubt*even(draw))
	l.drift, l.form = drift, form
	return l
}

// end returns where the player stands on that day, who climbs from there.
func (l *life) end(day repertoire.Day, climbs []float64) (e end) {
	awake := l.pieces[:len(l.claims)]
	for i, c := range awake {
		edge, _ := l.truth[i].on(day)
		goal := lnOf(c.Goal)
		ready := c.Stage != Untouched && edge >= goal-within
		way := max(learned, goal-lnOf(c.Start))
		e.climbed += max(0, min(edge, goal)-climbs[i]) / way
		switch {
		case ready:
			e.ready++
		case c.Stage >= Kept:
			e.slipped++
		}
	}
	e.hold = Upkeep(awake)
	return e
}
