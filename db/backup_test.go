package db

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dohra/schedule"
)

// A backup is whole whatever another terminal writes meanwhile, and private.
func TestBackupWhileWriting(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	fill(t, s, 5, 20)
	id := addPiece(t, s, "Mill kaida")
	stop, stopped := make(chan bool), make(chan bool)
	go func() {
		defer close(stopped)
		other, err := Open(path)
		if err != nil {
			t.Error(err)
			return
		}
		defer other.Close()
		for {
			select {
			case <-stop:
				return
			default:
			}
			if _, _, err := other.Log(schedule.Play{Piece: id, Day: 20000, Tempo: 96, Clarity: 4}); err != nil {
				t.Error(err)
			}
		}
	}()
	for range 5 {
		kept, err := s.Keep()
		if err != nil {
			t.Fatal(err)
		}
		copied, err := Read(kept)
		if err != nil {
			t.Fatal(err)
		}
		if r := check(t, copied); len(r.Problems) > 0 || r.Standings > 0 || r.Plays < 100 {
			t.Errorf("%+v", r)
		}
		copied.Close()
		if info, err := os.Stat(kept); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%v, %v", info.Mode(), err)
		}
	}
	close(stop)
	<-stopped
}

// The newest ten are kept; what others put beside the file is no backup.
func TestTenBackupsAreKept(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	strangers := []string{"r.backup-1.db", "r.backup-x.db", "rr.backup-0001.db"}
	for _, name := range strangers {
		os.WriteFile(filepath.Join(filepath.Dir(path), name), nil, 0o600)
	}
	for range keptBackups + 3 {
		if _, err := s.Keep(); err != nil {
			t.Fatal(err)
		}
	}
	all := BackupsOf(path)
	if len(all) != keptBackups || !strings.HasSuffix(all[0], "r.backup-0004.db") || !strings.HasSuffix(all[9], "r.backup-0013.db") {
		t.Error(all)
	}
	for _, name := range strangers {
		if _, err := os.Stat(filepath.Join(filepath.Dir(path), name)); err != nil {
			t.Error(err)
		}
	}
}

func TestBackupOverwritesNothing(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	if err := s.Backup(path); err == nil || !strings.Contains(err.Error(), "is there already") {
		t.Error(err)
	}
	if err := s.Backup(filepath.Join(filepath.Dir(path), "no", "b.db")); err == nil {
		t.Error("a backup in no folder")
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), asidePattern)); len(left) > 0 {
		t.Error(left)
	}
}

// A damaged file does not push good backups out.
func TestDamageIsNotBackedUp(t *testing.T) {
	path, s := create(t)
	fill(t, s, 20, 50)
	s.Close()
	whole, _ := os.ReadFile(path)
	copy(whole[5*4096:], bytes.Repeat([]byte{0xaa}, len(whole)-5*4096))
	os.WriteFile(path, whole, 0o600)
	s, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if kept, err := s.Keep(); err == nil {
		t.Errorf("%s was kept", kept)
	}
}

func TestRestore(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	fill(t, s, 3, 10)
	before := check(t, s)
	kept, err := s.Keep()
	if err != nil {
		t.Fatal(err)
	}
	fill2 := addPiece(t, s, "Mill kaida")
	s.Log(schedule.Play{Piece: fill2, Day: 20000, Tempo: 96, Clarity: 4})
	if err := s.RemovePiece(1); err != nil {
		t.Fatal(err)
	}
	other, err := Read(kept)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if err := s.Restore(other); err != nil {
		t.Fatal(err)
	}
	if after := check(t, s); after.Digest != before.Digest || len(after.Problems) > 0 || after.Standings > 0 {
		t.Errorf("%+v, was %+v", after, before)
	}
	again, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if _, _, err := again.Log(schedule.Play{Piece: 1, Day: 20000, Tempo: 96, Clarity: 4}); err != nil {
		t.Error(err)
	}
}

// A file that another took the place of is not written to.
func TestReplacedWhileOpen(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	id := addPiece(t, s, "Mill kaida")
	other, err := Create(path + "2")
	if err != nil {
		t.Fatal(err)
	}
	other.Close()
	if err := os.Rename(path+"2", path); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Log(schedule.Play{Piece: id, Day: 20000, Tempo: 96, Clarity: 4}); err != errReplaced {
		t.Error(err)
	}
	if err := s.Choose(Settings{30, 4}); err != errReplaced {
		t.Error(err)
	}
	if plays, err := s.Plays(id); err != nil || len(plays) > 0 {
		t.Error(plays, err)
	}
}

// A log that a process left behind when it was killed holds what was
// acknowledged.
func TestLogLeftBehind(t *testing.T) {
	path, s := create(t)
	id := addPiece(t, s, "Mill kaida")
	if _, _, err := s.Log(schedule.Play{Piece: id, Day: 20000, Tempo: 96, Clarity: 4}); err != nil {
		t.Fatal(err)
	}
	left := filepath.Join(t.TempDir(), "r.db")
	for _, end := range []string{"", "-wal"} {
		text, err := os.ReadFile(path + end)
		if err != nil {
			t.Fatal(err)
		}
		os.WriteFile(left+end, text, 0o600)
	}
	s.Close()
	copied, err := Read(left)
	if err != nil {
		t.Fatal(err)
	}
	defer copied.Close()
	again, err := Open(left)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	for _, s := range []*Store{copied, again} {
		if plays, err := s.Plays(id); err != nil || len(plays) != 1 {
			t.Errorf("%v, %v", plays, err)
		}
	}
}

func TestTimeOfBackupsIsTheirNumber(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	os.WriteFile(backupName(path, 12345), nil, 0o600)
	kept, err := s.Keep()
	if err != nil || kept != backupName(path, 12346) || !slices.Contains(BackupsOf(path), kept) {
		t.Error(kept, err)
	}
}
