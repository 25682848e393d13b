package schedule

import (
	"strings"
	"testing"

	"dohra/repertoire"
)

// What would not survive an absence comes on one of the days before it, once;
// what would is left alone.
func TestBeforeAway(t *testing.T) {
	c := everyDay(20)
	c.Absences = []Absence{{today + 3, today + 100}}
	firm := piece(9, "gat", 120)
	for day := today - 400; day < today-8; day += 40 {
		firm.Standing = firm.Add(120, Play{Day: day, Tempo: 132, Clarity: Effortless})
	}
	firm.Standing = firm.Add(120, Play{Day: today - 8, Tempo: 132, Clarity: Effortless})
	pieces := []Candidate{firm, kept(1, "gat", 120, -10), kept(2, "gat", 120, -9), kept(3, "gat", 120, -10), kept(4, "gat", 120, -8)}
	for i := range pieces[1:] { // a longer interval, so that none is due
		p := &pieces[i+1]
		p.Due += 100
		p.SM2.Interval += 100
	}
	turns := map[int64]int{}
	for day := today; day < today+3; day++ {
		plan := Rehearsal{Day: day}.plan(c, false, c.Minutes(day), pieces)
		for _, turn := range plan.Turns {
			if strings.Contains(turn.Why, "would fade below its goal while you are away") {
				turns[turn.ID]++
				p := &pieces[turn.ID%9]
				p.Standing = p.Add(p.Goal, Play{Day: day, Tempo: p.Goal, Clarity: Clear})
			}
		}
	}
	if len(turns) != 4 || turns[9] > 0 {
		t.Errorf("turns before the absence: %v", turns)
	}
	for id, n := range turns {
		if n != 1 {
			t.Errorf("piece %d had %d turns", id, n)
		}
	}
}

func TestHorizonAndEase(t *testing.T) {
	c := everyDay(30)
	c.Absences = []Absence{{10, 16}, {30, 32}}
	for _, test := range []struct {
		day, horizon repertoire.Day
		minutes      int
	}{
		{4, 4, 30}, {5, 17, 30}, {9, 17, 30}, {10, 10, 0}, {16, 16, 0}, {17, 17, 15}, {18, 18, 23}, {19, 19, 30},
		{29, 33, 30}, {33, 33, 30}, // three days away call for no ease
	} {
		if got := c.Horizon(test.day); got != test.horizon {
			t.Errorf("from day %d it looks to %d, not %d", test.day, got, test.horizon)
		}
		if got := c.Minutes(test.day); got != test.minutes {
			t.Errorf("day %d has %d minutes, not %d", test.day, got, test.minutes)
		}
	}
}
