package db

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
	"dohra/schedule"
)

const monday = repertoire.Day(20030)

// The plan made from the file is the one that schedule makes of the whole
// repertoire in memory, and what is played on the day or later leaves it as it
// was.
func TestPlanFromFileIsPlanFromMemory(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := memory(t)
		defer s.Close()
		ids := anyRepertoire(t, s)
		minutes := rapid.IntRange(1, 90).Draw(t, "minutes")
		all := morning(t, s, monday)
		aside := map[int64]bool{}
		for _, c := range all {
			aside[c.ID] = !c.Awake(monday)
		}
		r := schedule.Rehearse(monday, schedule.Calendar{Week: schedule.Week{1, 1, 1, 1, 1, 1, 1}}, anyConcerts(t, s, all), aside)
		want := r.PlanDay(r.Minutes(minutes), all)
		check := func(when string) {
			got := plan(t, s, monday, minutes, schedule.Calendar{}, false)
			if !slices.Equal(got.Turns, want.Turns) {
				t.Fatalf("%s the turns are\n%+v\nwant\n%+v", when, got.Turns, want.Turns)
			}
			if !slices.Equal(got.Left, want.Left) {
				t.Fatalf("%s left out are\n%+v\nwant\n%+v", when, got.Left, want.Left)
			}
			if got.Behind != want.Behind {
				t.Fatalf("%s what is behind is %+v, want %+v", when, got.Behind, want.Behind)
			}
		}
		check("in the morning")
		for range rapid.IntRange(1, 6).Draw(t, "played") {
			play := anyPlay(t, rapid.SampledFrom(ids).Draw(t, "piece"))
			play.Day = monday + repertoire.Day(rapid.IntRange(0, 9).Draw(t, "later"))
			if _, _, err := s.Log(play); err != nil {
				t.Fatal(err)
			}
		}
		check("in the evening")
	})
}

// What the days past asked for is what the plan of each of them says, whatever was
// played since and whoever heard it.
func TestAskedIsWhatMorningsPlan(t *testing.T) {
	const from, to = monday - 6, monday + 8
	rapid.Check(t, func(t *rapid.T) {
		s := memory(t)
		defer s.Close()
		ids := anyRepertoire(t, s)
		week := schedule.Week{20, 20, 20, rapid.SampledFrom([]int{0, 60}).Draw(t, "thursday"), 20, 20, rapid.IntRange(2, 60).Draw(t, "sunday")}
		away := schedule.Absence{From: monday - 1 + repertoire.Day(rapid.IntRange(0, 6).Draw(t, "leaves"))}
		away.To = away.From + repertoire.Day(rapid.IntRange(0, 7).Draw(t, "for"))
		err := errors.Join(s.ChooseWeek(week),
			s.ChangeAbsences(func([]schedule.Absence) ([]schedule.Absence, error) { return []schedule.Absence{away}, nil }))
		if err != nil {
			t.Fatal(err)
		}
		anyConcerts(t, s, morning(t, s, from))
		for day := from; day <= to; day += repertoire.Day(rapid.IntRange(1, 3).Draw(t, "gap")) {
			play := anyPlay(t, rapid.SampledFrom(ids).Draw(t, "piece"))
			play.Day = day
			if _, _, err := s.Log(play); err != nil {
				t.Fatal(err)
			}
		}
		calendar, _, err := s.Calendar(45)
		if err != nil {
			t.Fatal(err)
		}
		concerts, err := s.Concerts()
		if err != nil {
			t.Fatal(err)
		}
		heard, err := s.HeardBetween(from, to)
		if err != nil {
			t.Fatal(err)
		}
		old := rapid.Bool().Draw(t, "old piece")
		for day, asked := range schedule.Asked(from, to, calendar, old, concerts, morning(t, s, from), heard) {
			want := plan(t, s, day, calendar.Minutes(day), calendar, old)
			forget(asked)
			forget(want)
			if !slices.Equal(asked.Turns, want.Turns) || !slices.Equal(asked.Left, want.Left) || asked.Behind != want.Behind {
				t.Fatalf("%s asked\n%+v\nbut its plan is\n%+v", day, asked, want)
			}
		}
	})
}

// forget takes out of a plan what is only known while it matters.
func forget(p schedule.Plan) {
	for i := range p.Turns {
		p.Turns[i].Begun = 0
	}
	for i := range p.Left {
		p.Left[i].Begun = 0
	}
}

// morning returns all pieces as they stood when the day began.
func morning(t *rapid.T, s *Store, day repertoire.Day) []schedule.Candidate {
	m, err := s.Morning(day)
	if err != nil {
		t.Fatal(err)
	}
	all, err := m.All()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// anyRepertoire keeps pieces, their families and their plays before monday, and
// returns their ids.
func anyRepertoire(t *rapid.T, s *Store) (ids []int64) {
	for i := range rapid.IntRange(1, 12).Draw(t, "pieces") {
		p := repertoire.Piece{
			Title: "Piece " + string(rune('A'+i)), Kind: rapid.SampledFrom(repertoire.Kinds).Draw(t, "kind"), Tala: "teental",
			Start: 60, Goal: 120, Resting: repertoire.Never,
			Added: monday + repertoire.Day(rapid.SampledFrom([]int{-40, -1, 0, 1, 8}).Draw(t, "added")),
			Bols:  rapid.SampledFrom([]string{"", "dha ti te dha ti te dha", "dha ti te dha ge na"}).Draw(t, "bols"),
		}
		if i > 0 && rapid.Bool().Draw(t, "follows") {
			p.After = rapid.SampledFrom(ids).Draw(t, "after")
		}
		if rapid.IntRange(0, 5).Draw(t, "rests") == 0 {
			p.Resting = monday - 1
		}
		id, err := s.AddPiece(p)
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, id)
		first := 20000 + repertoire.Day(rapid.SampledFrom([]int{0, 0, 0, 30}).Draw(t, "first")) // 30: never played
		for day := first; day < monday; day += repertoire.Day(rapid.IntRange(1, 20).Draw(t, "gap")) {
			play := anyPlay(t, id)
			play.Day = day
			if _, _, err := s.Log(play); err != nil {
				t.Fatal(err)
			}
		}
	}
	return ids
}

// anyConcerts keeps up to two concerts and returns them.
func anyConcerts(t *rapid.T, s *Store, all []schedule.Candidate) (concerts []schedule.Concert) {
	for i := range rapid.IntRange(0, 2).Draw(t, "concerts") {
		c := schedule.Concert{Name: string(rune('A' + i)), Day: monday + repertoire.Day(20*i+rapid.IntRange(0, 19+80*i).Draw(t, "until")), Minutes: 30}
		for _, piece := range all {
			if rapid.Bool().Draw(t, "in the set") {
				c.Set = append(c.Set, schedule.Place{Piece: piece.ID, Tempo: rapid.IntRange(60, 140).Draw(t, "tempo"), Minutes: rapid.IntRange(0, 3).Draw(t, "for")})
			}
		}
		if err := s.ChangeConcert(c.Name, func(kept *schedule.Concert) error { *kept = c; return nil }); err != nil {
			t.Fatal(err)
		}
		concerts = append(concerts, c)
	}
	return concerts
}

// plan is the plan of a day that has those minutes.
func plan(t *rapid.T, s *Store, day repertoire.Day, minutes int, c schedule.Calendar, oldPiece bool) schedule.Plan {
	m, err := s.Morning(day)
	if err != nil {
		t.Fatal(err)
	}
	minutes = m.Minutes(minutes)
	claims, err := m.Claims(minutes, c.Horizon(day))
	if err != nil {
		t.Fatal(err)
	}
	m.Prepare(c, oldPiece, claims)
	taken, denied := m.Choose(minutes, claims)
	var ids []int64
	for _, c := range taken {
		ids = append(ids, c.Piece)
	}
	chosen, err := m.Candidates(ids)
	if err != nil {
		t.Fatal(err)
	}
	for i := range chosen {
		chosen[i].Away = taken[i].Away
	}
	var left []schedule.LeftOut
	for _, d := range denied {
		c, err := m.Candidates([]int64{d.Piece})
		if err != nil {
			t.Fatal(err)
		}
		left = append(left, schedule.LeftOut{Candidate: c[0], Why: schedule.WhyLeft(day, c[0], d.Denial)})
	}
	daily, err := m.Daily()
	if err != nil {
		t.Fatal(err)
	}
	return schedule.Plan{Turns: m.Arrange(minutes, chosen), Left: left, Behind: schedule.BacklogOf(day, taken, denied, daily)}
}
