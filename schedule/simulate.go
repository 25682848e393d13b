package schedule

import (
	"math"
	"math/rand/v2"

	"dohra/repertoire"
)

// Simulated players are as the belief has it, each with true hands drawn from
// it. They learn and begin at about the pace that the log tells, and differ in
// what cannot be known: how fast they will learn, how well all of their pieces
// hold, and how much better or worse they play from day to day.
// The figures are our choice, such that the ranges held for other lives of the
// trial's players than those of its test.
const (
	paceDoubt = 0.25 // of the speed of learning, ln
	firmDoubt = 0.15 // of what all pieces hold, ln days
	form      = 0.02 // of a day, ln tempo
)

// A simulated is one player's repertoire.
type simulated struct {
	Ahead
	rng    *rand.Rand
	pace   float64   // of learning what is new, of which 1 is believed of anybody
	truth  []Belief  // without doubt
	climbs []float64 // the true edge at first of what was never kept; otherwise out of reach
	pieces []Candidate
	claims []Claim // of the first of them: the last rest
	asked  []Claim // of the day
	at     map[int64]int
}

// live runs one player through the days.
func (a Ahead) live(draw int) end {
	s := a.draw(draw)
	last := a.From + repertoire.Day(a.Days)
	next := last
	for day := a.From; day < last; day++ {
		minutes := a.Calendar.Minutes(day)
		form := form * s.rng.NormFloat64()
		if minutes == 0 || s.rng.Float64() > a.Pace.Shows {
			continue
		}
		if s.day(day, minutes, form) {
			next = min(next, day)
		}
	}
	e := s.end(last)
	e.next = next
	return e
}

// draw returns the player of that number. What all pieces have in common is
// spread evenly over the players, so that few will do.
func (a Ahead) draw(draw int) *simulated {
	even := func(i int) float64 { return quantile((float64(i%draws) + 0.5) / draws) }
	s := &simulated{
		Ahead: a, rng: rand.New(rand.NewPCG(uint64(draw), uint64(a.From))),
		pace: math.Exp(a.Pace.Speed + paceDoubt*even(draw)), at: map[int64]int{},
	}
	firm := firmDoubt * even(3*draw+1)
	awake := 0
	s.pieces, awake = restingLast(a.From, a.Pieces)
	for i, c := range s.pieces {
		b := c.Belief
		shift := b.EdgeDoubt * s.rng.NormFloat64()
		if c.Stage == Untouched {
			shift += a.Pace.Begins
		}
		b.Edge, b.Peak = b.Edge+shift, b.Peak+shift
		b.Hold = max(0, b.Hold+firm+b.HoldDoubt*s.rng.NormFloat64())
		s.at[c.ID] = i
		first := math.Inf(1)
		if c.Stage < Kept {
			first = b.Edge
		}
		s.climbs = append(s.climbs, first)
		s.truth, s.claims = append(s.truth, b), append(s.claims, c.Claim(false))
	}
	s.claims = s.claims[:awake]
	return s
}

// day plays a day's turns, and reports whether it had room for a new piece.
func (s *simulated) day(day repertoire.Day, minutes int, form float64) (open bool) {
	place := Rehearsal{Day: day}.Prepare(s.Calendar, s.OldPiece, s.claims)
	claims, building, fresh := s.asking(day)
	if place > 0 {
		s.claims[s.at[place]].Place = false // of the day to come
	}
	taken, _ := Choose(day, minutes, foremost(day, minutes, claims))
	for _, c := range taken {
		open = open || c.Stage == Untouched
		if c.asks(day) {
			minutes -= c.Least
		}
		s.play(s.at[c.Piece], day, form)
	}
	return open || !fresh && building < fewBuilding && minutes >= unknownLength[Untouched]
}

// asking returns the claims that can have a part in the day, in a place that is
// used again, and what else tells whether a new piece has room.
func (s *simulated) asking(day repertoire.Day) (claims []Claim, building int, fresh bool) {
	claims = s.asked[:0]
	var spare [Framing]*Claim // the soonest
	for i := range s.claims {
		switch c := &s.claims[i]; {
		case c.Stage == Untouched:
			fresh = true
			first, follows := s.at[s.pieces[i].After]
			c.Waits = follows && !s.pieces[first].Carries(day, s.pieces[first].Goal)
			claims = append(claims, *c)
		case c.Wants <= day || c.Away > 0:
			claims = append(claims, *c)
		case spare[0] == nil || c.Wants < spare[0].Wants:
			spare[0], spare[1] = c, spare[0]
		case spare[1] == nil || c.Wants < spare[1].Wants:
			spare[1] = c
		}
		if s.claims[i].Stage == Building {
			building++
		}
	}
	for _, c := range spare {
		if c != nil && c.Stage == Kept {
			claims = append(claims, *c)
		}
	}
	s.asked = claims
	return claims, building, fresh
}

// play plays the piece once at its target, as the player's true hands do.
func (s *simulated) play(i int, day repertoire.Day, form float64) {
	c, hand := &s.pieces[i], &s.truth[i]
	tempo := c.Target(day, c.Goal)
	days, at := hand.waited(day), lnOf(tempo)
	hand.Edge -= lost(days, math.Exp(hand.Hold))
	hand.Edge += drift * math.Sqrt(days) * s.rng.NormFloat64()
	margin := hand.Edge + form + spread*s.rng.NormFloat64() - at
	p := Play{Day: day, Tempo: tempo}
	for _, grade := range grades {
		if margin >= grade {
			p.Clarity++
		}
	}
	hand.Of = day
	hand.taught(p, days, at, s.pace)
	c.Standing = c.Add(c.Goal, p)
	s.claims[i] = c.Claim(false)
}

// taught adds to a true hand what a play taught one who learns what is new at
// that pace; what was once known comes back to all alike.
func (b *Belief) taught(p Play, days, at, pace float64) {
	off := (at - b.Edge) / nearby
	*b = b.learn(p, days, at, 1)
	b.Edge += (pace - 1) * learned * max(0, 1-off*off)
	b.Peak = max(b.Peak, b.Edge)
}

// end returns where the player stands on that day.
func (s *simulated) end(day repertoire.Day) (e end) {
	for i, c := range s.pieces[:len(s.claims)] {
		edge, _ := s.truth[i].on(day)
		goal := lnOf(c.Goal)
		ready := c.Stage != Untouched && edge >= goal-within
		way := max(learned, goal-lnOf(c.Start))
		e.climbed += max(0, min(edge, goal)-s.climbs[i]) / way
		switch {
		case ready:
			e.ready++
		case c.Stage >= Kept:
			e.slipped++
		}
	}
	e.hold = Upkeep(s.pieces[:len(s.claims)])
	return e
}
