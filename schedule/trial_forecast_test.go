package schedule_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

// forecast asks what the scheduler foresees on the day that it is.
func (s *stage) forecast(c schedule.Concert) schedule.Readiness {
	days := map[repertoire.Day]bool{}
	byPiece := map[int64][]schedule.Play{}
	for i, plays := range s.plays {
		byPiece[int64(i+1)] = plays
		for _, p := range plays {
			if p.Day >= 0 {
				days[p.Day] = true
			}
		}
	}
	pace := schedule.PaceOf(s.plan.pieces, byPiece, float64(len(days))/float64(s.day))
	return schedule.Prospect{Future: schedule.Future{
		From: repertoire.Day(s.day), Concerts: []schedule.Concert{c}, Calendar: everyDay(aDay), Pieces: s.plan.pieces, Pace: pace,
	}, Concert: c}.Readiness()
}

// Of the pieces that are given a chance, about that part makes it, and so it is
// with whole sets. TRIAL=1 prints the table of more players, TRIAL=2 that of
// others, by whom no figure was chosen.
func TestForecastsAreCalibrated(t *testing.T) {
	first, seeds, some := 101, 1, laws[1:2]
	if os.Getenv("TRIAL") != "" {
		seeds, some = 6, laws
	}
	if os.Getenv("TRIAL") == "2" {
		first = 201
	}
	const parts = 5
	for _, before := range []int{30, 14} {
		var given, made [parts]float64
		var n [parts]int
		setGiven, setMade := 0.0, 0.0
		for _, l := range some {
			for _, p := range players {
				for seed := range seeds {
					s := newStage(l, p, uint64(first+seed))
					c := s.set(uint64(first + seed))
					for range notice - before {
						s.live(counter{s.plan, c}, aDay)
					}
					foreseen := s.forecast(c)
					for range before {
						s.live(counter{s.plan, c}, aDay)
					}
					for _, f := range foreseen.Set {
						at := min(int(f.Chance*parts), parts-1)
						n[at]++
						given[at] += f.Chance
						if h := s.hands[f.Piece-1]; h.begun && h.ready(s.day) {
							made[at]++
						}
					}
					setGiven += foreseen.Chance
					if ofSet, _ := s.ready(c); ofSet == len(c.Set) {
						setMade++
					}
				}
			}
		}
		var rows []string
		for i := range n {
			rows = append(rows, fmt.Sprintf("given %3.0f %%: made %3.0f %% of %d", 100*given[i]/float64(n[i]), 100*made[i]/float64(n[i]), n[i]))
		}
		sets := float64(seeds * len(some) * len(players))
		t.Logf("%d days out\n%s\nwhole sets given %.0f %%, made %.0f %%", before, strings.Join(rows, "\n"), 100*setGiven/sets, 100*setMade/sets)
		last := parts - 1
		if made[last] < 0.85*given[last] || made[0] > given[0]+0.25*float64(n[0]) {
			t.Errorf("%d days out, forecasts are off", before)
		}
		if seeds > 1 && math.Abs(setGiven-setMade) > 0.1*sets {
			t.Errorf("%d days out, whole sets are given %.0f of %.0f, and %.0f made it", before, setGiven, sets, setMade)
		}
	}
}
