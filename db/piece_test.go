package db

import (
	"errors"
	"testing"

	"dohra/repertoire"
)

func TestTitlesAreUnique(t *testing.T) {
	s := memory(t)
	defer s.Close()
	addPiece(t, s, "Mill kaida")
	_, err := s.AddPiece(repertoire.Piece{Title: "MILL  kaida", Kind: "gat", Tala: "rupak", Start: 60, Goal: 120, Resting: repertoire.Never})
	if !errors.Is(err, ErrTaken) {
		t.Errorf("a second MILL kaida: %v", err)
	}
}

func TestNothingComesBeforeItself(t *testing.T) {
	s := memory(t)
	defer s.Close()
	ids := []int64{addPiece(t, s, "one"), addPiece(t, s, "two"), addPiece(t, s, "three")}
	after := func(piece, first int) error {
		c, err := s.Piece(ids[piece])
		if err != nil {
			t.Fatal(err)
		}
		c.After = ids[first]
		return s.UpdatePiece(c.Piece)
	}
	if err := errors.Join(after(1, 0), after(2, 1)); err != nil {
		t.Fatal(err)
	}
	for _, first := range []int{0, 1, 2} {
		if err := after(0, first); !errors.Is(err, ErrCircle) {
			t.Errorf("one after %d: %v", first+1, err)
		}
	}
}

func TestRemove(t *testing.T) {
	s := memory(t)
	defer s.Close()
	first, then := addPiece(t, s, "first"), addPiece(t, s, "then")
	c, _ := s.Piece(then)
	c.After = first
	if err := s.UpdatePiece(c.Piece); err != nil {
		t.Fatal(err)
	}
	if err := s.RemovePiece(first); err != nil {
		t.Fatal(err)
	}
	if c, err := s.Piece(then); err != nil || c.After != 0 {
		t.Errorf("it still waits for %d (%v)", c.After, err)
	}
	if _, err := s.Piece(first); err == nil {
		t.Error("it is still there")
	}
}

func TestFamily(t *testing.T) {
	s := memory(t)
	defer s.Close()
	var ids []int64
	for i, title := range []string{"kaida", "palta", "second palta", "tihai", "stranger"} {
		p := repertoire.Piece{Title: title, Kind: "kaida", Tala: "teental", Start: 60, Goal: 120, Resting: repertoire.Never}
		if i > 0 && i < 4 {
			p.After = ids[i/2] // palta after kaida, the others after the palta
		}
		id, err := s.AddPiece(p)
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, id)
	}
	for i, want := range []int{3, 3, 3, 3, 0} {
		if family, err := s.Family(ids[i]); err != nil || len(family) != want {
			t.Errorf("piece %d has %d others in its family, want %d (%v)", i, len(family), want, err)
		}
	}
}

func TestFind(t *testing.T) {
	s := memory(t)
	defer s.Close()
	addPiece(t, s, "Mill kaida")
	addPiece(t, s, "Mill kaida two")
	addPiece(t, s, "Kāyadā of the mill")
	addPiece(t, s, "Seven 7")
	for text, want := range map[string]int{
		"mill": 3, "MILL KAIDA": 1, "two": 1, "kayada": 1, "1": 1, "7": 1, "99": 0, "": 0, "  ": 0, "%": 0, "kaida  TWO": 1,
	} {
		if found, err := s.Find(text); err != nil || len(found) != want {
			t.Errorf("%q finds %v, want %d (%v)", text, found, want, err)
		}
	}
}
