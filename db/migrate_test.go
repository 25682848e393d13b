package db

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// fixture makes a file of an older schema.
func fixture(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "r.db")
	conn, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	if _, err := conn.Exec(string(text)); err != nil {
		t.Fatal(err)
	}
	return path
}

// fixtureDigest is that of every fixture, as it was when the first was made.
const fixtureDigest = "937978e5170bdcd520731959e958f409"

// A file of every schema that was, holding the same, is brought up to the same,
// has derived anew what is derived, and is backed up as it was.
func TestOlderSchemasMigrate(t *testing.T) {
	for schema := 1; schema < latest(); schema++ {
		if _, err := os.Stat(fmt.Sprintf("testdata/schema-%d.sql", schema)); err != nil {
			t.Errorf("schema %d has no fixture", schema)
		}
	}
	fixtures, _ := filepath.Glob("testdata/schema-*.sql")
	for _, name := range fixtures {
		path := fixture(t, name)
		s, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		if r := check(t, s); r.Digest != fixtureDigest || len(r.Problems) > 0 {
			t.Errorf("%s: %+v", name, r)
		}
		if name == fmt.Sprintf("testdata/schema-%d.sql", latest()) {
			continue // there was nothing to migrate
		}
		if r := check(t, s); r.Standings > 0 {
			t.Errorf("%s: %+v", name, r)
		}
		c, err := s.Piece(3)
		if err != nil || c.Matras != 7 || c.SM2.Interval != 6 || c.Stage.String() != "kept" {
			t.Errorf("%s: %+v, %v", name, c, err)
		}
		backups := BackupsOf(path)
		if len(backups) != 1 {
			t.Fatalf("%s: %v", name, backups)
		}
		kept, err := sql.Open("sqlite3", backups[0])
		if err != nil {
			t.Fatal(err)
		}
		if schema, err := schemaOf(kept); err != nil || name != fmt.Sprintf("testdata/schema-%d.sql", schema) {
			t.Errorf("%s: the backup is of schema %d, %v", name, schema, err)
		}
		kept.Close()
		if old, err := Read(backups[0]); err != nil {
			t.Errorf("%s: its backup cannot be restored: %v", name, err)
		} else {
			if r := check(t, old); r.Digest != check(t, s).Digest || r.Standings > 0 {
				t.Errorf("%s: its backup is restored as %+v", name, r)
			}
			old.Close()
		}
	}
}

// A file that cannot be brought up to date pushes no backup out, and stays as it
// is.
func TestMigrationThatFails(t *testing.T) {
	path := fixture(t, "testdata/schema-3.sql")
	conn, err := sql.Open("sqlite3", path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := conn.Exec("UPDATE piece SET added = 'xx' WHERE id = 3"); err != nil {
		t.Fatal(err)
	}
	conn.Close()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for n := range keptBackups {
		os.WriteFile(backupName(path, n+1), []byte("good"), 0o600)
	}
	for range 3 {
		if s, err := Open(path); !errors.Is(err, ErrDamaged) {
			t.Errorf("%v, %v", s, err)
		}
	}
	all := BackupsOf(path)
	if len(all) != keptBackups || all[0] != backupName(path, 1) {
		t.Error(all)
	}
	if now, err := os.ReadFile(path); err != nil || !bytes.Equal(now[100:], whole[100:]) {
		t.Error("the file was changed", err)
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
