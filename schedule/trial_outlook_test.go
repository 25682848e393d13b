package schedule_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"sync"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

// What outlook says of the trial's players, against what then happens to them.

var forecastScenarios = []scenario{
	{name: "upkeep", minutes: 20, mastered: 200},
	{name: "growth", minutes: 30, fresh: 120},
	{name: "mixed", minutes: 40, mastered: 80, fresh: 30},
	{name: "return", minutes: 30, mastered: 100, away: 60},
	{name: "plenty", minutes: 60, mastered: 40},
}

// A forecast is made after known days, for then days on.
const known, then = 120, 90

type forecast struct {
	name  string
	said  schedule.Range
	truth float64
}

func (f forecast) off() float64 { return (f.said.Mean - f.truth) / f.truth }

// held reports whether the range holds the truth, which is a whole number.
func (f forecast) held() bool {
	return f.said.Low <= f.truth+0.5 && f.truth-0.5 <= f.said.High
}

func forecastOf(s scenario, l law, p player, seed uint64) forecast {
	f := newLife(s, l, p, seed)
	rng := rand.New(rand.NewPCG(seed, 13))
	policy, arrive := f.policy("dohra", seed)
	for i := range f.hands {
		arrive(i)
	}
	plan := policy.(*planner)
	result := forecast{name: fmt.Sprintf("%-7s %-11s %-9s", s.name, l.name, p.name)}
	var plays []schedule.Play
	byPiece := map[int64][]schedule.Play{}
	for day := range known + then {
		if day == known {
			result.said = said(day, s.minutes, plan.pieces, plays, byPiece)
		}
		skipped, form := rng.Float64() < p.skips, 0.02*rng.NormFloat64()
		if skipped {
			continue
		}
		for _, t := range plan.plan(day, s.minutes) {
			clarity := p.play(rng, f.hands[t.piece], day, form, t.tempo)
			plan.saw(day, t, clarity)
			if id := plan.pieces[t.piece].ID; day < known {
				byPiece[id] = append(byPiece[id], schedule.Play{Piece: id, Day: repertoire.Day(day), Tempo: t.tempo, Clarity: clarity})
			}
			if day < known && repertoire.Day(day) >= schedule.RegularSince(known) {
				plays = append(plays, schedule.Play{Day: repertoire.Day(day)})
			}
		}
	}
	for _, h := range f.hands {
		if h.begun && h.ready(known+then) {
			result.truth++
		}
	}
	return result
}

// said returns how many pieces outlook says will be ready.
func said(day, minutes int, pieces []schedule.Candidate, plays []schedule.Play, byPiece map[int64][]schedule.Play) schedule.Range {
	var c schedule.Calendar
	for i := range c.Week {
		c.Week[i] = minutes
	}
	from := repertoire.Day(day)
	return schedule.LookAhead([]schedule.Ahead{{Days: then, Future: schedule.Future{
		From: from, Calendar: c,
		Pace:   schedule.PaceOf(pieces, byPiece, schedule.Regularity(from, c, plays)),
		Pieces: append([]schedule.Candidate{}, pieces...),
	}}}, func(int, int) {})[0].Ready
}

// forecasts makes one forecast for each scenario and player, and all laws in
// turn; for all of them when FORECAST is set.
func forecasts() []forecast {
	var jobs []func() forecast
	for i, s := range forecastScenarios {
		for j, p := range players {
			for n, l := range laws {
				if os.Getenv("FORECAST") != "" || (i+j)%len(laws) == n {
					jobs = append(jobs, func() forecast { return forecastOf(s, l, p, 1) })
				}
			}
		}
	}
	results := make([]forecast, len(jobs))
	next := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				results[i] = jobs[i]()
			}
		})
	}
	for i := range jobs {
		next <- i
	}
	close(next)
	wait.Wait()
	return results
}

func TestForecastsComeTrue(t *testing.T) {
	all := forecasts()
	for i, s := range forecastScenarios {
		part := all[i*len(all)/len(forecastScenarios) : (i+1)*len(all)/len(forecastScenarios)]
		off := 0.0
		for _, f := range part {
			off += math.Abs(f.off()) / float64(len(part))
		}
		t.Logf("%s: off by %.1f %% on average", s.name, 100*off)
	}
	bias, off, held := 0.0, 0.0, 0
	for _, f := range all {
		bias += f.off() / float64(len(all))
		off += math.Abs(f.off()) / float64(len(all))
		if f.held() {
			held++
		}
		if os.Getenv("FORECAST") != "" {
			t.Logf("%s said %5.1f (%5.1f-%5.1f), it was %3.0f: %+4.0f %%", f.name, f.said.Mean, f.said.Low, f.said.High, f.truth, 100*f.off())
		}
	}
	share := float64(held) / float64(len(all))
	t.Logf("%d forecasts of ready pieces %d days on: off by %.1f %% on average, %+.1f %% in the mean; the 80 %% range held %.0f %%",
		len(all), then, 100*off, 100*bias, 100*share)
	if off > 0.10 {
		t.Errorf("off by %.1f %% on average, more than 10", 100*off)
	}
	if share < 0.70 || share > 0.92 {
		t.Errorf("the 80 %% range held %.0f %% of the time", 100*share)
	}
}
