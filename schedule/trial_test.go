package schedule_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

// A scenario is a year of a player's life with a repertoire.
type scenario struct {
	name     string
	minutes  int
	mastered int // pieces that were mastered before the year
	fresh    int // pieces that nobody has touched, there from the first day
	arriving int // pieces that come in, one a week
	away     int // days without practice before the year
}

var scenarios = []scenario{
	{name: "upkeep", minutes: 20, mastered: 400},
	{name: "growth", minutes: 30, fresh: 120},
	{name: "mixed", minutes: 40, mastered: 80, arriving: 50},
	{name: "return", minutes: 30, mastered: 100, away: 60},
	{name: "plenty", minutes: 60, mastered: 40},
}

var policies = []string{"rotation", "textbook SM-2", "most overdue", "longest untouched", "random", "dohra", "all-seeing"}

const year = 365

// A life is one player's hands in one scenario, with what each policy is told
// of them before the year: the plays that made the mastered pieces so.
type life struct {
	hands   []*hand
	starts  []int
	goals   []int
	arrives []int
	past    [][]schedule.Play
}

func newLife(s scenario, l law, p player, seed uint64) life {
	rng := rand.New(rand.NewPCG(seed, 7))
	var f life
	for i := range s.mastered + s.fresh + s.arriving {
		goal := 90 + rng.IntN(90)
		start := goal / 2
		h := &hand{law: l, goal: math.Log(float64(goal)), start: math.Log(float64(start))}
		h.edge = h.start + 0.1 + 0.15*rng.Float64()
		h.firm = 10 * math.Exp(0.5*rng.NormFloat64())
		var past []schedule.Play
		if i < s.mastered {
			h.edge = h.goal + 0.1*rng.Float64()
			h.firm = 45 * math.Exp(0.7*rng.NormFloat64())
			h.begun, h.played = true, -s.away-rng.IntN(60)
			past = []schedule.Play{{Day: repertoire.Day(h.played), Tempo: goal, Clarity: schedule.Clear}}
		}
		h.peak = h.edge
		arrives := 0
		if i >= s.mastered+s.fresh {
			arrives = 7 * (i - s.mastered - s.fresh)
		}
		f.hands, f.starts, f.goals = append(f.hands, h), append(f.starts, start), append(f.goals, goal)
		f.arrives, f.past = append(f.arrives, arrives), append(f.past, past)
	}
	return f
}

// policy makes a policy for the life. Pieces come to it as they arrive.
func (f life) policy(name string, p player, seed uint64) (policy, func(i int)) {
	var pages []*page
	add := func(i int) *page {
		g := &page{start: f.starts[i], goal: f.goals[i], tempo: f.starts[i], last: -1000}
		pages = append(pages, g)
		return g
	}
	if name == "dohra" {
		d := &planner{}
		return d, func(i int) {
			d.pieces = append(d.pieces, schedule.Candidate{
				Piece:    repertoire.Piece{ID: int64(i + 1), Start: f.starts[i], Goal: f.goals[i], Kind: "kaida", Resting: repertoire.Never},
				Standing: schedule.Replay(f.starts[i], f.goals[i], f.past[i]),
			})
		}
	}
	if name == "all-seeing" {
		a := &allSeeing{player: p, end: year}
		return a, func(i int) {
			g := add(i)
			g.began, g.kept = f.past[i] != nil, f.past[i] != nil
			a.pages, a.hands = pages, f.hands[:i+1]
		}
	}
	n := &notebook{}
	switch name {
	case "rotation", "longest untouched":
		n.order = n.by(longestUntouched)
		if name == "rotation" {
			n.order = n.by(longestUntouched)
		}
	case "textbook SM-2":
		n.order = n.oldestDue
	case "most overdue":
		n.order = n.by(mostOverdue)
	case "random":
		n.order = shuffled(rand.New(rand.NewPCG(seed, 11)))
	}
	return n, func(i int) {
		g := add(i)
		for _, play := range f.past[i] {
			g.tempo = g.goal
			n.pages = pages
			n.saw(int(play.Day), try{i, play.Tempo}, play.Clarity)
		}
		n.pages = pages
	}
}

// run lives the year and returns the mean number of ready pieces over its last
// half.
func run(s scenario, l law, p player, name string, seed uint64) (ready, clear float64) {
	f := newLife(s, l, p, seed)
	rng := rand.New(rand.NewPCG(seed, 13))
	plan, arrive := f.policy(name, p, seed)
	here := 0
	plays := 0
	for day := range year {
		for here < len(f.hands) && f.arrives[here] <= day {
			arrive(here)
			here++
		}
		skipped, form := rng.Float64() < p.skips, 0.02*rng.NormFloat64()
		if !skipped {
			for _, t := range plan.plan(day, s.minutes) {
				h := f.hands[t.piece]
				q := p.play(rng, h, day, form, t.tempo)
				plan.saw(day, t, q)
				plays++
				if q >= schedule.Clear {
					clear++
				}
			}
		}
		if day >= year/2 {
			for _, h := range f.hands[:here] {
				if h.begun && h.ready(day) {
					ready++
				}
			}
		}
	}
	return ready / float64(year-year/2), clear / float64(plays)
}

type cell struct{ ready, clear float64 }

func TestTrialTable(t *testing.T) {
	if os.Getenv("TRIAL") == "" {
		t.Skip()
	}
	seeds := 2
	type key struct {
		s, l, p, n int
	}
	results := map[key]cell{}
	var mu sync.Mutex
	var wg sync.WaitGroup
	jobs := make(chan key)
	for range 2 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range jobs {
				var c cell
				for seed := range seeds {
					r, cl := run(scenarios[k.s], laws[k.l], players[k.p], policies[k.n], uint64(seed+1))
					c.ready += r / float64(seeds)
					c.clear += cl / float64(seeds)
				}
				mu.Lock()
				results[k] = c
				mu.Unlock()
			}
		}()
	}
	for s := range scenarios {
		if only := os.Getenv("ONLY"); only != "" && !strings.Contains(only, scenarios[s].name) {
			continue
		}
		for l := range laws {
			for p := range players {
				for n := range policies {
					if os.Getenv("FAST") != "" && n != 5 && n != 0 && n != 1 && n != 6 {
						continue
					}
					jobs <- key{s, l, p, n}
				}
			}
		}
	}
	close(jobs)
	wg.Wait()
	for s := range scenarios {
		if _, ok := results[key{s, 0, 0, 0}]; !ok {
			continue
		}
		sum := make([]float64, len(policies))
		lowRot, lowSM := 9.0, 9.0
		var lowRotAt, lowSMAt string
		for l := range laws {
			for p := range players {
				row := fmt.Sprintf("%-8s %-12s %-10s", scenarios[s].name, laws[l].name, players[p].name)
				for n := range policies {
					c := results[key{s, l, p, n}]
					sum[n] += c.ready
					row += fmt.Sprintf(" %6.1f", c.ready)
				}
				d := results[key{s, l, p, 5}]
				rr, rs := d.ready/results[key{s, l, p, 0}].ready, d.ready/results[key{s, l, p, 1}].ready
				row += fmt.Sprintf("  clear %.2f rot %.2f sm2 %.2f see %.2f", d.clear, rr, rs, d.ready/results[key{s, l, p, 6}].ready)
				if rr < lowRot {
					lowRot, lowRotAt = rr, laws[l].name+" "+players[p].name
				}
				if rs < lowSM {
					lowSM, lowSMAt = rs, laws[l].name+" "+players[p].name
				}
				if os.Getenv("TRIAL") == "2" {
					fmt.Println(row)
				}
			}
		}
		row := fmt.Sprintf("%-8s ALL", scenarios[s].name)
		for n := range policies {
			row += fmt.Sprintf(" %s %.1f", strings.Fields(policies[n])[0], sum[n]/float64(len(laws)*len(players)))
		}
		fmt.Printf("%s | rot %.2f (low %.2f %s) sm2 %.2f (low %.2f %s) see %.2f\n", row, sum[5]/sum[0], lowRot, lowRotAt, sum[5]/sum[1], lowSM, lowSMAt, sum[5]/sum[6])
	}
}
