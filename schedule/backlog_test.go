package schedule

import (
	"strings"
	"testing"
)

// After weeks away the day is no longer than it was, and the rest is spread; by
// the day the plan names, a player who plays what is asked has caught up.
func TestBacklogIsSpread(t *testing.T) {
	var all []Candidate
	for id := range int64(60) {
		all = append(all, piece(id+1, "gat", 120,
			[3]int{-180, 120, 4}, [3]int{-179, 120, 4}, [3]int{-173, 120, 4}, [3]int{-158, 120, 4}, [3]int{-120, 120, 5}))
	}
	plan := PlanDay(today, 20, all)
	if plan.Minutes() > 20 || plan.Behind.Pieces != 60-len(plan.Turns) || plan.Behind.Days < 4 || plan.Behind.Days > 12 {
		t.Fatalf("%d minutes, behind: %+v", plan.Minutes(), plan.Behind)
	}
	caughtUp := today
	for ; plan.Behind.Pieces > 0; caughtUp++ {
		for _, turn := range plan.Turns {
			c := &all[turn.ID-1]
			c.Standing = c.Add(c.Goal, Play{Day: caughtUp, Tempo: turn.Target, Clarity: Clear})
		}
		plan = PlanDay(caughtUp+1, 20, all)
	}
	if took := int(caughtUp - today); took > 20 {
		t.Errorf("it took %d days", took)
	}
}

func TestBacklogSaysHowLong(t *testing.T) {
	for _, c := range []struct {
		b    Backlog
		want string
	}{
		{Backlog{}, ""},
		{Backlog{Pieces: 1, Days: 1}, "One more kept piece is due; tomorrow has time for it."},
		{Backlog{Pieces: 30, Days: 6}, "30 more kept pieces are due, spread over about 6 days."},
		{Backlog{Pieces: 30, Needed: 50}, "30 more kept pieces are due than these minutes hold; about 50 a day would hold them."},
	} {
		if got := c.b.String(); got != c.want {
			t.Errorf("%+v: %q", c.b, got)
		}
	}
	var all []Candidate
	for id := range int64(60) {
		all = append(all, kept(id+1, "gat", 120, 0))
	}
	if b := PlanDay(today, 4, all).Behind; b.Needed < 6 || !strings.Contains(b.String(), "would hold") {
		t.Errorf("sixty pieces every fifteen days are more than four minutes: %+v", b)
	}
}
