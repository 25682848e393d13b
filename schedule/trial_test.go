package schedule_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

// The trial: made-up players live a year by each policy, on the same luck. What
// counts is how many pieces are ready, able to be played clear within 3 per cent
// of their goal tempo, on the mean day of the last half of the year. (Policies
// compared by simulation under a daily limit of time: J. Ye, J. Su, Y. Cao, KDD
// 2022, doi 10.1145/3534678.3539081.)

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

var policies = []string{"rotation", "SM-2", "overdue", "untouched", "random", "dohra", "all-seeing"}

const rotation, textbook, dohra, seeing = 0, 1, 5, 6

const year = 365

// A life is one player's hands in one scenario, and the plays that made the
// mastered pieces so, which is all that a policy is told of them.
type life struct {
	player  player
	hands   []*hand
	pieces  []repertoire.Piece
	arrives []int // day
	past    [][]schedule.Play
}

func newLife(s scenario, l law, p player, seed uint64) life {
	rng := rand.New(rand.NewPCG(seed, 7))
	f := life{player: p}
	for i := range s.mastered + s.fresh + s.arriving {
		goal := 90 + rng.IntN(90)
		start := goal / 2
		h := &hand{law: l, goal: math.Log(float64(goal))}
		h.edge = math.Log(float64(start)) + 0.1 + 0.15*rng.Float64()
		h.firm = 10 * math.Exp(0.5*rng.NormFloat64())
		var past []schedule.Play
		if i < s.mastered {
			h.edge = h.goal + 0.1*rng.Float64()
			h.firm = 45 * math.Exp(0.7*rng.NormFloat64())
			h.begun, h.played = true, -s.away-rng.IntN(60)
			past = []schedule.Play{{Day: repertoire.Day(h.played), Tempo: goal, Clarity: schedule.Clear}}
		}
		h.peak = h.edge
		f.hands, f.past = append(f.hands, h), append(f.past, past)
		f.pieces = append(f.pieces, repertoire.Piece{ID: int64(i + 1), Kind: "kaida", Start: start, Goal: goal, Resting: repertoire.Never})
		f.arrives = append(f.arrives, max(0, 7*(i-s.mastered-s.fresh)))
	}
	return f
}

// policy makes a policy for the life, and what tells it that a piece arrives.
func (f life) policy(name string, seed uint64) (p policy, arrive func(i int)) {
	n := &notebook{at: -1}
	open := func(i int) *page {
		goal := f.pieces[i].Goal
		g := &page{goal: goal, tempo: f.pieces[i].Start, last: -1000}
		n.pages = append(n.pages, g)
		for _, play := range f.past[i] {
			g.tempo = goal
			n.saw(int(play.Day), try{i, play.Tempo}, play.Clarity)
		}
		return g
	}
	switch name {
	case "dohra":
		d := &planner{}
		return d, func(i int) {
			standing := schedule.Replay(f.pieces[i].Start, f.pieces[i].Goal, f.past[i])
			d.pieces = append(d.pieces, schedule.Candidate{Piece: f.pieces[i], Standing: standing})
		}
	case "all-seeing":
		a := &allSeeing{player: f.player}
		return a, func(i int) {
			a.pages, a.hands = append(a.pages, open(i)), f.hands[:i+1]
		}
	case "rotation":
		n.order = n.round
	case "SM-2":
		n.order = n.oldestDue
	case "overdue":
		n.order = n.by(mostOverdue)
	case "untouched":
		n.order = n.by(longestUntouched)
	case "random":
		n.order = shuffled(rand.New(rand.NewPCG(seed, 11)))
	}
	return n, func(i int) { open(i) }
}

// live lives the year and returns the mean number of ready pieces over its last
// half.
func live(s scenario, l law, p player, name string, seed uint64) float64 {
	f := newLife(s, l, p, seed)
	rng := rand.New(rand.NewPCG(seed, 13))
	policy, arrive := f.policy(name, seed)
	here, ready := 0, 0
	for day := range year {
		for ; here < len(f.hands) && f.arrives[here] <= day; here++ {
			arrive(here)
		}
		skipped, form := rng.Float64() < p.skips, 0.02*rng.NormFloat64()
		if !skipped {
			for _, t := range policy.plan(day, s.minutes) {
				policy.saw(day, t, p.play(rng, f.hands[t.piece], day, form, t.tempo))
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
	return float64(ready) / (year - year/2)
}

// A trial is what came of a scenario: ready pieces by law, player, policy and
// seed.
type trial [][][][]float64

// tryAll runs a scenario for those laws, players, policies and seeds.
func tryAll(s scenario, laws []law, players []player, policies []string, seeds int) trial {
	results := make(trial, len(laws))
	var runs sync.WaitGroup
	turn := make(chan bool, 2) // two cores
	for l := range laws {
		results[l] = make([][][]float64, len(players))
		for p := range players {
			results[l][p] = make([][]float64, len(policies))
			for n := range policies {
				results[l][p][n] = make([]float64, seeds)
				for seed := range seeds {
					turn <- true
					runs.Go(func() {
						results[l][p][n][seed] = live(s, laws[l], players[p], policies[n], uint64(seed+1))
						<-turn
					})
				}
			}
		}
	}
	runs.Wait()
	return results
}

func mean(of []float64) float64 {
	sum := 0.0
	for _, x := range of {
		sum += x
	}
	return sum / float64(len(of))
}

// bySeed returns the mean over laws and players of a policy, for each seed.
func (r trial) bySeed(policy int) []float64 {
	all := make([]float64, len(r[0][0][policy]))
	for seed := range all {
		var of []float64
		for l := range r {
			for p := range r[l] {
				of = append(of, r[l][p][policy][seed])
			}
		}
		all[seed] = mean(of)
	}
	return all
}

func deviation(of []float64) float64 {
	m, sum := mean(of), 0.0
	for _, x := range of {
		sum += (x - m) * (x - m)
	}
	return math.Sqrt(sum / float64(len(of)-1))
}

// ratios are dohra's to rotation, to textbook SM-2 and to the all-seeing one.
func ratios(ready func(policy int) float64) (r [3]float64) {
	for i, other := range []int{rotation, textbook, seeing} {
		r[i] = ready(dohra) / ready(other)
	}
	return r
}

// BenchmarkTrial prints the whole table, of five seeds each:
//
//	go test ./schedule -run '^$' -bench Trial -benchtime 1x
func BenchmarkTrial(b *testing.B) {
	const seeds = 5
	for b.Loop() {
		for _, s := range scenarios {
			r := tryAll(s, laws, players, policies, seeds)
			fmt.Printf("\n%-20s", s.name)
			for _, name := range policies {
				fmt.Printf("%11s", name)
			}
			fmt.Println("  dohra of rotation, SM-2, all-seeing")
			for l := range r {
				for p := range r[l] {
					printRow(laws[l].name+" "+players[p].name, func(n int) []float64 { return r[l][p][n] })
				}
			}
			printRow("all", r.bySeed)
		}
	}
}

// printRow prints the mean over seeds for each policy, and its standard deviation.
func printRow(name string, of func(policy int) []float64) {
	fmt.Printf("%-22s", name)
	for n := range policies {
		fmt.Printf("%6.1f ±%-3.0f", mean(of(n)), deviation(of(n)))
	}
	r := ratios(func(n int) float64 { return mean(of(n)) })
	fmt.Printf("  %.2f %.2f %.2f\n", r[0], r[1], r[2])
}

// The trial in short: the scheduler beats what it is to beat, on two players
// and two laws, by what it can do on the whole table less a margin.
func TestTrial(t *testing.T) {
	want := map[string][3]float64{ // of rotation, SM-2, all-seeing
		"upkeep": {1.25, 1.25, 0.6},
		"growth": {1.7, 1.2, 0.6},
		"mixed":  {1.1, 1.1, 0.9},
		"return": {1, 1, 0.95},
		"plenty": {0.99, 1, 0.99},
	}
	for _, s := range scenarios {
		r := tryAll(s, laws[:2], players[:2], policies, 1)
		got := ratios(func(n int) float64 { return mean(r.bySeed(n)) })
		t.Logf("%s: %.2f of rotation, %.2f of SM-2, %.2f of the all-seeing one", s.name, got[0], got[1], got[2])
		for i, least := range want[s.name] {
			if got[i] < least {
				t.Errorf("%s: %.2f of %s, want at least %.2f", s.name, got[i], policies[[]int{rotation, textbook, seeing}[i]], least)
			}
		}
	}
}
