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
// pieces and of the pace. Every life has a seed of its own, so the answer is the
// same whenever it is asked.

// A Prospect is a concert seen from a day.
type Prospect struct {
	Future
	Concert Concert // one of the concerts
}

// A Forecast is what is to be expected of one piece of a set. Tempos are in
// matras/min.
type Forecast struct {
	Piece             int64
	Need              int     // performance tempo
	Low, Middle, High int     // clean tempo on the day: 10, 50 and 90 of 100 draws are below
	Safe              int     // the fastest tempo for which 80 of 100 draws are ready
	Sittings          int     // days on which the plan brings it, as the middle draw has it
	Chance            float64 // that it is ready
}

// Readiness is the forecasts of the pieces of a set that do not rest, in its order,
// and the chance that all of them are ready; 0 where all rest.
type Readiness struct {
	Set    []Forecast
	Chance float64
}

// The figures of a draw, our choice; kinship such that whole sets were ready as
// often as was said, with other lives of the trial's players than those of its
// test as well. What a simulation needs besides the set is bounded, for a
// repertoire may be large.
const (
	lives      = 120
	judgement  = 0.03 // how much too kindly or harshly players grade, ln tempo
	kinship    = 0.7  // the part of a doubt, as a variance, that all pieces of a player share
	bystanders = 150  // other pieces that are followed
)

// Awake returns the concert without what rests on the first day.
func (p Prospect) Awake() Concert { return p.Concert.Awake(setAside(p.From, p.Pieces)) }

// Readiness lives the days until the concert.
func (p Prospect) Readiness() Readiness { return p.readiness(lives) }

// readiness lives them so many times.
func (p Prospect) readiness(lives int) Readiness {
	near := p.nearest()
	days := p.rehearsals(p.Concert.Day)
	set := p.Awake().Set
	edges, sittings := make([][]float64, len(set)), make([][]float64, len(set))
	for i := range set {
		edges[i], sittings[i] = make([]float64, lives), make([]float64, lives)
	}
	inParallel(lives, func(n int) {
		rng := rand.New(rand.NewPCG(uint64(p.From)<<32+uint64(p.Concert.Day), uint64(n)))
		l := p.draw(rng.NormFloat64, near)
		l.live(rng, days)
		for i, place := range set {
			at := l.at[place.Piece]
			edges[i][n], _ = l.truth[at].on(p.Concert.Day)
			sittings[i][n] = float64(l.sittings[at])
		}
	})
	whole := 0
	for n := range lives {
		all := len(set) > 0
		for i, place := range set {
			all = all && edges[i][n] >= lnOf(place.Tempo)-within
		}
		if all {
			whole++
		}
	}
	r := Readiness{Chance: float64(whole) / float64(lives)}
	for i, place := range set {
		r.Set = append(r.Set, forecast(place, edges[i], median(sittings[i])))
	}
	return r
}

// forecast sums up the edges that came of a piece's draws.
func forecast(p Place, edges []float64, sittings float64) Forecast {
	slices.Sort(edges)
	n := len(edges)
	ready, _ := slices.BinarySearch(edges, lnOf(p.Tempo)-within)
	at := func(part int) int { return tempoAt(edges[part*n/100] - even) }
	safe := math.Floor(math.Exp(edges[int((1-likely)*float64(n))] + within))
	return Forecast{
		Piece: p.Piece, Need: p.Tempo, Low: at(10), Middle: at(50), High: at(90), Safe: min(int(safe), repertoire.MaxTempo),
		Sittings: int(sittings), Chance: float64(n-ready) / float64(n),
	}
}

// The chances that part the verdicts, our choice.
const (
	likely   = 0.8
	unlikely = 0.2
)

// Short returns by how many matras/min the piece may miss its performance tempo:
// how much slower it would be on course, 0 where it is.
func (f Forecast) Short() int {
	if f.Chance >= likely {
		return 0
	}
	return max(1, f.Need-f.Safe)
}

// Verdict says in words how a piece stands on a day: ready, on course, at risk
// by so many matras/min, or cannot.
func (f Forecast) Verdict(day repertoire.Day, c Candidate) string {
	there := c.Stage != Untouched && c.missing(day, f.Need) <= sure
	switch {
	case f.Chance >= likely && there:
		return "ready"
	case f.Chance >= likely:
		return "on course"
	case f.Cannot():
		return "cannot"
	}
	return fmt.Sprintf("at risk by %d matras/min", f.Short())
}

// Cannot reports whether the piece will hardly be ready.
func (f Forecast) Cannot() bool { return f.Chance < unlikely }

// nearest returns the pieces of the sets, those others that want a turn first, and
// those for which what is new among them waits.
func (p Prospect) nearest() []Candidate {
	var set, others []Candidate
	at := make(map[int64]int, len(p.Pieces))
	for i, c := range p.Pieces {
		at[c.ID] = i
		if p.calls(c.ID) {
			set = append(set, c)
		} else if c.Awake(p.From) {
			others = append(others, c)
		}
	}
	if len(others) > bystanders {
		slices.SortStableFunc(others, func(a, b Candidate) int { return int(a.Wants(a.Goal) - b.Wants(b.Goal)) })
		others = others[:bystanders]
	}
	near := append(set, others...)
	has := make(map[int64]bool, len(near))
	for _, c := range near {
		has[c.ID] = true
	}
	for i := 0; i < len(near); i++ {
		c := near[i]
		if first, there := at[c.After]; there && c.Stage == Untouched && !has[c.After] {
			near, has[c.After] = append(near, p.Pieces[first]), true
		}
	}
	return near
}

// draw draws a life. What is believed of all pieces comes from the same hands
// and the same ears: where it errs of one, it errs of the others as well.
func (p Prospect) draw(luck func() float64, pieces []Candidate) *life {
	speed, bias := math.Exp(p.Pace.Speed+p.Pace.Doubt*luck()), judgement*luck()
	kin := func(shared float64) float64 { return math.Sqrt(kinship)*shared + math.Sqrt(1-kinship)*luck() }
	edge, hold := luck(), luck()
	l := p.newLife(luck, pieces, func(c Candidate) Belief {
		b := c.Belief
		b.Edge += b.EdgeDoubt*kin(edge) - bias
		if c.Stage == Untouched {
			b.Edge += p.Pace.Begins
		} else {
			b.Edge -= b.ahead(speed)
		}
		b.Peak = max(b.Edge, b.Peak-bias)
		b.Hold = min(max(b.Hold+b.HoldDoubt*kin(hold), 0), math.Log(longestHold))
		return b
	})
	l.speed, l.bias = speed, bias
	return l
}

// leastTrust is the least part of a surprise that a climbing belief takes in.
const leastTrust = 0.3

// ahead returns how far, in ln tempo, the belief has run ahead of hands that
// learn at another speed than is believed of anybody: what it adds too much for a
// play, over the part that each surprise takes back.
func (b Belief) ahead(speed float64) float64 {
	doubt := b.EdgeDoubt * b.EdgeDoubt
	return (1 - speed) * learned / max(leastTrust, doubt/(doubt+spread*spread))
}
