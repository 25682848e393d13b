package schedule

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"dohra/repertoire"
)

// Whether a set will be ready: the days until the concert are lived many times
// over, by the plan itself, with players drawn from what is believed of the
// pieces and of the pace. Every run begins from the same seed, so the answer is
// the same whenever it is asked.

// A Forecast is what is to be expected of one piece of a set.
type Forecast struct {
	Piece             int64
	Need              int     // performance tempo, matras/min
	Low, Middle, High int     // clean tempo on the day: 10, 50 and 90 of 100 draws are below
	Sittings          int     // days on which the plan brings it, as the middle draw has it
	Chance            float64 // that it is ready
}

// Readiness is the forecasts of a set, in its order, and the chance that all of
// it is ready.
type Readiness struct {
	Set    []Forecast
	Chance float64
}

// The figures of a draw, our choice. What a simulation needs besides the set is
// bounded, for a repertoire may be large.
const (
	lives      = 120
	judgement  = 0.03 // how much too kindly or harshly players grade, ln tempo
	bystanders = 150  // other pieces that are followed
)

// Foresee returns the readiness of a concert, seen from a day.
func Foresee(day repertoire.Day, c Concert, concerts []Concert, calendar Calendar, pieces []Candidate, pace Pace) Readiness {
	rng := rand.New(rand.NewPCG(uint64(day), uint64(c.Day)))
	near := nearest(day, c, pieces)
	rehearsals := make([]Rehearsal, 0, c.Day-day)
	for d := day; d < c.Day; d++ {
		rehearsals = append(rehearsals, Rehearse(d, calendar, concerts))
	}
	edges, sittings := make([][]float64, len(c.Set)), make([][]float64, len(c.Set))
	ready := make([]int, len(c.Set))
	whole := 0
	for range lives {
		l := drawLife(rng, pace, near)
		for _, r := range rehearsals {
			l.live(r, r.Minutes(calendar.Minutes(r.Day)))
		}
		all := true
		for i, p := range c.Set {
			edge := l.edge(p.Piece, c.Day)
			edges[i] = append(edges[i], edge)
			sittings[i] = append(sittings[i], float64(l.sittings[p.Piece]))
			if edge >= lnOf(p.Tempo)-within {
				ready[i]++
			} else {
				all = false
			}
		}
		if all {
			whole++
		}
	}
	s := Readiness{Chance: float64(whole) / lives}
	for i, p := range c.Set {
		slices.Sort(edges[i])
		at := func(part int) int { return tempoAt(edges[i][part*lives/100] - even) }
		s.Set = append(s.Set, Forecast{p.Piece, p.Tempo, at(10), at(50), at(90), int(median(sittings[i])), float64(ready[i]) / lives})
	}
	return s
}

// The chances that part the verdicts, our choice.
const (
	likely   = 0.8
	unlikely = 0.2
)

// Verdict says in words how a piece stands on a day.
func (f Forecast) Verdict(day repertoire.Day, c Candidate) string {
	there := c.Stage != Untouched && c.missing(day, f.Need) <= sure
	switch {
	case f.Chance >= likely && there:
		return "ready"
	case f.Chance >= likely:
		return "on course"
	case f.Chance >= unlikely:
		return fmt.Sprintf("at risk by %d matras/min", max(1, f.Need-f.Middle))
	}
	return "cannot"
}

// nearest returns the pieces of the set, and those others that want a turn first.
func nearest(day repertoire.Day, c Concert, pieces []Candidate) []Candidate {
	var set, others []Candidate
	for _, p := range pieces {
		if c.At(p.ID) >= 0 {
			set = append(set, p)
		} else if !p.Rests(day) {
			others = append(others, p)
		}
	}
	if len(others) > bystanders {
		slices.SortStableFunc(others, func(a, b Candidate) int { return int(a.Wants(a.Goal) - b.Wants(b.Goal)) })
		others = others[:bystanders]
	}
	return append(set, others...)
}

// A drawn life is one way in which it may go: what the player can truly do, and
// what the scheduler comes to believe of it.
type drawnLife struct {
	rng      *rand.Rand
	speed    float64
	bias     float64 // by which plays are graded better than they were
	shows    float64
	pieces   []Candidate
	claims   []Claim
	truth    []Belief // without doubt
	at       map[int64]int
	sittings map[int64]int
}

func drawLife(rng *rand.Rand, pace Pace, pieces []Candidate) drawnLife {
	l := drawnLife{
		rng: rng, speed: math.Exp(pace.Speed + pace.Doubt*rng.NormFloat64()), bias: judgement * rng.NormFloat64(), shows: pace.Shows,
		pieces: slices.Clone(pieces), claims: make([]Claim, len(pieces)), truth: make([]Belief, len(pieces)), at: make(map[int64]int, len(pieces)), sittings: map[int64]int{},
	}
	for i, c := range pieces {
		b := c.Belief
		b.Edge += b.EdgeDoubt*rng.NormFloat64() - l.bias
		if c.Stage == Untouched {
			b.Edge += pace.Begins
		}
		b.Peak = max(b.Edge, b.Peak-l.bias)
		b.Hold = min(max(b.Hold+b.HoldDoubt*rng.NormFloat64(), 0), math.Log(3650))
		l.truth[i], l.claims[i], l.at[c.ID] = b, c.Claim(false), i
	}
	return l
}

func (l *drawnLife) edge(piece int64, day repertoire.Day) float64 {
	i, there := l.at[piece]
	if !there {
		return 0
	}
	edge, _ := l.truth[i].on(day)
	return edge
}

// live is one day of the plan.
func (l *drawnLife) live(r Rehearsal, minutes int) {
	if minutes == 0 || l.rng.Float64() >= l.shows {
		return
	}
	for i, c := range l.pieces {
		if r.Has(c.ID) || c.Stage == Untouched {
			l.claims[i] = r.Claim(c, l.waits(r.Day, c))
		}
	}
	taken, _ := r.Choose(minutes, l.claims)
	for _, claim := range taken {
		i := l.at[claim.Piece]
		c := &l.pieces[i]
		p := Play{Piece: c.ID, Day: r.Day, Tempo: r.Target(*c)}
		p.Clarity = l.play(&l.truth[i], p)
		c.Standing = c.Add(c.Goal, p)
		l.claims[i] = c.Claim(false)
		l.sittings[c.ID]++
	}
}

func (l *drawnLife) waits(day repertoire.Day, c Candidate) bool {
	first, there := l.at[c.After]
	return c.Stage == Untouched && there && !l.pieces[first].Carries(day, l.pieces[first].Goal)
}

// play is one play: how it is graded, and what it teaches.
func (l *drawnLife) play(truth *Belief, p Play) Clarity {
	days, at := truth.waited(p.Day), lnOf(p.Tempo)
	edge, _ := truth.on(p.Day)
	q := Lost
	for _, above := range grades {
		if edge+l.bias+spread*l.rng.NormFloat64() >= at+above {
			q++
		}
	}
	p.Clarity = q
	truth.Of, truth.Edge = p.Day, edge
	taught := truth.learn(p, days, at, 1)
	taught.Edge += (l.speed - 1) * learned * max(0, 1-math.Pow((at-edge)/nearby, 2))
	taught.Peak = max(taught.Peak, taught.Edge)
	*truth = taught
	return q
}
