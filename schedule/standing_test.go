package schedule

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

const goal = 120

// played replays plays given as day, tempo, clarity.
func played(plays ...[3]int) Standing {
	var list []Play
	for _, p := range plays {
		list = append(list, Play{Day: repertoire.Day(p[0]), Tempo: p[1], Clarity: Clarity(p[2])})
	}
	return Replay(60, goal, list)
}

func TestStanding(t *testing.T) {
	for _, c := range []struct {
		name     string
		plays    [][3]int
		stage    Stage
		interval int
		due      repertoire.Day
	}{
		{"untouched", nil, Untouched, 0, repertoire.Never},
		{"below the goal it is building, due the next day", [][3]int{{0, 60, 4}}, Building, 0, 1},
		{"below the goal a play moves the belief, not the interval",
			[][3]int{{0, 120, 4}, {1, 120, 4}, {3, 100, 4}}, Kept, 6, 7},
		{"strained at the goal does not make it kept", [][3]int{{0, 112, 4}, {1, 120, 3}}, Building, 0, 2},
		{"clear at the goal makes it kept", [][3]int{{0, 120, 4}}, Kept, 1, 1},
		{"then SM-2: 1, 6, 15", [][3]int{{0, 120, 4}, {1, 120, 4}, {7, 120, 4}}, Kept, 15, 22},
		{"several plays a day count once", [][3]int{{0, 120, 4}, {0, 120, 5}, {1, 120, 4}, {1, 120, 4}, {1, 126, 4}}, Kept, 6, 7},
		{"after it has counted, a failure the same day is practice", [][3]int{{0, 120, 4}, {0, 120, 1}}, Kept, 1, 1},
		{"strained at the goal keeps it kept", [][3]int{{0, 120, 4}, {1, 120, 3}}, Kept, 6, 7},
		{"below clarity 3 at the goal it has slipped", [][3]int{{0, 120, 4}, {1, 120, 4}, {7, 120, 2}}, Slipped, 1, 8},
		{"so it has when it fails slower, but the interval stays",
			[][3]int{{0, 120, 4}, {1, 120, 4}, {7, 100, 2}}, Slipped, 6, 8},
		{"failing faster than the goal was only too fast", [][3]int{{0, 120, 4}, {1, 144, 1}}, Kept, 1, 1},
		{"clear again the same day is kept, with no more interval",
			[][3]int{{0, 120, 4}, {1, 120, 4}, {7, 120, 2}, {7, 120, 4}}, Kept, 1, 8},
	} {
		s := played(c.plays...)
		if s.Stage != c.stage || s.SM2.Interval != c.interval || s.Due != c.due {
			t.Errorf("%s: %s, interval %d, due %d; want %s, %d, %d", c.name,
				s.Stage, s.SM2.Interval, s.Due, c.stage, c.interval, c.due)
		}
	}
}

func TestSlippedPieceClimbsBackQuickly(t *testing.T) {
	plays := [][3]int{{0, 120, 4}, {1, 120, 4}, {7, 120, 4}, {22, 120, 4}} // 38 days
	slipped := played(append(plays, [3]int{60, 120, 1})...)
	if slipped.SM2.Ease != 250 || slipped.LostAt != 38 {
		t.Errorf("it keeps its ease and remembers its interval: %+v", slipped)
	}
	if got := slipped.Target(61, goal); got < 96 || got > 112 {
		t.Errorf("it comes back from %d, want a good tenth below its goal", got)
	}
	back := slipped
	days := 0
	for day := repertoire.Day(61); back.Stage != Kept; day++ {
		back = back.Add(goal, Play{Day: day, Tempo: back.Target(day, goal), Clarity: Clear})
		days++
	}
	if days > 5 {
		t.Errorf("%d clear days to climb back", days)
	}
	for n := 0; back.LostAt > 0; n++ {
		if n > 3 {
			t.Fatalf("after %d more repetitions it stands at %d of 38 days", n, back.SM2.Interval)
		}
		back = back.Add(goal, Play{Day: back.Due, Tempo: goal, Clarity: Clear})
	}
}

// A clear play at an easy tempo is no sign of weakness.
func TestSlowClearPlayTakesNothing(t *testing.T) {
	kept := played([3]int{0, 120, 4}, [3]int{1, 120, 4}, [3]int{7, 120, 5}, [3]int{22, 120, 5})
	for _, tempo := range []int{40, 60, 80, 104, 116} {
		s := kept.Add(goal, Play{Day: 30, Tempo: tempo, Clarity: Clear})
		before, _ := kept.CleanOn(30)
		if after, _ := s.CleanOn(30); after < before || s.DueOn(goal) < kept.DueOn(goal) {
			t.Errorf("%d clear: clean %d, was %d; due on %s, was %s", tempo, after, before, s.DueOn(goal), kept.DueOn(goal))
		}
	}
}

func anyPlay(day repertoire.Day) *rapid.Generator[Play] {
	return rapid.Custom(func(t *rapid.T) Play {
		return Play{
			Day: day, Tempo: rapid.IntRange(20, 400).Draw(t, "tempo"),
			Clarity: Clarity(rapid.IntRange(0, 5).Draw(t, "clarity")),
		}
	})
}

// anyPlays draws plays in the order of their days, tempos mostly near the goal.
func anyPlays(t *rapid.T, goal int) []Play {
	var plays []Play
	day := 0
	for range rapid.IntRange(0, 60).Draw(t, "plays") {
		day += rapid.SampledFrom([]int{0, 0, 1, 1, 1, 2, 5, 20, 90}).Draw(t, "gap")
		tempo := rapid.SampledFrom([]int{goal, goal, goal - 10, goal + 4, rapid.IntRange(20, 400).Draw(t, "any")}).Draw(t, "tempo")
		plays = append(plays, Play{
			Day: repertoire.Day(day), Tempo: min(400, max(20, tempo)),
			Clarity: Clarity(rapid.SampledFrom([]int{0, 1, 2, 3, 4, 4, 4, 5, 5}).Draw(t, "clarity")),
			Spoken:  rapid.IntRange(0, 5).Draw(t, "spoken") == 0,
		})
	}
	return plays
}

// checkSpoken: what is spoken moves no tempo, stage or interval on its day, and
// the piece fades no faster afterwards.
func checkSpoken(t *rapid.T, was, s Standing, p Play, goal int) {
	stands := func(s Standing) Standing {
		s.Belief, s.Spoken = Belief{}, 0
		return s
	}
	if stands(was) != stands(s) {
		t.Fatalf("it moved more than the belief:\n%+v\n%+v", was, s)
	}
	const dust = 3e-6 // of rounding
	for days := range repertoire.Day(400) {
		before, _ := was.on(p.Day + days)
		after, _ := s.on(p.Day + days)
		if days == 0 && after > before+dust || after < before-dust {
			t.Fatalf("after %d days the edge is %v, it would have been %v", days, after, before)
		}
	}
	if p.Clarity < Clear && s != was {
		t.Fatal("it was not clear, and moved something")
	}
}

func TestLawsOfStanding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		goal := rapid.IntRange(20, 400).Draw(t, "goal")
		start := rapid.IntRange(20, goal).Draw(t, "start")
		plays := anyPlays(t, goal)
		s, kept := New(start), false
		for i, p := range plays {
			was := s
			s = s.Add(goal, p)
			if whole := Replay(start, goal, plays[:i+1]); whole != s {
				t.Fatalf("replay and one by one differ:\n%+v\n%+v", whole, s)
			}
			if !s.Valid() {
				t.Fatalf("not valid: %+v", s)
			}
			if p.Line == 0 && !p.Spoken && p.Tempo >= goal && p.Clarity >= Clear && s.StageOn(p.Day, goal) != Kept {
				t.Fatalf("clear at its goal it is %s: %+v", s.StageOn(p.Day, goal), s)
			}
			kept = kept || s.Stage == Kept
			if kept && (s.Stage == Building || s.Stage == Untouched) {
				t.Fatalf("it was kept and is %s", s.Stage)
			}
			if p.Spoken {
				checkSpoken(t, was, s, p, goal)
				continue
			}
			if counted := s.Repeated == p.Day; counted && s.Due <= p.Day || s.Stage != Kept && s.Due != p.Day+1 {
				t.Fatalf("played on %d, %s, due on %d", p.Day, s.Stage, s.Due)
			}
			if p.Tempo < goal && s.SM2 != was.SM2 {
				t.Fatalf("a play below the goal moved the interval")
			}
			if s.SM2.Interval > longest || s.SM2.N > 0 && s.SM2.Ease < lowestEase {
				t.Fatalf("out of range: %+v", s.SM2)
			}
		}
	})
}

func TestDailyPlayEarnsLittle(t *testing.T) {
	s := New(60)
	for day := range 200 {
		was := s.SM2.Interval
		s = s.Add(goal, Play{Day: repertoire.Day(day), Tempo: goal, Clarity: Effortless})
		if day > 2 && s.SM2.Interval-was > 3 {
			t.Fatalf("day %d: played every day, the interval went from %d to %d", day, was, s.SM2.Interval)
		}
	}
}

func TestParseClarity(t *testing.T) {
	for text, want := range map[string]Clarity{"clear": 4, "Clear": 4, "0": 0, "5": 5, "smudged": 2} {
		if got, err := ParseClarity(text); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "6", "-1", "fine", "4.5", "04"} {
		if got, err := ParseClarity(text); err == nil {
			t.Errorf("%q was read as %s", text, got)
		}
	}
}

func FuzzParseClarity(f *testing.F) {
	for _, seed := range append([]string{"0", "5", "6", ""}, clarities...) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if c, err := ParseClarity(text); err == nil {
			if again, err := ParseClarity(c.String()); err != nil || again != c {
				t.Errorf("%q reads as %s, which reads as %v", text, c, again)
			}
		}
	})
}

func TestPlayCheck(t *testing.T) {
	for _, c := range []struct {
		tempo, minutes int
		ok             bool
	}{{20, 0, true}, {400, 240, true}, {19, 0, false}, {401, 0, false}, {96, 241, false}, {96, -1, false}, {96, 1, true}} {
		if err := (Play{Tempo: c.tempo, Minutes: c.minutes}).Check(); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

func BenchmarkReplay(b *testing.B) {
	var plays []Play
	for i := range 1000 {
		plays = append(plays, Play{Day: repertoire.Day(3 * i), Tempo: 60 + i%80, Clarity: Clarity(2 + i%4)})
	}
	b.Run(fmt.Sprint(len(plays)), func(b *testing.B) {
		for b.Loop() {
			Replay(60, goal, plays)
		}
	})
}
