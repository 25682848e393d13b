package schedule_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// A try is a piece to play and its tempo.
type try struct{ piece, tempo int }

// A policy plans a day and is told how it went.
type policy interface {
	plan(day, minutes int) []try
	saw(day int, t try, q schedule.Clarity)
}

// What a turn takes, minutes: as the scheduler has it for pieces without bols.
const newTurn, buildingTurn, keptTurn = 4, 5, 2

// A page is what a notebook says of one piece: the tempo to play next, whether
// it was ever clear at its goal, and its dates.
type page struct {
	goal, tempo int
	began, kept bool
	last, due   int
	sm2         schedule.SM2
}

func (p *page) minutes() int {
	switch {
	case p.kept:
		return keptTurn
	case p.began:
		return buildingTurn
	}
	return newTurn
}

// A notebook raises the tempo a mark when it was clear and lowers it one when it
// failed. It holds what was learned and up to four pieces that are building, and
// each day goes through them in an order of its own.
type notebook struct {
	pages []*page
	at    int // the piece played last
	order func(day int, held []int) []int
}

const mostBuilding = 4

func (n *notebook) plan(day, minutes int) (tries []try) {
	var held, fresh []int
	building := 0
	for i, p := range n.pages {
		switch {
		case !p.began:
			fresh = append(fresh, i)
			continue
		case !p.kept:
			building++
		}
		held = append(held, i)
	}
	if few := mostBuilding - building; few > 0 {
		held = append(held, fresh[:min(few, len(fresh))]...)
	}
	for _, i := range n.order(day, held) {
		p := n.pages[i]
		if minutes < p.minutes() {
			break
		}
		minutes -= p.minutes()
		tries = append(tries, try{i, p.tempo})
	}
	return tries
}

func (n *notebook) saw(day int, t try, q schedule.Clarity) {
	n.at = t.piece
	p := n.pages[t.piece]
	p.began, p.last, p.due = true, day, day+1
	if t.tempo >= p.goal {
		p.kept = p.kept || q >= schedule.Clear
		if p.kept {
			p.sm2 = p.sm2.Next(q)
			p.due = day + p.sm2.Interval
		}
	}
	switch {
	case q >= schedule.Clear:
		p.tempo = min(p.goal, t.tempo*104/100+1)
	case q < schedule.Strained:
		p.tempo = max(20, t.tempo*96/100)
	}
}

// round is the rotation: once through all that is held, and again.
func (n *notebook) round(_ int, held []int) []int {
	slices.Sort(held)
	next, _ := slices.BinarySearch(held, n.at+1)
	return slices.Concat(held[next:], held[:next])
}

func (n *notebook) by(key func(day int, p *page) float64) func(day int, held []int) []int {
	return func(day int, held []int) []int {
		slices.SortStableFunc(held, func(a, b int) int {
			return cmp.Compare(key(day, n.pages[a]), key(day, n.pages[b]))
		})
		return held
	}
}

func longestUntouched(_ int, p *page) float64 { return float64(p.last) }

// oldestDue is SM-2 as published: what is due, the oldest first, and no more.
func (n *notebook) oldestDue(day int, held []int) []int {
	held = slices.DeleteFunc(held, func(i int) bool { return n.pages[i].due > day })
	return n.by(func(_ int, p *page) float64 { return float64(p.due) })(day, held)
}

// mostOverdue goes by how late a piece is in its own intervals.
func mostOverdue(day int, p *page) float64 {
	return -float64(day-p.due) / float64(max(1, p.sm2.Interval))
}

// planner is dohra: the scheduler as anybody may use it.
type planner struct{ pieces []schedule.Candidate }

func (d *planner) plan(day, minutes int) (tries []try) {
	for _, t := range schedule.PlanDay(repertoire.Day(day), minutes, d.pieces).Turns {
		tries = append(tries, try{int(t.ID) - 1, t.Target})
	}
	return tries
}

func (d *planner) saw(day int, t try, q schedule.Clarity) {
	c := &d.pieces[t.piece]
	c.Standing = c.Add(c.Goal, schedule.Play{Day: repertoire.Day(day), Tempo: t.tempo, Clarity: q})
}

// allSeeing knows each hand. It spends the day on what buys the most ready days
// a minute, counting the plays it truly takes.
type allSeeing struct {
	player player
	hands  []*hand
	pages  []*page
}

func (a *allSeeing) plan(day, minutes int) (tries []try) {
	type bid struct {
		i     int
		worth float64
	}
	var bids []bid
	for i, h := range a.hands {
		bids = append(bids, bid{i, a.worth(h, day, a.pages[i])})
	}
	slices.SortFunc(bids, func(x, y bid) int { return cmp.Compare(y.worth, x.worth) })
	for _, b := range bids {
		p := a.pages[b.i]
		if minutes < p.minutes() {
			continue
		}
		minutes -= p.minutes()
		tries = append(tries, try{b.i, a.tempo(a.hands[b.i], day, p)})
	}
	return tries
}

func (a *allSeeing) tempo(h *hand, day int, p *page) int {
	return max(20, min(p.goal, int(math.Round(math.Exp(h.on(day)-0.03)))))
}

// worth returns the ready days that a minute buys: for a piece that would not
// be ready tomorrow, the best over the number of plays on days in a row.
func (a *allSeeing) worth(h *hand, day int, p *page) float64 {
	if h.ready(day + 1) {
		return -float64(a.lapses(h, day+1)) // only what time is left, the soonest to lapse first
	}
	best, ahead := 0.0, *h
	for n := 1; n <= 60; n++ {
		at := day + n - 1
		ahead.learn(a.player, at, math.Log(float64(a.tempo(&ahead, at, p))))
		if !ahead.ready(at + 1) {
			continue
		}
		days := min(a.lapses(&ahead, at+1), max(1, year-at))
		worth := float64(days) / float64(n*p.minutes())
		if worth <= best {
			break
		}
		best = worth
	}
	return best
}

// lapses returns for how many days from day on the hand is ready.
func (a *allSeeing) lapses(h *hand, day int) int {
	low, high := 0, 1
	for high < 500 && h.ready(day+high) {
		low, high = high, 2*high
	}
	for high-low > 1 {
		if mid := (low + high) / 2; h.ready(day + mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

func (a *allSeeing) saw(day int, t try, q schedule.Clarity) {
	p := a.pages[t.piece]
	p.began = true
	p.kept = p.kept || t.tempo >= p.goal && q >= schedule.Clear
}

// shuffled is the random order.
func shuffled(rng *rand.Rand) func(int, []int) []int {
	return func(_ int, held []int) []int {
		rng.Shuffle(len(held), func(i, j int) { held[i], held[j] = held[j], held[i] })
		return held
	}
}
