package db

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
	"dohra/schedule"
)

// library makes a file with something of all that a player can give, whose
// pieces have bols that run over pages, and returns it and what it says.
func library(t testing.TB) (whole []byte, a Archive) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "r.db")
	s, err := Create(path)
	if err != nil {
		t.Fatal(err)
	}
	fill(t, s, 60, 40)
	if err := s.AddTala(repertoire.Tala{Name: "lamp", Vibhags: []int{3, 2}, Tali: []int{1}, Khali: []int{4}}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Change(func(a Archive) (Archive, error) {
		a.Pieces = slices.Clone(a.Pieces) // for what was before must not change with it
		a.Settings = map[string]int{"minutes": 31, "minutes_2": 7}
		a.Absences = []schedule.Absence{{From: 20100, To: 20110}}
		a.Concerts = []Concert{{Name: "Spring", Day: 20050, Minutes: 20, Talas: []string{"lamp"}, Set: []Place{{Title: "Piece 3 of the shelf", Tempo: 90}}, Edited: 1764000000}}
		for i := range a.Pieces {
			if i%2 == 1 {
				a.Pieces[i].Teacher, a.Pieces[i].Edited = "Aunt Mira", 1764000000+int64(i)
			}
			if i%10 == 5 {
				a.Pieces[i].Bols = string(bytes.Repeat([]byte("dha dhin dhin dha |\n"), 50*i))
				a.Pieces[i].After = a.Pieces[i-1].Title
			}
		}
		return a, a.tidy()
	}, noTick); err != nil {
		t.Fatal(err)
	}
	// What was removed leaves pages behind, from which it must not come back.
	for id := int64(1); id <= 5; id++ {
		if err := s.RemovePiece(id + 20); err != nil {
			t.Fatal(err)
		}
	}
	if a, err = s.Archive(); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if whole, err = os.ReadFile(path); err != nil {
		t.Fatal(err)
	}
	return whole, a
}

// gatherText gathers what pages hold.
func gatherText(file []byte) (Saved, Archive, error) { return gather(pages{file: file}, forever) }

// A file that is whole gives back all that it says.
func TestSalvageOfAWholeFile(t *testing.T) {
	whole, want := library(t)
	saved, got, err := gatherText(whole)
	if err != nil || got.Digest() != want.Digest() || saved.LostPieces != 0 || saved.LostPlays != 0 || saved.More {
		t.Errorf("%+v, %v", saved, err)
	}
}

// What SQLite keeps of tables lies on the first page; on a page of its own it
// would be one more that makes a file unreadable.
func TestTablesAreOnTheFirstPage(t *testing.T) {
	if whole, _ := library(t); whole[100] != tablePage {
		t.Errorf("the first page leads to others: %d", whole[100])
	}
}

// Rows of every schema that was are read, though later ones have more columns.
func TestSalvageOfOlderSchemas(t *testing.T) {
	fixtures, _ := filepath.Glob("testdata/schema-*.sql")
	for _, name := range fixtures {
		file, err := os.ReadFile(fixture(t, name))
		if err != nil {
			t.Fatal(err)
		}
		if saved, a, err := gatherText(file); err != nil || a.Digest() != fixtureDigest || saved.LostPieces+saved.LostPlays > 0 {
			t.Errorf("%s: %+v, %v", name, saved, err)
		}
	}
}

// Of whatever page is damaged, all that lies on the others is saved, and each
// play that was on it is counted.
func TestSalvageOfEachPage(t *testing.T) {
	whole, want := library(t)
	total, least, exact, sum, n, unsure := want.Plays(), want.Plays(), 0, 0, 0, 0
	for page := range len(whole) / pageSize {
		damaged := bytes.Clone(whole)
		for i := range pageSize {
			damaged[page*pageSize+i] = byte(rand.IntN(256))
		}
		saved, a, err := gatherText(damaged)
		if err != nil {
			t.Errorf("page %d: %v", page+1, err)
			continue
		}
		if page > 0 && saved.Plays+saved.LostPlays != total || saved.Plays < total-120 {
			t.Errorf("page %d: %+v of %d plays", page+1, saved, total)
		}
		if a.Digest() == want.Digest() {
			exact++
		}
		if saved.More {
			unsure++
		}
		least, sum, n = min(least, saved.Plays), sum+saved.Plays, n+1
		t.Logf("page %d: %+v", page+1, saved)
	}
	if unsure > n/20 { // the list of free pages, without which those look like lost ones
		t.Errorf("of %d damaged files %d are said to have lost more than can be counted", n, unsure)
	}
	if exact < n/3 { // the pages of indexes, and free ones; what a page of bols held is gone with it
		t.Errorf("only %d of %d damaged files gave back all", exact, n)
	}
	t.Logf("%d pages, each damaged alone: %d times all was saved; of %d plays at least %d, on average %.1f", n, exact, total, least, float64(sum)/float64(n))
}

// Where so much is lost that it cannot be counted, the number of lost plays is
// not given as all of them.
func TestSalvageTellsThatMoreIsLost(t *testing.T) {
	whole, want := library(t)
	n := len(whole) / pageSize
	for _, kept := range []int{n * 2 / 5, n * 3 / 5, n * 4 / 5} {
		saved, _, err := gatherText(whole[:kept*pageSize])
		if err != nil {
			t.Fatal(err)
		}
		if saved.Plays+saved.LostPlays < want.Plays() && !saved.More {
			t.Errorf("%d pages of %d: %+v of %d plays", kept, n, saved, want.Plays())
		}
	}
	for range 50 {
		damaged := bytes.Clone(whole)
		for range 6 {
			page := 1 + rand.IntN(n-1)
			clear(damaged[page*pageSize : (page+1)*pageSize])
		}
		saved, _, err := gatherText(damaged)
		if err != nil {
			t.Fatal(err)
		}
		if saved.Plays+saved.LostPlays < want.Plays() && !saved.More {
			t.Errorf("%+v of %d plays", saved, want.Plays())
		}
	}

	path, s := create(t)
	fill(t, s, 3, 5)
	if _, err := s.db.Exec("PRAGMA foreign_keys = 0; DROP TABLE play"); err != nil {
		t.Fatal(err)
	}
	s.Close()
	if saved, err := Examine(path, forever); err != nil || !saved.More {
		t.Errorf("without a table of plays: %+v, %v", saved, err)
	}
}

// Nothing is made up: each play that a damaged file gives back was there, and
// whatever it is that stands on the pages, reading it ends.
func TestSalvageMakesNothingUp(t *testing.T) {
	whole, want := library(t)
	had := map[string]map[Play]int{}
	for _, r := range want.Pieces {
		had[r.Title] = count(r.Plays)
	}
	rapid.Check(t, func(t *rapid.T) {
		damaged := bytes.Clone(whole)
		zero := rapid.Bool().Draw(t, "zero")
		for range rapid.IntRange(1, 6).Draw(t, "runs") {
			// not the first page, without which what was removed cannot be told from what was not
			at, n := rapid.IntRange(pageSize, len(damaged)-1).Draw(t, "at"), rapid.IntRange(1, 3*pageSize).Draw(t, "length")
			run := damaged[at:min(at+n, len(damaged))]
			for i := range run {
				if run[i] = 0; !zero {
					run[i] = byte(rapid.IntRange(128, 191).Draw(t, "byte")) // which begin no character
				}
			}
		}
		if rapid.Bool().Draw(t, "cut") {
			damaged = damaged[:rapid.IntRange(pageSize, len(damaged)).Draw(t, "end")]
		}
		_, a, err := gatherText(damaged)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range a.Pieces {
			for p, n := range count(r.Plays) {
				if were, known := had[r.Title]; known && n > were[p] {
					t.Fatalf("%s: %+v %d times, not %d", r.Title, p, n, were[p])
				}
			}
		}
	})
}

// The new file is a sound one, and the damaged file is left as it is.
func TestSalvageWritesASoundFile(t *testing.T) {
	whole, _ := library(t)
	for _, page := range []int{0, 1, 2, 4, 9, len(whole)/pageSize - 1} {
		damaged := bytes.Clone(whole)
		clear(damaged[page*pageSize : (page+1)*pageSize])
		path := filepath.Join(t.TempDir(), "damaged.db")
		if err := os.WriteFile(path, damaged, 0o600); err != nil {
			t.Fatal(err)
		}
		saved, err := Salvage(path, forever)
		if err != nil {
			t.Fatal(err)
		}
		if left, _ := os.ReadFile(path); !bytes.Equal(left, damaged) {
			t.Errorf("page %d: the damaged file was changed", page)
		}
		s, err := Open(saved.Path)
		if err != nil {
			t.Fatal(err)
		}
		if r := check(t, s); len(r.Problems) > 0 || r.Standings > 0 || r.Plays != saved.Plays || r.Pieces < saved.Pieces {
			t.Errorf("page %d: %+v, saved %+v", page, r, saved)
		}
		s.Close()
	}
}

// A piece whose own page is gone keeps its title, by the index of titles.
func TestSalvageNamesLostPieces(t *testing.T) {
	whole, want := library(t)
	lost := 0
	for page := 1; page < len(whole)/pageSize; page++ {
		damaged := bytes.Clone(whole)
		clear(damaged[page*pageSize : (page+1)*pageSize])
		saved, a, err := gatherText(damaged)
		if err != nil {
			t.Fatal(err)
		}
		lost += saved.LostPieces
		titles := map[string]bool{}
		for _, r := range a.Pieces {
			titles[repertoire.Fold(r.Title)] = true
		}
		for _, r := range want.Pieces {
			if !titles[repertoire.Fold(r.Title)] {
				t.Errorf("page %d: %s is not there", page+1, r.Title)
			}
		}
	}
	if lost == 0 {
		t.Error("no page held pieces")
	}
}

// What stands in the log alone is saved too; a transaction that was not whole is
// not.
func TestSalvageReadsTheLog(t *testing.T) {
	path, s := create(t)
	defer s.Close()
	unsettled(t, path)
	fill(t, s, 3, 5)
	if !logged(path) {
		t.Fatal("there is no log to read")
	}
	if saved, err := Examine(path, forever); err != nil || saved != (Saved{Pieces: 3, Plays: 15}) {
		t.Errorf("%+v, %v", saved, err)
	}
	log, err := os.ReadFile(path + "-wal")
	if err != nil {
		t.Fatal(err)
	}
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	torn := pages{file: file, logged: map[int][]byte{}}
	log[len(log)-1] ^= 1
	torn.readLog(log)
	if saved, _, err := gather(torn, forever); err != nil || saved.Pieces != 3 || saved.Plays != 0 {
		t.Errorf("%+v, %v", saved, err)
	}
}

// Whatever a file holds, reading it ends, and what is saved can be kept.
func FuzzSalvage(f *testing.F) {
	whole, _ := library(f)
	f.Add(whole[:4*pageSize])
	f.Add(whole[4*pageSize : 7*pageSize])
	f.Fuzz(func(t *testing.T, file []byte) {
		p := pages{file: file, logged: map[int][]byte{}}
		p.readLog(file)
		if _, a, err := gather(p, forever); err == nil {
			if err := a.tidy(); err != nil {
				t.Error(err)
			}
		}
	})
}

// What of a row cannot be right is put in its place by what can be kept, with a
// note; the rest of the row is saved as it was.
func TestSalvageMendsRows(t *testing.T) {
	for damage, want := range map[string]func(a Archive) bool{
		"UPDATE piece SET kind = 'xyz' WHERE id = 1": func(a Archive) bool {
			return a.Pieces[0].Kind == "exercise" && a.Pieces[0].Note == "Ask the teacher. "+kindLost && a.Pieces[0].Goal == 120
		},
		"UPDATE piece SET tala = 'tEEntall' WHERE id = 1": func(a Archive) bool {
			return a.Pieces[0].Tala == "teental" && strings.Contains(a.Pieces[0].Note, `"tEEntall"`)
		},
		"UPDATE piece SET added = '3025-01-01' WHERE id = 1":        func(a Archive) bool { return a.Pieces[0].Added == 19000 },
		"UPDATE piece SET folded = 'zzz' WHERE id = 1":              func(a Archive) bool { return a.Pieces[0].Title == "Piece 0 of the shelf" },
		"UPDATE piece SET title = char(27) || 'x' WHERE id = 1":     func(a Archive) bool { return a.Pieces[0].Title == "piece 0 of the shelf" },
		"UPDATE play SET day = '3025-01-01' WHERE id = 1":           func(a Archive) bool { return a.Plays() == 14 },
		"INSERT OR REPLACE INTO setting VALUES ('minutes', -5)":     func(a Archive) bool { return len(a.Settings) == 0 },
		"INSERT OR REPLACE INTO setting VALUES ('nonsense', 5)":     func(a Archive) bool { return len(a.Settings) == 0 },
		"UPDATE piece SET after = 3 - id WHERE id < 3":              func(a Archive) bool { return a.Pieces[0].After == "" && a.Pieces[1].After != "" },
		"DROP INDEX play_day":                                       func(a Archive) bool { return a.Plays() == 15 },
		"CREATE TRIGGER t AFTER INSERT ON play BEGIN SELECT 1; END": func(a Archive) bool { return a.Plays() == 15 },
	} {
		path, s := create(t)
		fill(t, s, 3, 5)
		if _, err := s.db.Exec("UPDATE piece SET note = 'Ask the teacher.';" + damage); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(damage, "3025") { // a clock may be set back
			if r := check(t, s); len(r.Problems) == 0 {
				t.Errorf("%s: it is called sound", damage)
			}
		}
		s.Close()
		saved, err := Salvage(path, 20000)
		if err != nil {
			t.Errorf("%s: %v", damage, err)
			continue
		}
		mended, err := Open(saved.Path)
		if err != nil {
			t.Fatal(err)
		}
		a, err := mended.Archive()
		if r := check(t, mended); err != nil || len(r.Problems) > 0 || len(a.Pieces) != 3 || !want(a) {
			t.Errorf("%s: %+v, %v, %+v", damage, r, err, a.Pieces)
		}
		mended.Close()
		var text bytes.Buffer
		if err := a.Write(&text); err != nil {
			t.Fatal(err)
		}
		if again, err := ReadArchive(&text); err != nil || again.CheckDays(20000) != nil {
			t.Errorf("%s: what was saved cannot be imported: %v", damage, err)
		}
	}
}

// A piece of which only its plays are left has the fastest clear one for its goal.
func TestSalvageOfPlaysAlone(t *testing.T) {
	path, s := create(t)
	fill(t, s, 1, 5)
	if _, err := s.db.Exec("PRAGMA foreign_keys = 0; UPDATE play SET tempo = 200, clarity = 2 WHERE id = 5; DELETE FROM piece"); err != nil {
		t.Fatal(err)
	}
	s.Close()
	_, a, err := examine(path, forever)
	if err != nil || a.Pieces[0].Goal != 63 || a.Pieces[0].Note != onlyPlays || len(a.Pieces[0].Plays) != 5 {
		t.Errorf("%+v, %v", a.Pieces, err)
	}
}

func TestNothingToSalvage(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notes.db")
	os.WriteFile(path, bytes.Repeat([]byte("dha dhin "), 2000), 0o600)
	if saved, err := Salvage(path, forever); err == nil {
		t.Errorf("%+v", saved)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), "*saved*")); len(left) > 0 {
		t.Error(left)
	}
}
