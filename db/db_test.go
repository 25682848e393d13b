package db

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"dohra/repertoire"
	"dohra/schedule"
)

func create(t *testing.T) (string, *Store) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "r.db")
	s, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	return path, s
}

func TestFileIsPrivateAndMarked(t *testing.T) {
	path, s := create(t)
	for pragma, want := range map[string]string{
		"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "application_id": "1685022834",
	} {
		var got string
		if err := s.db.QueryRow("PRAGMA " + pragma).Scan(&got); err != nil || got != want {
			t.Errorf("%s is %s, want %s (%v)", pragma, got, want, err)
		}
	}
	if schema, err := schemaOf(s.db); err != nil || schema != latest() {
		t.Errorf("schema %d, want %d (%v)", schema, latest(), err)
	}
	s.Close()
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
}

// What cannot be opened says so in one line, and is left byte for byte as it is.
func TestRefusedFilesAreLeftAlone(t *testing.T) {
	for _, c := range []struct {
		name, want string
		make       func(path string)
	}{
		{"text", "is no dohra file", func(path string) { os.WriteFile(path, []byte("dha dhin dhin dha\n"), 0o600) }},
		{"long text", "is no dohra file", func(path string) { os.WriteFile(path, bytes.Repeat([]byte("dha "), 5000), 0o600) }},
		{"another program's", "a database, but not dohra's", func(path string) {
			s, _ := Create(path)
			s.db.Exec("PRAGMA application_id = 7")
			s.settle()
			s.Close()
		}},
		{"newer", "from a newer dohra (schema 99; this one knows 5)", func(path string) {
			s, _ := Create(path)
			s.db.Exec("PRAGMA user_version = 99")
			s.settle()
			s.Close()
		}},
		{"read-only", "is read-only", func(path string) {
			s, _ := Create(path)
			s.Close()
			os.Chmod(path, 0o400)
		}},
		{"damaged", "the file is damaged", func(path string) {
			s, _ := Create(path)
			s.Close()
			whole, _ := os.ReadFile(path)
			copy(whole[100:], bytes.Repeat([]byte{0xaa}, 3000))
			os.WriteFile(path, whole, 0o600)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "r.db")
			c.make(path)
			before, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			s, err := Open(path)
			if err == nil {
				_, err = s.All()
				err = Plain(err)
				s.Close()
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
			if after, _ := os.ReadFile(path); !bytes.Equal(before, after) {
				t.Error("the file was changed")
			}
		})
	}
}

func TestMissing(t *testing.T) {
	dir := t.TempDir()
	if _, err := Open(filepath.Join(dir, "r.db")); !errors.Is(err, ErrMissing) {
		t.Errorf("a missing file: %v", err)
	}
	if _, err := Open(filepath.Join(dir, "no", "r.db")); err == nil || !strings.Contains(err.Error(), "does not exist") {
		t.Errorf("a missing folder: %v", err)
	}
	if _, err := Open(dir); err == nil || !strings.Contains(err.Error(), "is no file") {
		t.Errorf("a folder: %v", err)
	}
	if left, _ := os.ReadDir(dir); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A path may hold what would mean something in a URI.
func TestOddPaths(t *testing.T) {
	for _, name := range []string{"a?b.db", "a#b.db", "100%.db", "क ख.db", "a&mode=ro.db"} {
		path := filepath.Join(t.TempDir(), name)
		s, err := Create(path)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		s.Close()
		if info, err := os.Stat(path); err != nil || info.Size() == 0 {
			t.Errorf("%s was not written", name)
		}
	}
}

func TestTwoTerminals(t *testing.T) {
	path, s := create(t)
	id := addPiece(t, s, "Mill kaida")
	s.Close()
	const each = 25
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for day := range each {
				s, err := Open(path)
				if err != nil {
					t.Error(err)
					return
				}
				if _, _, err := s.Log(schedule.Play{Piece: id, Day: repertoire.Day(20000 + day), Tempo: 96, Clarity: 4}); err != nil {
					t.Error(err)
				}
				s.Close()
			}
		})
	}
	wg.Wait()
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if plays, err := s.Plays(id); err != nil || len(plays) != 2*each {
		t.Errorf("%d plays of %d are there (%v)", len(plays), 2*each, err)
	}
}

func TestTwoTerminalsBeginAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r.db")
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			s, err := Create(path)
			if err != nil {
				t.Error(err)
				return
			}
			s.Close()
		})
	}
	wg.Wait()
}
