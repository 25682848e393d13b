package schedule

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"

	"dohra/repertoire"
)

// The days to come are lived by the plan itself, by players with true hands that
// are drawn from what is believed of them. What the scheduler comes to believe in
// such a life follows from its plays alone. So are made the outlook, the readiness
// of a set, and the days until a concert, which differ in how they draw.

// A Future is the days to come, and what they depend on.
type Future struct {
	From     repertoire.Day
	Calendar Calendar
	Concerts []Concert   // by day
	OldPiece bool        // each day keeps a place for an old piece
	Pieces   []Candidate // with those that rest, for which others may wait
	Pace     Pace        // how fast the player learns and how often they play, as the log tells
}

// Rehearsal returns what the concerts ask of a day. What rests on the first day
// rests on.
func (f Future) Rehearsal(day repertoire.Day) Rehearsal {
	return Rehearse(day, f.Calendar, f.Concerts, setAside(f.From, f.Pieces))
}

// rehearsals returns what they ask of the days before that one.
func (f Future) rehearsals(until repertoire.Day) []Rehearsal {
	days := make([]Rehearsal, 0, max(0, until-f.From))
	for day := f.From; day < until; day++ {
		days = append(days, f.Rehearsal(day))
	}
	return days
}

// calls reports whether a concert to come has the piece in its set.
func (f Future) calls(piece int64) bool {
	return slices.ContainsFunc(f.Concerts, func(c Concert) bool { return c.Day >= f.From && c.At(piece) >= 0 })
}

// A life is one way in which it may go: what the player can truly do, and what
// the scheduler comes to believe of it.
type life struct {
	Future
	luck     func() float64 // draws from a standard normal distribution
	speed    float64        // of learning what is new, of which 1 is believed of anybody
	bias     float64        // by which plays are graded better than they were, ln tempo
	drift    float64        // by which a hand moves in a day, ln tempo
	form     float64        // by which days are better or worse, ln tempo
	pieces   []Candidate
	claims   []Claim  // of the first of them: the last rest
	called   []bool   // those that stand in a set, whose claims change by the day
	truth    []Belief // without doubt
	sittings []int
	at       map[int64]int
	few      []Claim // of the day
}

// newLife returns a life of those pieces, with the true hands that draw gives
// them.
func (f Future) newLife(luck func() float64, pieces []Candidate, draw func(c Candidate) Belief) *life {
	pieces, awake := restingLast(f.From, pieces)
	n := len(pieces)
	l := &life{
		Future: f, luck: luck, speed: 1, pieces: pieces,
		claims: make([]Claim, awake), called: make([]bool, n), truth: make([]Belief, n), sittings: make([]int, n), at: make(map[int64]int, n),
	}
	for i, c := range pieces {
		l.truth[i], l.at[c.ID] = draw(c), i
		l.called[i] = f.calls(c.ID)
		if i < awake {
			l.claims[i] = c.Claim(false)
		}
	}
	return l
}

// live lives those days, as far as the player plays on them, and returns the
// first that had room for a new piece, or the day after them.
func (l *life) live(rng *rand.Rand, days []Rehearsal) (next repertoire.Day) {
	next = l.From + repertoire.Day(len(days))
	for _, r := range days {
		form := 0.0
		if l.form > 0 {
			form = l.form * l.luck()
		}
		minutes := r.Minutes(l.Calendar.Minutes(r.Day))
		if minutes > 0 && rng.Float64() < l.Pace.Shows && l.day(r, minutes, form) {
			next = min(next, r.Day)
		}
	}
	return next
}

// day plays a day's turns, and reports whether it had room for a new piece.
func (l *life) day(r Rehearsal, minutes int, form float64) (room bool) {
	r = r.Settle(minutes, among(l.pieces, l.at))
	taken := l.choose(r, minutes)
	room = l.room(r, minutes, taken)
	for _, c := range taken {
		i := l.at[c.Piece]
		l.play(i, r.Day, r.Target(l.pieces[i]), form)
	}
	return room
}

// choose returns what the plan of the day takes.
func (l *life) choose(r Rehearsal, minutes int) (taken []Claim) {
	for i := range l.claims {
		if c := &l.pieces[i]; c.Stage == Untouched || l.called[i] {
			l.claims[i] = r.Claim(*c, l.waits(r.Day, c))
		}
	}
	place := r.Prepare(l.Calendar, l.OldPiece, l.claims)
	l.few = r.foremost(minutes, l.claims, l.few)
	taken, _ = r.Choose(minutes, l.few)
	if place > 0 {
		l.claims[l.at[place]].Place = false // on the next day
	}
	return taken
}

// waits reports whether the piece is new, and what comes first does not carry it.
func (l *life) waits(day repertoire.Day, c *Candidate) bool {
	first, follows := l.at[c.After]
	return c.Stage == Untouched && follows && !l.pieces[first].Carries(day, l.pieces[first].Goal)
}

// room reports whether a day with those turns begins a new piece, or would if
// there were one.
func (l *life) room(r Rehearsal, minutes int, taken []Claim) bool {
	for _, c := range taken {
		if c.Stage == Untouched {
			return true
		}
		if r.Has(c.Piece) || c.asks(r.Day) {
			minutes -= c.Least
		}
	}
	building := 0
	for i := range l.claims {
		switch l.claims[i].Stage {
		case Untouched:
			return false
		case Building:
			building++
		}
	}
	return building < fewBuilding && minutes >= unknownLength[Untouched] && r.left() > freshUntil
}

// play plays the piece at that place once, as the player's true hands do on a day
// of that form: how it is graded, and what it teaches.
func (l *life) play(i int, day repertoire.Day, tempo int, form float64) {
	c, hand := &l.pieces[i], &l.truth[i]
	days, at := hand.waited(day), lnOf(tempo)
	hand.Edge, _ = hand.on(day)
	if l.drift > 0 {
		hand.Edge += l.drift * math.Sqrt(days) * l.luck()
	}
	hand.Of = day
	heard := hand.Edge + l.bias + form + spread*l.luck() - at
	p := Play{Piece: c.ID, Day: day, Tempo: tempo}
	for _, grade := range grades {
		if heard >= grade {
			p.Clarity++
		}
	}
	hand.taught(p, days, at, l.speed)
	c.Standing = c.Add(c.Goal, p)
	l.claims[i] = c.Claim(false)
	l.sittings[i]++
}

// taught adds to a true hand what a play taught one who learns what is new at
// that speed; what was once known comes back to all alike.
func (b *Belief) taught(p Play, days, at, speed float64) {
	off := (at - b.Edge) / nearby
	*b = b.learn(p, days, at, 1)
	b.Edge += (speed - 1) * learned * max(0, 1-off*off)
	b.Peak = max(b.Peak, b.Edge)
}

// inParallel does n things on all cores.
func inParallel(n int, do func(i int)) {
	next := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
}
