package db

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"dohra/repertoire"
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

// A file that another took the place of is not written to, whatever is written.
func TestReplacedWhileOpen(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	id := addPiece(t, s, "Mill kaida")
	play := schedule.Play{Piece: id, Day: 20000, Tempo: 96, Clarity: 4}
	if _, _, err := s.Log(play); err != nil {
		t.Fatal(err)
	}
	if err := s.ChooseWeek(schedule.Week{30, 30, 30, 30, 30, 30, 30}); err != nil {
		t.Fatal(err)
	}
	before, err := s.Archive()
	if err != nil {
		t.Fatal(err)
	}
	other, err := Create(path + "2")
	if err != nil {
		t.Fatal(err)
	}
	other.Close()
	if err := os.Rename(path+"2", path); err != nil {
		t.Fatal(err)
	}
	sore := play
	sore.Sore = true
	memory := memory(t)
	defer memory.Close()
	for name, write := range map[string]func() error{
		"AddPiece":    func() error { _, err := s.AddPiece(repertoire.Piece{Title: "Kite", Start: 60, Goal: 90}); return err },
		"UpdatePiece": func() error { return s.UpdatePiece(repertoire.Piece{ID: id, Title: "Kite", Start: 60, Goal: 90}) },
		"RemovePiece": func() error { return s.RemovePiece(id) },
		"Log":         func() error { _, _, err := s.Log(play); return err },
		"LogAll":      func() error { return s.LogAll([]schedule.Play{play}) },
		"Mark":        func() error { return s.Mark(play, sore) },
		"Undo":        func() error { _, _, err := s.Undo(); return err },
		"Choose":      func() error { return s.Choose(Settings{30, 4, 1}) },
		"ChooseWeek":  func() error { return s.ChooseWeek(schedule.Week{1, 1, 1, 1, 1, 1, 1}) },
		"ForgetWeek":  s.ForgetWeek,
		"ChangeAbsences": func() error {
			return s.ChangeAbsences(func([]schedule.Absence) ([]schedule.Absence, error) {
				return []schedule.Absence{{From: 20000, To: 20001}}, nil
			})
		},
		"ChangeConcert": func() error {
			return s.ChangeConcert("Spring", func(c *schedule.Concert) error { c.Day, c.Minutes = 20000, 30; return nil })
		},
		"DropConcert": func() error { return s.DropConcert("Spring") },
		"AddTala":     func() error { return s.AddTala(repertoire.Tala{Name: "own", Vibhags: []int{4}}) },
		"RemoveTala":  func() error { return s.RemoveTala("own") },
		"Rebuild":     s.Rebuild,
		"Restore":     func() error { return s.Restore(memory) },
		"Change": func() error {
			_, err := s.Change(func(a Archive) (Archive, error) { a.Settings = map[string]int{"minutes": 30}; return a, nil }, noTick)
			return err
		},
	} {
		if err := write(); err != errReplaced {
			t.Errorf("%s: %v", name, err)
		}
	}
	if after, err := s.Archive(); err != nil || after.Digest() != before.Digest() {
		t.Error("something was written", err)
	}
	if backups := BackupsOf(path); len(backups) > 0 {
		t.Error("the other file was backed up:", backups)
	}
}

// unsettled keeps what is written from now on in the log of the file, until it
// is released.
func unsettled(t *testing.T, path string) (release func()) {
	t.Helper()
	reader, err := readOnly(path, "mode=ro")
	if err != nil {
		t.Fatal(err)
	}
	release = sync.OnceFunc(func() { reader.Close() })
	t.Cleanup(release)
	if _, err := reader.Exec("BEGIN; SELECT count(*) FROM piece"); err != nil {
		t.Fatal(err)
	}
	return release
}

// killed returns the path of a file as it is left when all who have it open are
// killed now.
func killed(t *testing.T, path string) string {
	t.Helper()
	left := filepath.Join(t.TempDir(), "r.db")
	for _, end := range []string{"", "-wal"} {
		text, err := os.ReadFile(path + end)
		if err != nil {
			t.Fatal(err)
		}
		os.WriteFile(left+end, text, 0o600)
	}
	return left
}

// A log that a process left behind when it was killed holds what was
// acknowledged.
func TestLogLeftBehind(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	id := addPiece(t, s, "Mill kaida")
	unsettled(t, path)
	if _, _, err := s.Log(schedule.Play{Piece: id, Day: 20000, Tempo: 96, Clarity: 4}); err != nil {
		t.Fatal(err)
	}
	left := killed(t, path)
	if !logged(left) {
		t.Fatal("there is no log")
	}
	if saved, err := Salvage(left, forever); err != nil || saved.Plays != 1 {
		t.Errorf("%+v, %v", saved, err)
	}
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

// Whatever was acknowledged is in the file and not in the log beside it, so that
// a process that is killed does no harm to a file put in the place of its own.
func TestNothingIsLeftInTheLog(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	id := addPiece(t, s, "Mill kaida")
	other := memory(t)
	play := schedule.Play{Piece: id, Day: 20000, Tempo: 96, Clarity: 4}
	noted := play
	noted.Note = "x"
	for _, c := range []struct {
		what string
		do   func() error
	}{
		{"a play", func() error { _, _, err := s.Log(play); return err }},
		{"a note", func() error { return s.Mark(play, noted) }},
		{"a setting", func() error { return s.Choose(Settings{30, 4, 1}) }},
		{"a week", s.ForgetWeek},
		{"a restore", func() error { return s.Restore(other) }},
	} {
		if err := c.do(); err != nil || logged(path) {
			t.Errorf("%s is left in the log, %v", c.what, err)
		}
	}
}

// What is acknowledged before the file is moved away goes with it, and what is put
// in its place stays as it is.
func TestMovedWhileOpen(t *testing.T) {
	path, s := create(t)
	id := addPiece(t, s, "Mill kaida")
	other, err := Create(path + "2")
	if err != nil {
		t.Fatal(err)
	}
	fill(t, other, 20, 30)
	want := check(t, other).Digest
	other.Close()
	release := unsettled(t, path)
	if _, _, err := s.Log(schedule.Play{Piece: id, Day: 20000, Tempo: 96, Clarity: 4}); err != nil || !logged(path) {
		t.Fatal("nothing is in the log", err)
	}
	release()
	if err := errors.Join(os.Rename(path, path+"1"), os.Rename(path+"2", path)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Log(schedule.Play{Piece: id, Day: 20001, Tempo: 96, Clarity: 4}); err != errReplaced {
		t.Error(err)
	}
	s.Close()
	moved, err := Open(path + "1")
	if err != nil {
		t.Fatal(err)
	}
	defer moved.Close()
	if plays, err := moved.Plays(id); err != nil || len(plays) != 1 {
		t.Errorf("%v, %v", plays, err)
	}
	again, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if r := check(t, again); len(r.Problems) > 0 || r.Digest != want {
		t.Errorf("%+v", r)
	}
}

// A damaged file is left byte for byte as it is, and so is the log beside it; a
// log that is another file's is told from damage.
func TestLogIsNotWrittenIntoADamagedFile(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	fill(t, s, 20, 30)
	unsettled(t, path)
	addPiece(t, s, "Mill kaida")
	left := killed(t, path)
	file, _ := os.ReadFile(left)
	log, _ := os.ReadFile(left + "-wal")
	sound := bytes.Clone(file)
	copy(file[5*4096:], bytes.Repeat([]byte{0xaa}, 4096))
	os.WriteFile(left, file, 0o600)
	if s, err := Open(left); !errors.Is(err, ErrDamaged) {
		t.Error(s, err)
	}
	if s, err := Read(left); !errors.Is(err, ErrDamaged) {
		t.Error(s, err)
	}
	if now, _ := os.ReadFile(left); !bytes.Equal(now, file) {
		t.Error("the file was changed")
	}
	if now, _ := os.ReadFile(left + "-wal"); !bytes.Equal(now, log) {
		t.Error("the log was changed")
	}

	// Damage that only reading rows finds: what only reads changes nothing.
	os.WriteFile(left, sound, 0o600)
	open, err := Open(left)
	if err != nil {
		t.Fatal(err)
	}
	if err := open.Close(); err != nil {
		t.Error(err)
	}
	if now, _ := os.ReadFile(left); !bytes.Equal(now, sound) {
		t.Error("the file was changed by reading it")
	}
	if now, _ := os.ReadFile(left + "-wal"); !bytes.Equal(now, log) {
		t.Error("the log was changed by reading the file")
	}

	other, err := Create(filepath.Join(t.TempDir(), "other.db"))
	if err != nil {
		t.Fatal(err)
	}
	fill(t, other, 60, 30)
	stranger := other.path
	other.Close()
	whole, _ := os.ReadFile(stranger)
	os.WriteFile(left, whole, 0o600)
	if s, err := Open(left); !errors.Is(err, ErrStray) {
		t.Error(s, err)
	}
	if now, _ := os.ReadFile(left); !bytes.Equal(now, whole) {
		t.Error("the file was changed by a log that is not its own")
	}
	if err := memory(t).Backup(left + "2"); err != nil {
		t.Error(err)
	}
	os.WriteFile(left+"3-wal", log, 0o600)
	if err := memory(t).Backup(left + "3"); !errors.Is(err, ErrStray) {
		t.Errorf("a backup beside the log of another file: %v", err)
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

// What would act later on what is written does not come in with a backup.
func TestTriggersAreNotRestored(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	if copied, err := Read(path); err != nil {
		t.Error(err)
	} else {
		copied.Close()
	}
	for _, hidden := range []string{
		"CREATE TRIGGER t AFTER INSERT ON play BEGIN DELETE FROM play; END", "CREATE VIEW v AS SELECT 1", "CREATE TABLE x (y)",
	} {
		if _, err := s.db.Exec(hidden); err != nil {
			t.Fatal(err)
		}
		if _, err := Read(path); err == nil || !strings.Contains(err.Error(), "holds more") {
			t.Errorf("%s: %v", hidden, err)
		}
		s.db.Exec("DROP TRIGGER IF EXISTS t; DROP VIEW IF EXISTS v")
	}
}

// Restoring waits for another terminal that is writing, and for no other.
func TestRestoreWaits(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	addPiece(t, s, "Mill kaida")
	other, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	empty := memory(t)
	defer empty.Close()
	tx, err := other.db.Begin()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := tx.Exec("UPDATE piece SET note = 'x'"); err != nil {
		t.Fatal(err)
	}
	restored := make(chan error)
	go func() { restored <- s.Restore(empty) }()
	select {
	case err := <-restored:
		t.Fatalf("it did not wait: %v", err)
	case <-time.After(100 * time.Millisecond):
	}
	if err := tx.Commit(); err != nil {
		t.Fatal(err)
	}
	if err := <-restored; err != nil {
		t.Fatal(err)
	}
	if none, err := s.Empty(); err != nil || !none {
		t.Error("it was not restored", err)
	}
}

// What a killed process left half built is swept away after a day.
func TestSweep(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	folder := filepath.Dir(path)
	old, young := filepath.Join(folder, ".dohra-1"), filepath.Join(folder, ".dohra-2")
	for _, name := range []string{old, young} {
		os.WriteFile(name, nil, 0o600)
	}
	long := time.Now().Add(-48 * time.Hour)
	os.Chtimes(old, long, long)
	if _, err := s.Keep(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(old); err == nil {
		t.Error("what is old was left")
	}
	if _, err := os.Stat(young); err != nil {
		t.Error("what may be in use was swept away")
	}
}

// A copy that is written over the file while it is open is not written to, and so
// stays as sound as it was.
func TestCopiedOverWhileOpen(t *testing.T) {
	path, s := create(t)
	fill(t, s, 3, 20)
	copied := filepath.Join(t.TempDir(), "copy.db")
	if err := s.Backup(copied); err != nil {
		t.Fatal(err)
	}
	id := firstPiece(t, s)
	play := schedule.Play{Piece: id, Day: 20500, Tempo: 80, Clarity: schedule.Clear}
	for range 3 {
		if _, _, err := s.Log(play); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(copied)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Log(play); !errors.Is(err, errReplaced) {
		t.Errorf("a play is logged into the copy: %v", err)
	}
	s.Close()
	again, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if r := check(t, again); len(r.Problems) > 0 || r.Standings > 0 {
		t.Errorf("%+v", r)
	}
}

func firstPiece(t *testing.T, s *Store) int64 {
	all, err := s.All()
	if err != nil || len(all) == 0 {
		t.Fatal(err)
	}
	return all[0].ID
}
