package main

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

// What must hold when the program is killed: every play that was acknowledged
// is there, a change of more than one row is there wholly or not at all, and
// the file is sound. DOHRA_KILLS=1000 kills that often in all, a fifth each of
// played, sit (sit_test.go), import, backup and migration; the tests that always
// run kill 55 times.

func kills() int {
	if n, err := strconv.Atoi(os.Getenv("DOHRA_KILLS")); err == nil {
		return n / 5
	}
	return 11
}

// program returns a run of the real program on a file.
func program(t *testing.T, file string, args ...string) *exec.Cmd {
	t.Helper()
	c := exec.Command("dohra", append([]string{"--file", file}, args...)...)
	c.Env = append(os.Environ(), "CLOCK=2026-11-25 18:00", "TZ=Europe/Berlin")
	return c
}

func succeed(t *testing.T, c *exec.Cmd) string {
	t.Helper()
	out, err := c.Output()
	if err != nil {
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			t.Fatalf("%v: %v: %s", c.Args, err, exit.Stderr)
		}
		t.Fatal(err)
	}
	return string(out)
}

// killed runs the program and kills it at a random moment within a time, which
// it fits to the time that the program takes; done says that it ended before.
// What it wrote is returned.
func killed(t *testing.T, c *exec.Cmd, within *time.Duration) (out string, done bool) {
	t.Helper()
	var b bytes.Buffer
	c.Stdout = &b
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	timer := time.AfterFunc(time.Duration(rand.Int64N(int64(*within))), func() { c.Process.Kill() })
	err := c.Wait()
	timer.Stop()
	if err != nil && c.ProcessState.Sys().(syscall.WaitStatus).Signal() != syscall.SIGKILL {
		t.Fatalf("%v: %v", c.Args, err)
	}
	if *within = *within * 11 / 10; err == nil {
		*within = *within * 8 / 10
	}
	return b.String(), err == nil
}

// took returns how long the program took, with a little on top.
func took(t *testing.T, c *exec.Cmd) time.Duration {
	begin := time.Now()
	succeed(t, c)
	return time.Since(begin) * 5 / 4
}

// shelf makes a repertoire of pieces with plays of each.
func shelf(t testing.TB, file string, pieces, plays int) {
	t.Helper()
	s, err := db.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var entries []repertoire.Entry
	for i := range pieces {
		entries = append(entries, repertoire.Entry{Title: fmt.Sprintf("Piece %d of the shelf", i), Kind: "kaida", Tala: "teental", Start: 60, Goal: 80 + i%60})
	}
	if _, err := s.Change(func(a db.Archive) (db.Archive, error) {
		a, _, err := a.Join(repertoire.Pack{Pieces: entries}, 12000, 0, false)
		return a, err
	}, func(int, int) {}); err != nil {
		t.Fatal(err)
	}
	all, err := s.All()
	if err != nil {
		t.Fatal(err)
	}
	for part := range slices.Chunk(all, 10_000) { // a million plays at once are enough
		var log []schedule.Play
		for i, c := range part {
			for j := range plays {
				log = append(log, schedule.Play{Piece: c.ID, Day: repertoire.Day(13000 + 70*j + i%60), Tempo: 60 + j%40, Clarity: schedule.Clear, Minutes: 4})
			}
		}
		slices.SortStableFunc(log, func(a, b schedule.Play) int { return int(a.Day - b.Day) }) // as they are in a file that grew
		if err := s.LogAll(log); err != nil {
			t.Fatal(err)
		}
	}
}

// sound opens a file and returns what a check of it found.
func sound(t *testing.T, file string) db.Report {
	t.Helper()
	s, err := db.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	r, err := s.Check()
	if err != nil || len(r.Problems) > 0 || r.Standings > 0 {
		t.Fatalf("%s: %+v, %v", file, r, err)
	}
	return r
}

func TestKilledPlayed(t *testing.T) {
	file := filepath.Join(t.TempDir(), "r.db")
	shelf(t, file, 3, 20)
	note := func(n string) *exec.Cmd {
		return program(t, file, "played", "piece 1", "--tempo", "60", "--clarity", "clear", "--note", n)
	}
	within := took(t, note("first"))
	acknowledged := map[string]bool{"first": true}
	runs := 0
	for n := 0; n < kills(); runs++ {
		out, done := killed(t, note(strconv.Itoa(runs)), &within)
		if acknowledged[strconv.Itoa(runs)] = out != ""; !done {
			n++
		}
	}
	r := sound(t, file)
	s, err := db.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	plays, err := s.Plays(2)
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]int{}
	for _, p := range plays {
		there[p.Note]++
	}
	for n, said := range acknowledged {
		if said && there[n] != 1 || there[n] > 1 {
			t.Errorf("play %s is there %d times", n, there[n])
		}
	}
	if there[""] != 20 || r.Plays-len(plays) != 40 {
		t.Errorf("old plays were changed: %+v", r)
	}
	t.Logf("%d of %d runs were killed; %d plays are there", kills(), runs, len(plays)-20)
}

func TestKilledImport(t *testing.T) {
	folder := t.TempDir()
	file, sheet := filepath.Join(folder, "r.db"), filepath.Join(folder, "plays.csv")
	shelf(t, file, 5, 20)
	var b strings.Builder
	b.WriteString("title,day,tempo,clarity\n")
	for i := range 2000 {
		fmt.Fprintf(&b, "Piece %d of the shelf,%s,60,4\n", i%5, repertoire.Day(9000+i))
	}
	if err := os.WriteFile(sheet, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	before := sound(t, file)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	whole := filepath.Join(folder, "whole.db")
	os.WriteFile(whole, text, 0o600)
	within := took(t, program(t, whole, "import", sheet))
	after := sound(t, whole)
	runs := 0
	for n := 0; n < kills(); runs++ {
		if _, done := killed(t, program(t, file, "import", sheet), &within); !done {
			n++
		}
		switch r := sound(t, file); r.Digest {
		case before.Digest:
		case after.Digest:
			os.Remove(file + "-wal")
			os.Remove(file + "-shm")
			os.WriteFile(file, text, 0o600)
		default:
			t.Fatalf("it is neither as before nor as after: %+v", r)
		}
	}
	for _, kept := range db.BackupsOf(file) {
		if r := sound(t, kept); r.Digest != before.Digest {
			t.Errorf("%s: %+v", kept, r)
		}
	}
	t.Logf("%d of %d runs were killed", kills(), runs)
}

func TestKilledBackup(t *testing.T) {
	file := filepath.Join(t.TempDir(), "r.db")
	shelf(t, file, 20, 50)
	before := sound(t, file)
	within := took(t, program(t, file, "backup"))
	runs := 0
	for n := 0; n < kills(); runs++ {
		if _, done := killed(t, program(t, file, "backup"), &within); !done {
			n++
		}
		for _, kept := range db.BackupsOf(file) {
			if r := sound(t, kept); r.Digest != before.Digest {
				t.Fatalf("%s: %+v", kept, r)
			}
		}
	}
	if r := sound(t, file); r.Digest != before.Digest {
		t.Errorf("%+v", r)
	}
	t.Logf("%d of %d runs were killed", kills(), runs)
}

func TestKilledMigration(t *testing.T) {
	folder := t.TempDir()
	text, err := os.ReadFile("../../db/testdata/schema-1.sql")
	if err != nil {
		t.Fatal(err)
	}
	old := func(file string) {
		conn, err := sql.Open("sqlite3", file)
		if err == nil {
			_, err = conn.Exec(string(text))
		}
		if err != nil {
			t.Fatal(err)
		}
		conn.Close()
	}
	whole := filepath.Join(folder, "whole.db")
	old(whole)
	within := took(t, program(t, whole, "list"))
	want := sound(t, whole)
	runs := 0
	for n := 0; n < kills(); runs++ {
		file := filepath.Join(folder, fmt.Sprint(runs, ".db"))
		old(file)
		if _, done := killed(t, program(t, file, "list"), &within); !done {
			n++
		}
		if r := sound(t, file); r.Digest != want.Digest {
			t.Fatalf("%+v, want %+v", r, want)
		}
	}
	t.Logf("%d of %d runs were killed", kills(), runs)
}

// Eight terminals write at once, and all that they wrote is there: 80 plays,
// or, with DOHRA_KILLS, 2,000.
func TestEightTerminals(t *testing.T) {
	file := filepath.Join(t.TempDir(), "r.db")
	shelf(t, file, 8, 0)
	each := 10
	if os.Getenv("DOHRA_KILLS") != "" {
		each = 250
	}
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			for range each {
				c := program(t, file, "played", fmt.Sprintf("piece %d", (i+rand.IntN(2))%8), "--tempo", "60", "--clarity", "clear")
				if out, err := c.CombinedOutput(); err != nil {
					t.Errorf("%v: %s", err, out)
				}
			}
		})
	}
	wg.Wait()
	if r := sound(t, file); r.Plays != 8*each {
		t.Errorf("%+v", r)
	}
}

// A file that belongs to another, or a folder that may not be written, is one
// line, and nothing is changed. The superuser is denied nothing, so where the
// test is run by one the program is run by nobody.
func TestPermissionDenied(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "r.db")
	shelf(t, file, 2, 3)
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		file, folder os.FileMode
		want         string
	}{
		{0o000, 0o755, "you may not read " + file},
		{0o444, 0o755, "is read-only"},
		{0o666, 0o555, "the folder " + folder + " is read-only"},
		{0o666, 0o000, "permission denied"},
	} {
		os.Chmod(file, c.file)
		os.Chmod(folder, c.folder)
		p := program(t, file, "played", "piece 1", "--tempo", "60", "--clarity", "clear")
		asNobody(t, p, folder)
		out, err := p.CombinedOutput()
		os.Chmod(folder, 0o755)
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != couldNot || !strings.Contains(string(out), c.want) || strings.Count(string(out), "\n") != 1 {
			t.Errorf("file %o, folder %o: %v, %s", c.file, c.folder, err, out)
		}
		if after, err := os.ReadFile(file); err != nil || !bytes.Equal(before, after) {
			t.Errorf("file %o, folder %o: the file was changed (%v)", c.file, c.folder, err)
		}
	}
}

// asNobody has the program run by a user who owns nothing, who must be able to
// reach it and the folder, if this is run by the superuser.
func asNobody(t *testing.T, c *exec.Cmd, folder string) {
	t.Helper()
	if os.Getuid() != 0 {
		return
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(self)
	if err != nil {
		t.Fatal(err)
	}
	os.Chmod(filepath.Dir(folder), 0o755)
	c.Path = filepath.Join(filepath.Dir(folder), "dohra") // by which name it is the program
	if err := os.WriteFile(c.Path, text, 0o755); err != nil {
		t.Fatal(err)
	}
	c.Dir = "/"
	c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
}
