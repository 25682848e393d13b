package schedule

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

var always = Calendar{Week: Week{45, 45, 45, 45, 45, 45, 45}}

func anyConcert(t *rapid.T, all []Candidate) Concert {
	c := Concert{Name: "Spring", Day: today + repertoire.Day(rapid.IntRange(0, 40).Draw(t, "until")), Minutes: 30}
	for _, piece := range all {
		if rapid.Bool().Draw(t, "in the set") {
			c.Set = append(c.Set, Place{Piece: piece.ID, Tempo: rapid.IntRange(40, 200).Draw(t, "tempo"), Minutes: rapid.IntRange(0, 4).Draw(t, "for")})
		}
	}
	return c
}

// A day before a concert holds what it can and no more, no piece twice, nothing
// new in the last week but on a way through the set; and a day that has a
// run-through has it whole, or not at all.
func TestDaysBeforeAConcert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := anyRepertoire(t)
		c := anyConcert(t, all)
		awake := c.Awake(setAside(today, all))
		minutes := rapid.IntRange(1, 120).Draw(t, "minutes")
		r := Rehearse(today, always, []Concert{c}, setAside(today, all))
		plan := r.PlanDay(minutes, all)
		r = r.Settle(minutes, func(piece int64) (Candidate, bool) { return all[piece-1], true })
		if plan.Minutes() > minutes {
			t.Fatalf("%d of %d minutes", plan.Minutes(), minutes)
		}
		turns := map[int64]int{}
		run := 0
		for _, turn := range plan.Turns {
			turns[turn.ID]++
			inRun := strings.HasPrefix(turn.Why, "run-through")
			if inRun {
				if turn.ID != awake.Set[run].Piece || turn.Target > awake.Set[run].Tempo {
					t.Fatalf("the run-through has %+v at %d", turn, run)
				}
				run++
			}
			if turns[turn.ID] > 1 || turn.Minutes < 1 {
				t.Fatalf("%+v", turn)
			}
			if turn.Stage == Untouched && len(awake.Set) > 0 && c.Day-today <= freshUntil && !r.passes(turn.ID) {
				t.Fatalf("new, %d days before: %+v", c.Day-today, turn)
			}
			if all[turn.ID-1].Rests(today) {
				t.Fatalf("it rests: %+v", turn)
			}
			if i := c.At(turn.ID); i >= 0 && turn.Goal != all[turn.ID-1].Goal {
				t.Fatalf("its goal became %d", turn.Goal)
			}
		}
		if run != 0 && run != len(awake.Set) {
			t.Fatalf("%d of %d run through", run, len(awake.Set))
		}
	})
}

// The day before a concert goes once through its set, in its order and below its
// tempos, and the day itself warms it up, a minute each: every piece while there
// is a minute for it, before all else, and none shortened while another is longer.
func TestLightDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := anyRepertoire(t)
		c := anyConcert(t, all)
		c.Day = today + repertoire.Day(rapid.IntRange(0, 1).Draw(t, "until"))
		c = c.Awake(setAside(today, all))
		if len(c.Set) == 0 {
			t.Skip()
		}
		r := Rehearse(today, always, []Concert{c}, setAside(today, all))
		minutes := rapid.IntRange(1, 90).Draw(t, "minutes")
		turns := r.PlanDay(minutes, all).Turns
		n := min(len(c.Set), minutes)
		if len(turns) < n {
			t.Fatalf("%d turns of %d", len(turns), n)
		}
		longest := 0
		for _, turn := range turns[:n] {
			longest = max(longest, turn.Minutes)
		}
		for i, turn := range turns[:n] {
			place := c.Set[i]
			wanted := r.passMinutes(all[place.Piece-1])
			shortened := turn.Minutes < wanted && turn.Minutes < longest-1
			if turn.ID != place.Piece || turn.Minutes < 1 || turn.Minutes > wanted || shortened || turn.Begin > turn.Target {
				t.Fatalf("%d of %d: %+v", i, n, turn)
			}
			if turn.Target >= place.Tempo && place.Tempo > repertoire.MinTempo || !strings.HasPrefix(turn.Why, "Spring t") {
				t.Fatalf("at %d, needs %d: %s", turn.Target, place.Tempo, turn.Why)
			}
		}
		if c.Day == today && len(r.PlanDay(r.Minutes(minutes), all).Turns) > len(c.Set) {
			t.Fatal("more than the set")
		}
	})
}

// More minutes never drop a turn, on a day without a run-through.
func TestMoreMinutesBeforeAConcert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := anyRepertoire(t)
		r := Rehearse(today, always, []Concert{anyConcert(t, all)}, setAside(today, all))
		if r.Runs {
			t.Skip()
		}
		minutes := rapid.IntRange(1, 100).Draw(t, "minutes")
		more := r.PlanDay(minutes+rapid.IntRange(1, 20).Draw(t, "more"), all)
		for _, turn := range r.PlanDay(minutes, all).Turns {
			if !slices.ContainsFunc(more.Turns, func(other Turn) bool { return other.ID == turn.ID }) {
				t.Fatalf("%d lost its turn", turn.ID)
			}
		}
	})
}

// A concert that is over leaves the plan as it would be without it.
func TestAfterAConcert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := anyRepertoire(t)
		c := anyConcert(t, all)
		c.Day = today - 1
		if got := Rehearse(today, always, []Concert{c}, setAside(today, all)).PlanDay(45, all); !reflect.DeepEqual(got, PlanDay(today, 45, all)) {
			t.Fatalf("%+v", got)
		}
	})
}

// The days were counted by hand; a day without minutes moves its run-through.
func TestRunThroughs(t *testing.T) {
	c := Concert{Day: 100}
	if got := c.RunThroughs(always); !slices.Equal(got, []repertoire.Day{87, 90, 93, 96, 98}) {
		t.Errorf("%v", got)
	}
	away := always
	away.Absences = []Absence{{97, 98}}
	if got := c.RunThroughs(away); !slices.Equal(got, []repertoire.Day{87, 90, 93, 95, 96}) {
		t.Errorf("%v", got)
	}
	if got := c.RunThroughs(Calendar{}); len(got) != 0 {
		t.Errorf("%v", got)
	}
}

// The same question has the same answer, and a chance is one.
func TestForesee(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := anyRepertoire(t)
		c := anyConcert(t, all)
		c.Day = min(c.Day, today+4)
		ask := func() Readiness {
			return Prospect{Future{From: today, Concerts: []Concert{c}, Calendar: always, Pieces: all, Pace: Pace{Doubt: 0.5, Shows: 0.9}}, c}.Readiness()
		}
		got := ask()
		if !reflect.DeepEqual(got, ask()) || len(got.Set) != len(c.Awake(setAside(today, all)).Set) {
			t.Fatalf("%+v", got)
		}
		for _, f := range got.Set {
			if all[f.Piece-1].Rests(today) {
				t.Fatalf("it rests: %+v", f)
			}
			if f.Chance < got.Chance || f.Chance > 1 || f.Low > f.Middle || f.Middle > f.High || f.Verdict(today, all[f.Piece-1]) == "" {
				t.Fatalf("%+v of %+v", f, got)
			}
		}
	})
}
