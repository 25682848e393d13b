package db

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
	"dohra/schedule"
)

func memory(t interface{ Fatal(...any) }) *Store {
	s, err := OpenMemory()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func addPiece(t interface{ Fatal(...any) }, s *Store, title string) int64 {
	id, err := s.AddPiece(repertoire.Piece{
		Title: title, Kind: "kaida", Tala: "teental", Start: 60, Goal: 120, Resting: repertoire.Never,
	})
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// family adds a kaida and a palta that has three quarters of its phrases.
func family(t interface{ Fatal(...any) }, s *Store) []int64 {
	kaida, err := s.AddPiece(repertoire.Piece{
		Title: "Mill kaida", Kind: "kaida", Tala: "teental", Start: 60, Goal: 120, Resting: repertoire.Never,
		Bols: "dha ti te dha ti te dha dha ti te dha ge tu na ka ta",
	})
	if err != nil {
		t.Fatal(err)
	}
	palta, err := s.AddPiece(repertoire.Piece{
		Title: "Mill palta", Kind: "palta", Tala: "teental", Start: 60, Goal: 120, Resting: repertoire.Never, After: kaida,
		Bols: "dha ti te dha ti te dha dha ti te dha ge ge na dha dha",
	})
	if err != nil {
		t.Fatal(err)
	}
	return []int64{kaida, palta}
}

func anyPlay(t *rapid.T, piece int64) schedule.Play {
	return schedule.Play{
		Piece: piece, Day: repertoire.Day(20000 + rapid.IntRange(0, 60).Draw(t, "day")),
		Tempo:   rapid.SampledFrom([]int{60, 96, 116, 120, 120, 120, 126}).Draw(t, "tempo"),
		Clarity: schedule.Clarity(rapid.SampledFrom([]int{0, 2, 3, 4, 4, 4, 5}).Draw(t, "clarity")),
		Minutes: rapid.IntRange(0, 240).Draw(t, "minutes"),
		Sore:    rapid.Bool().Draw(t, "sore"),
		Spoken:  rapid.IntRange(0, 3).Draw(t, "spoken") == 0,
	}.Of(rapid.SampledFrom([]schedule.Part{{}, {}, {}, {}, {From: 1, To: 1}, {From: 2, To: 2}, {From: 1, To: 2}}).Draw(t, "part"))
}

func standing(t *rapid.T, s *Store, id int64) schedule.Standing {
	c, err := s.Piece(id)
	if err != nil {
		t.Fatal(err)
	}
	return c.Standing
}

// Whatever the order in which plays are logged, the standing is the one that
// logging them in the order of their days would have given.
func TestLoggingLateEqualsLoggingInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := memory(t)
		defer s.Close()
		id := addPiece(t, s, "Mill kaida")
		var plays []schedule.Play
		for range rapid.IntRange(1, 12).Draw(t, "plays") {
			p := anyPlay(t, id)
			if _, _, err := s.Log(p); err != nil {
				t.Fatal(err)
			}
			plays = append(plays, p)
		}
		slices.SortStableFunc(plays, func(a, b schedule.Play) int { return int(a.Day - b.Day) })
		if got, want := standing(t, s, id), schedule.Replay(60, 120, plays); got != want {
			t.Fatalf("kept  %+v\nwanted %+v", got, want)
		}
	})
}

func TestUndoEqualsNever(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := memory(t)
		defer s.Close()
		ids := append(family(t, s), addPiece(t, s, "Kite gat"))
		n := rapid.IntRange(0, 8).Draw(t, "kept")
		states := []string{digest(t, s)}
		for range n + rapid.IntRange(1, 4).Draw(t, "undone") {
			if _, _, err := s.Log(anyPlay(t, rapid.SampledFrom(ids).Draw(t, "piece"))); err != nil {
				t.Fatal(err)
			}
			states = append(states, digest(t, s))
		}
		for i := len(states) - 2; i >= n; i-- {
			if _, _, err := s.Undo(); err != nil {
				t.Fatal(err)
			}
			if got := digest(t, s); got != states[i] {
				t.Fatalf("after undo:\n%s\nbefore the play:\n%s", got, states[i])
			}
		}
	})
}

// Rebuilding gives the standings that were kept, to the same bytes.
func TestRebuildChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := memory(t)
		defer s.Close()
		ids := append(family(t, s), addPiece(t, s, "Kite gat"))
		for range rapid.IntRange(0, 12).Draw(t, "plays") {
			if _, _, err := s.Log(anyPlay(t, rapid.SampledFrom(ids).Draw(t, "piece"))); err != nil {
				t.Fatal(err)
			}
		}
		before := digest(t, s)
		if err := s.Rebuild(); err != nil {
			t.Fatal(err)
		}
		if after := digest(t, s); after != before {
			t.Fatalf("rebuilt:\n%s\nkept:\n%s", after, before)
		}
	})
}

// digest writes down every row of plays and standings.
func digest(t interface{ Fatal(...any) }, s *Store) string {
	all := ""
	for _, query := range []string{"SELECT * FROM play ORDER BY id", "SELECT * FROM standing ORDER BY piece"} {
		rows, err := s.db.Query(query)
		if err != nil {
			t.Fatal(err)
		}
		columns, _ := rows.Columns()
		for rows.Next() {
			cells := make([]any, len(columns))
			for i := range cells {
				cells[i] = new(any)
			}
			if err := rows.Scan(cells...); err != nil {
				t.Fatal(err)
			}
			for _, cell := range cells {
				all += fmt.Sprint(*cell.(*any), " ")
			}
			all += "\n"
		}
		rows.Close()
	}
	return all
}

func TestUndoWithoutPlays(t *testing.T) {
	s := memory(t)
	defer s.Close()
	if _, _, err := s.Undo(); err != ErrNothing {
		t.Errorf("undo of nothing: %v", err)
	}
}

// A change of the goal is applied to the plays that were there before it.
func TestNewGoalReplays(t *testing.T) {
	s := memory(t)
	defer s.Close()
	id := addPiece(t, s, "Mill kaida")
	for day := range 3 {
		if _, _, err := s.Log(schedule.Play{Piece: id, Day: repertoire.Day(20000 + day), Tempo: 120, Clarity: 4}); err != nil {
			t.Fatal(err)
		}
	}
	for goal, want := range map[int]schedule.Stage{144: schedule.Building, 100: schedule.Kept} {
		c, err := s.Piece(id)
		if err != nil {
			t.Fatal(err)
		}
		c.Goal = goal
		if err := s.UpdatePiece(c.Piece); err != nil {
			t.Fatal(err)
		}
		if c, _ = s.Piece(id); c.Stage != want {
			t.Errorf("goal %d: %s, want %s", goal, c.Stage, want)
		}
	}
}

// A clear play of a palta keeps its kaida alive in part, and one that was not
// clear does not; nor does either move the kaida's interval.
func TestKinHear(t *testing.T) {
	s := memory(t)
	defer s.Close()
	ids := family(t, s)
	log := func(piece int64, day repertoire.Day, q schedule.Clarity) {
		if _, _, err := s.Log(schedule.Play{Piece: piece, Day: day, Tempo: 120, Clarity: q}); err != nil {
			t.Fatal(err)
		}
	}
	kaida := func() schedule.Candidate {
		c, err := s.Piece(ids[0])
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	clean := func() int {
		tempo, _ := kaida().CleanOn(20060)
		return tempo
	}
	log(ids[0], 20000, schedule.Effortless)
	alone, before := clean(), kaida()
	log(ids[1], 20030, schedule.Smudged)
	if got := clean(); got != alone {
		t.Errorf("a smudged palta moves the kaida from %d to %d", alone, got)
	}
	log(ids[1], 20030, schedule.Clear)
	heard := clean()
	if c := kaida(); heard <= alone || c.SM2 != before.SM2 || c.Due != before.Due || c.Last != before.Last {
		t.Errorf("a clear palta leaves the kaida clean at %d, alone %d: %+v", heard, alone, c.Standing)
	}
	palta, err := s.Piece(ids[1])
	if err != nil {
		t.Fatal(err)
	}
	palta.Bols = "na na na na"
	if err := s.UpdatePiece(palta.Piece); err != nil {
		t.Fatal(err)
	}
	if got := clean(); got != alone {
		t.Errorf("with no phrase in common the kaida is clean at %d, not %d", got, alone)
	}
}
