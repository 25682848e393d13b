package db

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

func TestConcerts(t *testing.T) {
	s := memory(t)
	defer s.Close()
	var ids []int64
	for _, title := range []string{"Kite", "Mill"} {
		id, err := s.AddPiece(repertoire.Piece{Title: title, Kind: "kaida", Tala: "teental", Start: 60, Goal: 120, Added: 20000, Resting: repertoire.Never})
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, id)
	}
	want := schedule.Concert{Name: "Spring recital", Day: 20100, Minutes: 30, Talas: []string{"teental", "rupak"}, Note: "warm room",
		Set: []schedule.Place{{Piece: ids[1], Tempo: 132, Rounds: 2}, {Piece: ids[0], Tempo: 120, Minutes: 6}}}
	if err := s.ChangeConcert(want.Name, func(c *schedule.Concert) error { *c = want; return nil }); err != nil {
		t.Fatal(err)
	}
	if got, err := s.Concerts(); err != nil || !reflect.DeepEqual(got, []schedule.Concert{want}) {
		t.Fatalf("%+v, %v", got, err)
	}

	// By whatever case; refused, nothing changes.
	if err := s.ChangeConcert("SPRING recital", func(c *schedule.Concert) error { c.Minutes = 0; return nil }); err == nil {
		t.Error("a slot of no minutes was kept")
	}
	if err := s.ChangeConcert("SPRING recital", func(c *schedule.Concert) error { c.Minutes = 40; return nil }); err != nil {
		t.Error(err)
	}

	// The archive has it, and reads it again as it was.
	a, err := s.Archive()
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	a.Write(&text)
	again, err := ReadArchive(bytes.NewReader(text.Bytes()))
	if err != nil || !again.same(a) || again.Digest() != a.Digest() || len(again.Concerts) != 1 || again.Concerts[0].Minutes != 40 {
		t.Errorf("%+v, %v", again.Concerts, err)
	}
	for old, spoilt := range map[string]string{`"title":"Kite","tempo":120`: `"title":"Rain","tempo":120`, `"tempo":132`: `"tempo":13`, `"rounds":2`: `"rounds":2,"minutes":3`} {
		if _, err := ReadArchive(strings.NewReader(strings.Replace(text.String(), old, spoilt, 1))); err == nil {
			t.Errorf("%s was read", spoilt)
		}
	}

	// Another file takes it in; then it is what the archive says.
	other := memory(t)
	defer other.Close()
	if _, err := other.Change(func(Archive) (Archive, error) { return again, nil }, noTick); err != nil {
		t.Fatal(err)
	}
	if got, err := other.Archive(); err != nil || got.Digest() != a.Digest() {
		t.Errorf("%+v, %v", got.Concerts, err)
	}

	// A piece that is removed leaves the set; a concert that is dropped is gone.
	if err := s.RemovePiece(ids[1]); err != nil {
		t.Fatal(err)
	}
	if got, err := s.Concerts(); err != nil || len(got[0].Set) != 1 || got[0].Set[0].Piece != ids[0] {
		t.Errorf("%+v, %v", got, err)
	}
	if err := s.DropConcert("spring RECITAL"); err != nil {
		t.Error(err)
	}
	if got, err := s.Concerts(); err != nil || len(got) != 0 {
		t.Errorf("%+v, %v", got, err)
	}
}
