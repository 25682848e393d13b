package db

import (
	"fmt"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

// The pieces that were begun last tell of the pace, by their plays before the
// day; those that were never played tell nothing.
func TestBegun(t *testing.T) {
	_, s := create(t)
	defer s.Close()
	const pieces, today = lateBegun + 5, 20000
	var plays []schedule.Play
	for i := range pieces {
		id := addPiece(t, s, fmt.Sprint("Piece number ", i))
		for _, day := range []repertoire.Day{today, today - 1, repertoire.Day(today - pieces - i)} {
			plays = append(plays, schedule.Play{Piece: id, Day: day, Tempo: 60, Clarity: schedule.Clear})
		}
	}
	addPiece(t, s, "Untouched")
	if err := s.LogAll(plays); err != nil {
		t.Fatal(err)
	}
	begun, err := s.Begun(today)
	if err != nil || len(begun) != lateBegun {
		t.Fatalf("%d pieces, %v", len(begun), err)
	}
	for id, plays := range begun {
		if id > lateBegun || len(plays) != 2 || plays[0].Day != today-pieces-repertoire.Day(id-1) || plays[1].Day != today-1 {
			t.Errorf("piece %d: %v", id, plays)
		}
	}
}
