package db

import (
	"database/sql"
	"path/filepath"
	"testing"
)

// A file of the first schema is brought up to date, keeps what the player gave,
// and has derived anew what is derived.
func TestFirstSchemaMigrates(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r.db")
	conn, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	first, err := migrations.ReadFile("migration/0001_repertoire.sql")
	if err != nil {
		t.Fatal(err)
	}
	for _, statement := range []string{
		"PRAGMA journal_mode = WAL", string(first),
		"PRAGMA application_id = 1685022834; PRAGMA user_version = 1",
		`INSERT INTO piece VALUES (1, 'Mill gat', 'mill gat', 'gat', 'rupak', 60, 120, NULL, 'tin tin na dhi na dhi na', '', '2026-01-01', NULL)`,
		`INSERT INTO play VALUES (1, 1, '2026-01-02', 120, 4, NULL, 'first'), (2, 1, '2026-01-03', 120, 4, 6, '')`,
		`INSERT INTO standing VALUES (1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0)`,
	} {
		if _, err := conn.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	conn.Close()

	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	c, err := s.Piece(1)
	if err != nil {
		t.Fatal(err)
	}
	if c.Matras != 7 || c.SM2.Interval != 6 || c.Stage.String() != "kept" {
		t.Errorf("%+v", c)
	}
	if plays, err := s.Plays(1); err != nil || len(plays) != 2 || plays[0].Note != "first" {
		t.Errorf("%+v, %v", plays, err)
	}
	var least int
	if err := s.db.QueryRow("SELECT least FROM standing").Scan(&least); err != nil || least != c.Least() {
		t.Errorf("least %d, want %d (%v)", least, c.Least(), err)
	}
}

func TestTalas(t *testing.T) {
	s := memory(t)
	defer s.Close()
	known, err := s.Talas()
	if err != nil {
		t.Fatal(err)
	}
	own := known[0]
	own.Name, own.Vibhags, own.Tali, own.Khali, own.Theka = "Lamp", []int{3, 2}, []int{1}, []int{4}, "dha dhin na ta na"
	if err := s.AddTala(own); err != nil {
		t.Fatal(err)
	}
	own.Name = "LAMP"
	if err := s.AddTala(own); err != ErrTaken {
		t.Errorf("a second lamp: %v", err)
	}
	more, err := s.Talas()
	if err != nil || len(more) != len(known)+1 || more[len(known)].Matras() != 5 || more[len(known)].Khali[0] != 4 {
		t.Errorf("%+v, %v", more[len(known):], err)
	}
	if err := s.RemoveTala("Lamp"); err != nil {
		t.Error(err)
	}
	if left, _ := s.Talas(); len(left) != len(known) {
		t.Error("it is still there")
	}
}
