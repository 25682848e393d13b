package db

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
	"dohra/schedule"
)

// anyArchive draws an archive of few titles, days and tempos, so that two of
// them have much in common.
func anyArchive(t *rapid.T) Archive {
	a := Archive{Version: archiveVersion, Settings: map[string]int{}}
	if rapid.Bool().Draw(t, "chosen") {
		a.Settings["minutes"] = rapid.IntRange(30, 31).Draw(t, "minutes")
	}
	if rapid.Bool().Draw(t, "tala") {
		a.Talas = append(a.Talas, repertoire.Tala{Name: "lamp", Vibhags: []int{3, rapid.IntRange(2, 3).Draw(t, "vibhag")}, Tali: []int{1}, Khali: []int{4}})
	}
	titles := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"Kite", "Lantern", "Mill"}), 0, 3, rapid.ID).Draw(t, "titles")
	for _, title := range titles {
		r := Record{Entry: repertoire.Entry{
			Title: title, Kind: "kaida", Tala: "teental", Start: 60, Goal: rapid.IntRange(100, 101).Draw(t, "goal"),
			Teacher: rapid.SampledFrom([]string{"", "Aunt Mira"}).Draw(t, "teacher"),
			After:   rapid.SampledFrom(append([]string{""}, titles...)).Draw(t, "after"),
		}, Added: repertoire.Day(19000 + rapid.IntRange(0, 1).Draw(t, "added")), Resting: repertoire.Never, Edited: int64(rapid.IntRange(0, 2).Draw(t, "edited"))}
		for range rapid.IntRange(0, 6).Draw(t, "plays") {
			r.Plays = append(r.Plays, Play{Day: repertoire.Day(20000 + rapid.IntRange(0, 1).Draw(t, "day")),
				Tempo: rapid.IntRange(60, 61).Draw(t, "tempo"), Clarity: rapid.IntRange(3, 4).Draw(t, "clarity")})
		}
		a.Pieces = append(a.Pieces, r)
	}
	uncircle(a.Pieces)
	if rapid.Bool().Draw(t, "away") {
		a.Absences = []schedule.Absence{{From: 20000, To: repertoire.Day(20000 + rapid.IntRange(1, 2).Draw(t, "until"))}}
	}
	for _, name := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"Autumn", "Spring"}), 0, 2, rapid.ID).Draw(t, "concerts") {
		c := Concert{Name: name, Day: 20050, Minutes: rapid.IntRange(20, 21).Draw(t, "slot"), Edited: int64(rapid.IntRange(0, 2).Draw(t, "edited"))}
		for _, title := range titles {
			c.Set = append(c.Set, Place{Title: title, Tempo: 90, Rounds: rapid.IntRange(0, 1).Draw(t, "rounds")})
		}
		a.Concerts = append(a.Concerts, c)
	}
	if err := a.tidy(); err != nil {
		t.Fatal(err)
	}
	return a
}

func count(plays []Play) map[Play]int {
	n := map[Play]int{}
	for _, p := range plays {
		n[p]++
	}
	return n
}

// It does not matter which file is joined to which; joined again, nothing
// changes; no play is lost, and none is doubled.
func TestMerge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyArchive(t), anyArchive(t)
		joined := Merge(a, b)
		if other := Merge(b, a); other.Digest() != joined.Digest() {
			t.Fatalf("a, b: %+v\nb, a: %+v", joined, other)
		}
		if same := Merge(a, a); same.Digest() != a.Digest() {
			t.Fatalf("with itself: %+v\nwas: %+v", same, a)
		}
		for _, part := range []Archive{a, b} {
			if again := Merge(joined, part); !reflect.DeepEqual(again.Pieces, joined.Pieces) || !reflect.DeepEqual(again.Concerts, joined.Concerts) {
				t.Fatalf("joined again: %+v\nwas: %+v", again, joined)
			}
		}
		got, inA, inB := playsByTitle(joined), playsByTitle(a), playsByTitle(b)
		for title, plays := range got {
			nA, nB := count(inA[title]), count(inB[title])
			for p, n := range count(plays) {
				if n != max(nA[p], nB[p]) {
					t.Fatalf("%s has %+v %d times, of %d and %d", title, p, n, nA[p], nB[p])
				}
			}
		}
		if len(allPlays(joined)) < max(a.Plays(), b.Plays()) {
			t.Fatal("plays were lost")
		}
		if err := joined.tidy(); err != nil {
			t.Fatal(err)
		}
		stored(t, joined)
	})
}

// What was changed later is believed, whatever was played, and both files then
// say when it was.
func TestTheLaterChangeIsBelieved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyArchive(t), anyArchive(t)
		inA, inB, inBoth := a.edits(), b.edits(), Merge(a, b).edits()
		for name, got := range inBoth {
			later, earlier := inA[name], inB[name]
			if later.edited < earlier.edited {
				later, earlier = earlier, later
			}
			if got.edited != later.edited || later.edited > earlier.edited && got != later {
				t.Fatalf("%s: %+v, of %+v and %+v", name, got, later, earlier)
			}
		}
	})
}

// Merging once more changes nothing either where a circle was broken, whichever
// of the two said what the freed piece came after.
func TestAFreedPieceStaysFree(t *testing.T) {
	archive := func(kite, mill string, edited int64) Archive {
		a := Archive{Version: archiveVersion}
		for title, after := range map[string]string{"Ferry": "", "Kite": kite, "Mill": mill, "Zither": ""} {
			r := Record{Entry: repertoire.Entry{Title: title, After: after}}
			if title == "Mill" {
				r.Edited = edited
			}
			a.Pieces = append(a.Pieces, r)
		}
		return a
	}
	afters := []string{"", "Ferry", "Mill", "Zither"}
	for _, one := range afters {
		for _, other := range afters {
			a, b := archive(one, "", 0), archive(other, "Kite", 1)
			joined := Merge(a, b)
			for _, again := range []Archive{Merge(joined, a), Merge(joined, b)} {
				if !reflect.DeepEqual(again.Pieces, joined.Pieces) {
					t.Errorf("after %q and %q: %+v, then %+v", one, other, joined.Pieces, again.Pieces)
				}
			}
		}
	}
}

type edit struct {
	edited int64
	said   string
}

// edits returns what is said of each piece and concert, and when it was changed.
// What a piece comes after is left out, for a circle is broken.
func (a Archive) edits() map[string]edit {
	all := map[string]edit{}
	for _, r := range a.Pieces {
		all[r.Title] = edit{r.Edited, fmt.Sprint(r.Goal, r.Teacher)}
	}
	for _, c := range a.Concerts {
		all[c.Name] = edit{c.Edited, fmt.Sprint(c)}
	}
	return all
}

// What is changed on one machine stays, whatever an older copy of the file was
// played since, in either direction, though the clock be behind.
func TestAChangeOutlivesAnOlderCopy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		copied := anyArchive(t)
		here := copied
		here.Pieces, here.Concerts = slices.Clone(copied.Pieces), slices.Clone(copied.Concerts)
		now := int64(rapid.IntRange(0, 3).Draw(t, "now"))
		for i := range here.Pieces {
			here.Pieces[i].Goal, here.Pieces[i].Edited = 99, EditedAt(now, here.Pieces[i].Edited)
		}
		for i := range here.Concerts {
			here.Concerts[i].Minutes, here.Concerts[i].Edited = 19, EditedAt(now, here.Concerts[i].Edited)
		}
		there := copied
		there.Pieces = slices.Clone(copied.Pieces)
		for i, r := range there.Pieces {
			later := Play{Day: 20002, Tempo: 60, Clarity: 4}
			there.Pieces[i].Plays = append(slices.Clone(r.Plays), slices.Repeat([]Play{later}, rapid.IntRange(0, 2).Draw(t, "later"))...)
		}
		for _, joined := range []Archive{Merge(here, there), Merge(there, here)} {
			for _, r := range joined.Pieces {
				if r.Goal != 99 {
					t.Fatalf("%+v", r)
				}
			}
			for _, c := range joined.Concerts {
				if c.Minutes != 19 {
					t.Fatalf("%+v", c)
				}
			}
			if joined.Plays() != there.Plays() {
				t.Fatalf("%d plays, not %d", joined.Plays(), there.Plays())
			}
		}
	})
}

func TestEditedAt(t *testing.T) {
	const now = 1_764_000_000
	for was, want := range map[int64]int64{
		0: now, now - 1: now, now: now + 1, now + 60: now + 61, now + daySeconds: now, math.MaxInt64: now,
	} {
		if got := EditedAt(now, was); got != want {
			t.Errorf("changed at %d and now: %d, want %d", was, got, want)
		}
	}
}

func playsByTitle(a Archive) map[string][]Play {
	all := map[string][]Play{}
	for _, r := range a.Pieces {
		all[r.Title] = append([]Play{}, r.Plays...)
	}
	return all
}

func allPlays(a Archive) (all []Play) {
	for _, r := range a.Pieces {
		all = append(all, r.Plays...)
	}
	return all
}

// stored keeps an archive in a new file, which must then say the same.
func stored(t interface{ Fatalf(string, ...any) }, a Archive) *Store {
	s, err := OpenMemory()
	if err != nil {
		t.Fatalf("%v", err)
	}
	if _, err := s.Change(func(Archive) (Archive, error) { return a, nil }, noTick); err != nil && err != ErrUnchanged {
		t.Fatalf("%v\n%+v", err, a)
	}
	if r, err := s.Check(); err != nil || r.Digest != a.Digest() || r.Standings > 0 {
		t.Fatalf("kept as %+v, %v\nwanted %s", r, err, a.Digest())
	}
	return s
}

// Whatever stood in a file before, a change leaves it saying what was asked,
// with the standings that follow.
func TestChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyArchive(t), anyArchive(t)
		s := stored(t, a)
		defer s.Close()
		before, _, err := readArchive(s.db)
		if err != nil || before.Digest() != a.Digest() {
			t.Fatal(err)
		}
		joined := Merge(a, b)
		if _, err := s.Change(func(before Archive) (Archive, error) { return Merge(before, b), nil }, noTick); err != nil && err != ErrUnchanged {
			t.Fatal(err)
		}
		if r, err := s.Check(); err != nil || r.Digest != joined.Digest() || r.Standings > 0 || len(r.Problems) > 0 {
			t.Fatalf("%+v, %v", r, err)
		}
	})
}

// A change that fails leaves nothing behind.
func TestChangeIsAllOrNothing(t *testing.T) {
	_, s := create(t)
	defer s.Close()
	fill(t, s, 3, 5)
	before := check(t, s).Digest
	for want, spoil := range map[string]func(*Archive){
		"comes after Nobody": func(a *Archive) { a.Pieces[2].After = "Nobody" },
		"which waits for it": func(a *Archive) {
			a.Pieces[1].After, a.Pieces[2].After = a.Pieces[2].Title, a.Pieces[1].Title
		},
		"tempo 999 is outside":    func(a *Archive) { a.Pieces[2].Plays = []Play{{Day: 20000, Tempo: 999, Clarity: 4}} },
		"goal tempo 9 is outside": func(a *Archive) { a.Pieces[2].Goal = 9 },
		"is no kind":              func(a *Archive) { a.Pieces[2].Kind = "gatt" },
		"is no tala":              func(a *Archive) { a.Pieces[2].Tala = "" },
	} {
		_, err := s.Change(func(a Archive) (Archive, error) {
			a.Pieces = append([]Record{}, a.Pieces...)
			a.Pieces[0].Goal = 133
			spoil(&a)
			return a, nil
		}, noTick)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
		if r := check(t, s); r.Digest != before {
			t.Errorf("%s: something was changed", want)
		}
	}
}

// An archive that reads is written so that it reads the same, and can be kept.
func FuzzReadArchive(f *testing.F) {
	f.Add([]byte(`{"dohra":1,"settings":{"minutes":30},"talas":[{"name":"lamp","vibhags":[3,2],"tali":[1],"khali":[4],"theka":""}],
		"pieces":[{"title":"Kite","kind":"gat","tala":"lamp","start_tempo":60,"goal_tempo":90,"after":"mill","teacher":"Aunt Mira","note":"n","bols":"dha","added":"2026-01-01","resting":"",
		"plays":[{"day":"2026-01-02","tempo":60,"clarity":4,"minutes":3,"note":"x"},{"day":"2026-01-01","tempo":60,"clarity":4}]},
		{"title":"Mill","kind":"gat","tala":"rupak","start_tempo":60,"goal_tempo":90,"added":"2026-01-01"}]}`))
	f.Add([]byte(`{"dohra":1}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		a, err := ReadArchive(bytes.NewReader(text))
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := a.Write(&b); err != nil {
			t.Fatal(err)
		}
		again, err := ReadArchive(&b)
		if err != nil || again.Digest() != a.Digest() {
			t.Errorf("%+v\nis read again as %+v, %v", a, again, err)
		}
	})
}

func TestReadArchiveRefuses(t *testing.T) {
	piece := func(more string) string {
		return `{"dohra":1,"pieces":[{"title":"Kite","kind":"gat","tala":"rupak","start_tempo":60,"goal_tempo":90,"added":"2026-01-01"` + more + `}]}`
	}
	if _, err := ReadArchive(strings.NewReader(piece(""))); err != nil {
		t.Fatal(err)
	}
	absence := `{"from":"2026-01-01","to":"2026-01-01"},`
	for text, want := range map[string]string{
		`{"dohra":1,"absences":[` + strings.Repeat(absence, 1000) + absence[:len(absence)-1] + `]}`: "it has 1001 absences",
		`{"dohra":1,"talas":[` + strings.Repeat(`{},`, 200) + `{}]}`:                                "it has 201 talas",
		``:              "ends too soon",
		`{"dohra":1`:    "ends too soon",
		`[]`:            "the whole cannot be array",
		`{"dohra":2}`:   "version 2",
		`{}`:            "version 0",
		`{"dohra":1}{}`: "more after its end",
		`{"dohra":1,"x":` + strings.Repeat("[", 1<<20):  "no dohra archive",
		`{"dohra":1,"settings":{"minutes":99999}}`:      "outside 1 to 720",
		`{"dohra":1,"settings":{"x":1}}`:                `setting "x"`,
		`{"dohra":1,"settings":{"minutes":1e99}}`:       "no dohra archive",
		`{"dohra":1,"talas":[{"name":"lamp"}]}`:         "needs vibhags",
		piece(`,"path":"/etc"`):                         "unknown field",
		strings.Replace(piece(""), "rupak", "waltz", 1): "is no tala known",
		piece(`,"after":"Mill"`):                        "comes after Mill, which is neither in the file nor here",
		piece(`,"bols":"\u001b[2J"`):                    "hidden characters",
		piece(`,"teacher":"Aunt  Mira"`):                `"Aunt  Mira" is not as it would be kept`,
		piece(`,"note":" x"`):                           "spaces around it",
		piece(`,"edited":-1`):                           "changed before 1970",
		piece(`,"edited":"soon"`):                       "edited cannot be string",
		piece(`}],"concerts":[{"name":"Spring","day":"2026-12-20","minutes":20,"edited":-1`): "Spring was changed before 1970",
		piece(`,"resting":"soon"`):                                                                                   "no day",
		piece(`,"plays":[{"day":"2026-01-01","tempo":401,"clarity":4}]`):                                             "outside 20 to 400",
		piece(`,"plays":[{"day":"2026-01-01","tempo":60.5,"clarity":4}]`):                                            "tempo cannot be number 60.5",
		piece(`,"plays":[{"day":"","tempo":60,"clarity":4}]`):                                                        "has no day",
		piece(`},{"title":"KITE","kind":"gat","tala":"rupak","start_tempo":60,"goal_tempo":90,"added":"2026-01-01"`): "two pieces called Kite",
	} {
		if _, err := ReadArchive(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.100s: %v, want %q", text, err, want)
		}
	}
}

// What is taken and what is kept of two files is told.
func TestMergedTellsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyArchive(t), anyArchive(t)
		joined := Merge(a, b)
		told := map[string]bool{}
		for _, c := range Merged(a, b, joined) {
			if (c.State == Kept) != (c.Why != "") {
				t.Fatalf("%+v", c)
			}
			told[c.Title] = told[c.Title] || c.State != Same
		}
		for _, c := range Changes(a, b) {
			if c.State == Changed && c.says() && !told[c.Title] {
				if _, said := b.Settings["minutes"]; said || c.Title != "the setting minutes" {
					t.Fatalf("nothing is told of %+v", c)
				}
			}
		}
	})
}

// A chain of many pieces is walked once, and a circle at its end is found.
func TestCircles(t *testing.T) {
	chain := make([]Record, 200_000)
	for i := range chain {
		chain[i].Title = fmt.Sprint("Piece ", i)
		if i > 0 {
			chain[i].After = chain[i-1].Title
		}
	}
	if err := order(chain); err != nil {
		t.Error(err)
	}
	chain[3].After = chain[len(chain)-1].Title
	if got := circles(chain); len(got) != 1 || len(got[0]) != len(chain)-3 {
		t.Errorf("%d circles", len(got))
	}
}
