package db

import (
	"fmt"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

func check(t *testing.T, s *Store) Report {
	t.Helper()
	r, err := s.Check()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// fill keeps pieces and plays of each.
func fill(t testing.TB, s *Store, pieces, plays int) {
	t.Helper()
	var all []schedule.Play
	for i := range pieces {
		id := addPiece(t, s, fmt.Sprintf("Piece %d of the shelf", i))
		for j := range plays {
			all = append(all, schedule.Play{Piece: id, Day: repertoire.Day(19000 + j), Tempo: 60 + j%60, Clarity: schedule.Clear, Note: fmt.Sprint("play ", j)})
		}
	}
	if err := s.LogAll(all); err != nil {
		t.Fatal(err)
	}
}

func TestCheckSound(t *testing.T) {
	_, s := create(t)
	defer s.Close()
	fill(t, s, 3, 5)
	r := check(t, s)
	if len(r.Problems) > 0 || r.Standings != 0 || r.Pieces != 3 || r.Plays != 15 || len(r.Digest) != 32 {
		t.Errorf("%+v", r)
	}
}

// The digest is of the player's truth: standings, ids and empty pages have no
// part in it, and each thing that the player gave has.
func TestDigest(t *testing.T) {
	_, s := create(t)
	defer s.Close()
	fill(t, s, 3, 5)
	before := check(t, s).Digest
	for _, same := range []string{
		"UPDATE standing SET edge = 5", "UPDATE play SET id = id + 100", "DELETE FROM standing", "VACUUM",
		"INSERT INTO setting VALUES ('minutes', 45)",
	} {
		if _, err := s.db.Exec(same); err != nil {
			t.Fatal(err)
		}
		if check(t, s).Digest != before {
			t.Errorf("%s changes the digest", same)
		}
	}
	for _, other := range []string{
		"UPDATE setting SET value = 30", "UPDATE piece SET title = 'Other', folded = 'other' WHERE id = 1",
		"UPDATE piece SET goal = 130 WHERE id = 1", "UPDATE piece SET after = 1 WHERE id = 2", "UPDATE piece SET note = 'x' WHERE id = 1",
		"UPDATE piece SET teacher = 'x' WHERE id = 1", "UPDATE piece SET edited = 1764000000 WHERE id = 1",
		"UPDATE piece SET bols = 'dha' WHERE id = 1", "UPDATE piece SET resting = '2026-01-01' WHERE id = 1",
		"UPDATE play SET tempo = 99 WHERE id = 101", "UPDATE play SET minutes = 9 WHERE id = 101", "DELETE FROM play WHERE id = 102",
		"INSERT INTO tala VALUES ('lamp', 'lamp', '3', '1', '', '')",
	} {
		if _, err := s.db.Exec(other); err != nil {
			t.Fatal(err)
		}
		now := check(t, s).Digest
		if now == before {
			t.Errorf("%s leaves the digest", other)
		}
		before = now
	}
}

func TestCheckFindsStrayedStandings(t *testing.T) {
	for _, damage := range []string{
		"UPDATE standing SET edge = 5 WHERE piece = 1", "DELETE FROM standing WHERE piece = 1", "UPDATE piece SET matras = 7 WHERE id = 1",
	} {
		_, s := create(t)
		fill(t, s, 3, 5)
		if _, err := s.db.Exec(damage); err != nil {
			t.Fatal(err)
		}
		if r := check(t, s); r.Standings != 1 || len(r.Problems) > 0 {
			t.Errorf("%s: %+v", damage, r)
		}
		if err := s.Rebuild(); err != nil {
			t.Fatal(err)
		}
		if r := check(t, s); r.Standings != 0 {
			t.Errorf("%s, mended: %+v", damage, r)
		}
		s.Close()
	}
}

func TestCheckFindsDanglingRows(t *testing.T) {
	_, s := create(t)
	defer s.Close()
	fill(t, s, 2, 3)
	if _, err := s.db.Exec("PRAGMA foreign_keys = 0; DELETE FROM piece WHERE id = 1"); err != nil {
		t.Fatal(err)
	}
	if r := check(t, s); len(r.Problems) == 0 {
		t.Errorf("%+v", r)
	}
}
