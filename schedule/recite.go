package schedule

import "math"

// A composition is learned and kept by the voice too: padhant, its bols spoken
// on the tala (common practice, no source). What is spoken is not lost so fast;
// but hands that did not play have not become faster.

// recited is the part of what a play adds to the hold that speaking adds (our
// choice).
const recited = 0.5

// recite returns the standing after the piece was spoken. Spoken clear after a
// wait it holds longer from then on; its tempos, stage and interval stay what
// they are.
func (s Standing) recite(p Play) Standing {
	if s.Stage == Untouched || p.Clarity < Clear {
		return s
	}
	s.Belief = s.heldBy(p, float64(p.Day-s.Until()))
	s.Spoken = p.Day
	return s
}

// heldBy returns the belief after a spoken play so many days after the last
// play or spoken one: the same edge on that day, which fades more slowly.
func (b Belief) heldBy(p Play, days float64) Belief {
	waited, hold := b.waited(p.Day), math.Exp(b.Hold)
	edge := b.Edge - lost(waited, hold)
	b.Hold = min(b.Hold+recited*spacing*days/(days+hold), math.Log(longestHold))
	b.Edge = edge + lost(waited, math.Exp(b.Hold))
	return b.rounded()
}
