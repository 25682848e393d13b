package schedule_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

// The trial of a concert: a player of 60 pieces, who has practised by the plan
// for two months, learns that 12 of them are to be ready in 30 days, at 40
// minutes a day. At most half of the 12 are building or
// new, the others kept.

const (
	months  = 60 // days of practice before
	notice  = 30 // days before the concert
	slotOf  = 30 // minutes
	aDay    = 40 // minutes
	setSize = 12
)

// A stage is a player at some day, and what was told of the plays so far.
type stage struct {
	life
	p     player
	rng   *rand.Rand
	plan  *planner
	plays [][]schedule.Play
	day   int
}

func newStage(l law, p player, seed uint64) *stage {
	s := &stage{life: newLife(scenario{mastered: 36, fresh: 24}, l, p, seed), p: p, rng: rand.New(rand.NewPCG(seed, 13))}
	s.plays = make([][]schedule.Play, len(s.hands))
	plan, arrive := s.policy("dohra", seed)
	s.plan = plan.(*planner)
	for i := range s.hands {
		arrive(i)
		s.plays[i] = append(s.plays[i], s.past[i]...)
	}
	for range months {
		s.live(s.plan, aDay)
	}
	return s
}

// live is one day by a policy.
func (s *stage) live(plan policy, minutes int) {
	skipped, form := s.rng.Float64() < s.p.skips, 0.02*s.rng.NormFloat64()
	if !skipped {
		for _, t := range plan.plan(s.day, minutes) {
			q := s.p.play(s.rng, s.hands[t.piece], s.day, form, t.tempo)
			plan.saw(s.day, t, q)
			s.plays[t.piece] = append(s.plays[t.piece], schedule.Play{Piece: int64(t.piece + 1), Day: repertoire.Day(s.day), Tempo: t.tempo, Clarity: q})
		}
	}
	s.day++
}

// set draws the concert: half of it from what is not kept, as far as there is so much.
func (s *stage) set(seed uint64) schedule.Concert {
	c := schedule.Concert{Name: "Trial", Day: repertoire.Day(s.day + notice), Minutes: slotOf}
	order := rand.New(rand.NewPCG(seed, 17)).Perm(len(s.hands))
	for _, most := range []struct {
		kept bool
		size int
	}{{false, setSize / 2}, {true, setSize}} {
		for _, i := range order {
			isKept := s.plan.pieces[i].StageOn(repertoire.Day(s.day), s.pieces[i].Goal) == schedule.Kept
			if isKept == most.kept && len(c.Set) < most.size {
				c.Set = append(c.Set, schedule.Place{Piece: int64(i + 1), Tempo: s.pieces[i].Goal})
			}
		}
	}
	return c
}

// counter is the plan that knows of the concert.
type counter struct {
	*planner
	concert schedule.Concert
}

func (d counter) rehearsal(day, minutes int) (schedule.Rehearsal, int) {
	r := schedule.Rehearse(repertoire.Day(day), everyDay(aDay), []schedule.Concert{d.concert}, nil)
	return r, r.Minutes(minutes)
}

func (d counter) plan(day, minutes int) (tries []try) {
	r, minutes := d.rehearsal(day, minutes)
	for _, t := range r.PlanDay(minutes, d.pieces).Turns {
		tries = append(tries, try{int(t.ID) - 1, t.Target})
	}
	return tries
}

func everyDay(minutes int) (c schedule.Calendar) {
	for i := range c.Week {
		c.Week[i] = minutes
	}
	return c
}

// notes makes a notebook of what was played so far, of all pieces or only of
// those of a set.
func (s *stage) notes(only func(i int) bool) *notebook {
	n := &notebook{}
	n.order = n.by(longestUntouched)
	for i := range s.hands {
		n.pages = append(n.pages, &page{goal: s.pieces[i].Goal, tempo: s.pieces[i].Start, last: -1000})
		for _, p := range s.plays[i] {
			n.saw(int(p.Day), try{i, p.Tempo}, p.Clarity)
		}
	}
	order := n.order
	n.order = func(day int, held []int) []int {
		var mine []int
		for i := range n.pages {
			if only(i) {
				mine = append(mine, i)
			}
		}
		return order(day, mine)
	}
	return n
}

// ready counts the pieces of the set and the others that are ready on the day.
func (s *stage) ready(c schedule.Concert) (ofSet, others int) {
	for i, h := range s.hands {
		if h.begun && h.ready(s.day) {
			if c.At(int64(i+1)) >= 0 {
				ofSet++
			} else {
				others++
			}
		}
	}
	return ofSet, others
}

var concertPolicies = []string{"dohra", "cramming", "rotation"}

// perform lives until the concert by one policy.
func perform(l law, p player, name string, seed uint64) (ofSet, others int) {
	s := newStage(l, p, seed)
	c := s.set(seed)
	if len(c.Set) != setSize {
		panic(len(c.Set))
	}
	var plan policy = counter{s.plan, c}
	switch name {
	case "cramming":
		plan = s.notes(func(i int) bool { return c.At(int64(i+1)) >= 0 })
	case "rotation":
		plan = s.notes(func(i int) bool { return s.plays[i] != nil || c.At(int64(i+1)) >= 0 })
	}
	for range notice {
		s.live(plan, aDay)
	}
	return s.ready(c)
}

// At least as many of the set are ready as by cramming, and of the other pieces
// at least 1.15 times as many. TRIAL=2 prints every player.
func TestConcertTrial(t *testing.T) {
	seeds := 3
	if os.Getenv("TRIAL") != "" {
		seeds = 8
	}
	sum := map[string][2]float64{}
	for _, l := range laws {
		for _, p := range players {
			row := fmt.Sprintf("%-12s %-10s", l.name, p.name)
			for _, name := range concertPolicies {
				var of [2]float64
				for seed := range seeds {
					a, b := perform(l, p, name, uint64(seed+1))
					of[0] += float64(a) / float64(seeds)
					of[1] += float64(b) / float64(seeds)
				}
				n := float64(len(laws) * len(players))
				sum[name] = [2]float64{sum[name][0] + of[0]/n, sum[name][1] + of[1]/n}
				row += fmt.Sprintf("  %s %4.1f + %4.1f", name, of[0], of[1])
			}
			if os.Getenv("TRIAL") == "2" {
				fmt.Println(row)
			}
		}
	}
	for _, name := range concertPolicies {
		t.Logf("%-9s %5.2f of the 12 ready, and %5.2f of the others", name, sum[name][0], sum[name][1])
	}
	if got, cram := sum["dohra"], sum["cramming"]; got[0] < 0.98*cram[0] || got[1] < 1.15*cram[1] || math.IsNaN(got[0]) {
		t.Errorf("ready %.1f and %.1f, cramming %.1f and %.1f", got[0], got[1], cram[0], cram[1])
	}
}
