package db

import (
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
		var ids []int64
		for i := range rapid.IntRange(1, 12).Draw(t, "pieces") {
			p := repertoire.Piece{
				Title: "Piece " + string(rune('A'+i)), Kind: rapid.SampledFrom(repertoire.Kinds).Draw(t, "kind"), Tala: "teental",
				Start: 60, Goal: 120, Resting: repertoire.Never,
				Bols: rapid.SampledFrom([]string{"", "dha ti te dha ti te dha", "dha ti te dha ge na"}).Draw(t, "bols"),
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
			if rapid.IntRange(0, 3).Draw(t, "new") == 0 {
				continue
			}
			for day := repertoire.Day(20000); day < monday; day += repertoire.Day(rapid.IntRange(1, 20).Draw(t, "gap")) {
				play := anyPlay(t, id)
				play.Day = day
				if _, _, err := s.Log(play); err != nil {
					t.Fatal(err)
				}
			}
		}
		minutes := rapid.IntRange(1, 90).Draw(t, "minutes")
		all, err := s.All()
		if err != nil {
			t.Fatal(err)
		}
		resting := map[int64]bool{}
		for _, c := range all {
			resting[c.ID] = c.Rests(monday)
		}
		want := schedule.Rehearse(monday, schedule.Calendar{Week: schedule.Week{1, 1, 1, 1, 1, 1, 1}}, anyConcerts(t, s, all), resting).PlanDay(minutes, all)
		check := func(when string) {
			turns, left := plan(t, s, minutes)
			if !slices.Equal(turns, want.Turns) {
				t.Fatalf("%s the turns are\n%+v\nwant\n%+v", when, turns, want.Turns)
			}
			if !slices.Equal(left, want.Left) {
				t.Fatalf("%s left out are\n%+v\nwant\n%+v", when, left, want.Left)
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

func plan(t *rapid.T, s *Store, minutes int) ([]schedule.Turn, []schedule.LeftOut) {
	m, err := s.Morning(monday)
	if err != nil {
		t.Fatal(err)
	}
	claims, err := m.Claims(minutes, monday)
	if err != nil {
		t.Fatal(err)
	}
	taken, denied := m.Choose(minutes, claims)
	var ids []int64
	for _, c := range taken {
		ids = append(ids, c.Piece)
	}
	chosen, err := m.Candidates(ids)
	if err != nil {
		t.Fatal(err)
	}
	var left []schedule.LeftOut
	for _, d := range denied {
		c, err := m.Candidates([]int64{d.Piece})
		if err != nil {
			t.Fatal(err)
		}
		left = append(left, schedule.LeftOut{Candidate: c[0], Why: schedule.WhyLeft(monday, c[0], d.Denial)})
	}
	return m.Arrange(minutes, chosen), left
}
