package db

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// Salvage reads every row that any page of a damaged file still holds, told by
// its shape, and leaves the file as it is. What was there besides is known from
// the indexes, which name every play and title a second time.

// Saved is what of a damaged file can be saved.
type Saved struct {
	Path                  string // of the new file, "" before there is one
	Pieces, Plays         int    // that can be read
	LostPieces, LostPlays int    // that were there; a lost piece keeps those of its plays that can be read
	More                  bool   // more may be lost than that, for what would tell is lost too
}

// Examine tells what Salvage would save of the file at path.
func Examine(path string, last repertoire.Day) (Saved, error) {
	saved, _, err := examine(path, last)
	return saved, err
}

// Salvage writes what can be saved of the damaged file at path to a new file
// beside it. A play later than last is not one that can be read.
func Salvage(path string, last repertoire.Day) (Saved, error) {
	saved, a, err := examine(path, last)
	if err == nil {
		saved.Path, err = writeSaved(path, a)
	}
	return saved, err
}

func examine(path string, last repertoire.Day) (Saved, Archive, error) {
	p, err := readPages(path)
	if err != nil {
		return Saved{}, Archive{}, fmt.Errorf("%s cannot be read: %w", path, PlainFile(err))
	}
	saved, a, err := gather(p, last)
	if err == nil && len(a.Pieces) == 0 {
		err = errors.New("nothing in it can be read")
	}
	if err != nil {
		return saved, a, fmt.Errorf("%s cannot be saved: %w", path, err)
	}
	return saved, a, nil
}

// writeSaved keeps an archive in a new file beside path.
func writeSaved(path string, a Archive) (string, error) {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s.saved-%d.db", trimDB(path), n)
		err := aside(name, func(name string) error {
			s, err := open(escape(name))
			if err != nil {
				return err
			}
			if err = migrate(s.db); err == nil {
				err = s.inTx(func(tx *sql.Tx) error { return apply(tx, Archive{}, a, map[string]int64{}, noTick) })
			}
			return errors.Join(err, s.Close())
		})
		if !errors.Is(err, fs.ErrExist) {
			return name, PlainFile(Plain(err))
		}
	}
}

// A find is what rows told, by id.
type find struct {
	Archive
	last     repertoire.Day
	pieces   map[int64]*Record
	after    map[int64]int64
	plays    map[int64]schedule.Play
	concerts map[int64]*Concert
	places   map[int64][]row    // by concert
	known    map[int64]bool     // pieces that were there
	played   map[int64]bool     // plays that were there
	stood    map[int64]bool     // pieces whose standing tells of a play
	names    map[int64][]string // what an index gives as the name of a row of some table
}

// gather makes an archive of all rows; no play is later than last.
func gather(p pages, last repertoire.Day) (Saved, Archive, error) {
	f := find{
		last:    last,
		Archive: Archive{Version: archiveVersion, Settings: map[string]int{}},
		pieces:  map[int64]*Record{}, after: map[int64]int64{}, plays: map[int64]schedule.Play{},
		concerts: map[int64]*Concert{}, places: map[int64][]row{},
		known: map[int64]bool{}, played: map[int64]bool{}, stood: map[int64]bool{}, names: map[int64][]string{},
	}
	pagesLost := p.rows(func(r row) {
		if r.table {
			f.take(r)
		} else {
			f.hear(r)
		}
	})
	saved := f.join()
	saved.More = saved.More || pagesLost > 1 // of one alone, the others tell
	return saved, f.Archive, cmp.Or(f.tidy(), f.checkTalas(), f.CheckDays(last))
}

// take keeps a row of a table, if it is one that could be kept. Rows that were
// written before a table had more columns lack those.
func (f *find) take(r row) {
	switch n := len(r.values); {
	case r.holds("Ittttii") && n > 7:
		f.takePiece(r)
	case r.holds("IitiiIt"):
		f.known[r.int(1)], f.played[r.id] = true, true
		play := schedule.Play{ID: r.id, Piece: r.int(1), Day: savedDay(r.text(2)), Tempo: int(r.int(3)), Clarity: schedule.Clarity(r.int(4)),
			Minutes: int(r.int(5)), Note: r.text(6), Sore: r.int(7) != 0, Spoken: r.int(8) != 0, Line: int(r.int(9)), Through: int(r.int(10))}
		if note, err := repertoire.CleanNote(play.Note); err == nil && note == play.Note && play.Day != repertoire.Never && play.Day <= f.last && play.Check() == nil {
			f.plays[r.id] = play
		}
	case r.holds("Iiiiii") && r.values[0] == nil && n > 12:
		f.known[r.id] = true // a standing
		f.stood[r.id] = n > 20 && r.int(19) > 0
	case r.holds("Ittti"):
		f.concerts[r.id] = &Concert{Name: r.text(1), Day: savedDay(r.text(3)), Minutes: int(r.int(4)), Note: r.text(6), Edited: f.savedMoment(r.int(7))}
		if talas := r.text(5); talas != "" {
			f.concerts[r.id].Talas = strings.Split(talas, "\n")
		}
	case r.holds("iiiiii") && n == 6:
		f.places[r.int(0)] = append(f.places[r.int(0)], r)
	case r.holds("tttttt") && n == 6:
		t := repertoire.Tala{Name: r.text(0), Vibhags: numbers(r.text(2)), Tali: numbers(r.text(3)), Khali: numbers(r.text(4)), Theka: r.text(5)}
		if name, err := repertoire.CleanTitle(t.Name); err == nil && name == t.Name && t.Check() == nil {
			f.Talas = append(f.Talas, t)
		}
	case r.holds("ti") && n == 2:
		if checkSettings(map[string]int{r.text(0): int(r.int(1))}) == nil {
			f.Settings[r.text(0)] = int(r.int(1))
		}
	case r.holds("tt") && n == 2:
		if away := (schedule.Absence{From: savedDay(r.text(0)), To: savedDay(r.text(1))}); away.From != repertoire.Never && away.To >= away.From {
			f.Absences = append(f.Absences, away)
		}
	}
}

// What the note of a piece says that lost something.
const (
	bolsLost  = "Its bols and note were lost."
	kindLost  = "Its kind could not be read."
	tempoLost = "Its tempos could not be read; the goal is its fastest clear play."
	onlyPlays = "Only its plays could be saved; kind, tala and goal are not what they were."
)

// What stands for a kind and a goal tempo that could not be read.
const (
	savedKind  = repertoire.Kind("exercise")
	unreadGoal = 0 // until complete
)

// takePiece keeps a piece, if need be without its bols and note, which run over
// the pages that are most often damaged, and with another kind or goal tempo
// where those cannot be right.
func (f *find) takePiece(r row) {
	f.known[r.id] = true
	p := Record{Entry: repertoire.Entry{Title: savedTitle(r.text(1), r.text(2)), Kind: repertoire.Kind(r.text(3)), Tala: r.text(4), Start: int(r.int(5)), Goal: int(r.int(6)),
		Bols: r.text(8), Note: r.text(9), Teacher: r.text(13)}, Added: savedDay(r.text(10)), Resting: savedDay(r.text(11)), Edited: f.savedMoment(r.int(14))}
	if p.Title == "" {
		return
	}
	var lost []string
	if p.Kind.Order() < 0 {
		p.Kind, lost = savedKind, append(lost, kindLost)
	}
	if (repertoire.Piece{Kind: p.Kind, Start: p.Start, Goal: p.Goal}).Check() != nil {
		p.Start, p.Goal, lost = repertoire.MinTempo, unreadGoal, append(lost, tempoLost)
	}
	rest := p.Entry
	rest.Tala, rest.Goal = "", cmp.Or(p.Goal, repertoire.MaxTempo) // looked at by complete
	if rest.Check() != nil || p.Added == repertoire.Never {
		p.Bols, p.Note, p.Teacher, p.Added, p.Resting, lost = "", "", "", repertoire.Never, repertoire.Never, append(lost, bolsLost)
	}
	if p.remark(lost...); p.Added > f.last {
		p.Added = repertoire.Never
	}
	if lost != nil {
		p.Edited = 0 // so that a sound file is believed more
	}
	f.pieces[r.id], f.after[r.id] = &p, r.int(7)
}

// savedMoment returns the moment of a change, 0 where it cannot be.
func (f *find) savedMoment(edited int64) int64 {
	if edited < 0 || toCome(edited, f.last) {
		return 0
	}
	return edited
}

// savedTitle returns the title of a row that has it twice, as it is kept and
// folded, whichever can be read; "" when neither can.
func savedTitle(title, folded string) string {
	for _, text := range []string{title, folded} {
		if clean, err := repertoire.CleanTitle(text); err == nil && clean == text {
			return text
		}
	}
	return ""
}

// remark adds to the note what was lost.
func (r *Record) remark(lost ...string) {
	for _, text := range lost {
		note := strings.TrimSpace(r.Note + " " + text)
		if _, err := repertoire.CleanNote(note); err == nil {
			r.Note = note
		}
	}
}

// hear takes from a row of an index what was there.
func (f *find) hear(r row) {
	switch n := len(r.values); {
	case r.holds("iti") && n == 3 && savedDay(r.text(1)) != repertoire.Never:
		f.known[r.int(0)], f.played[r.int(2)] = true, true
	case r.holds("tii") && n == 3 && savedDay(r.text(0)) != repertoire.Never:
		f.known[r.int(1)], f.played[r.int(2)] = true, true
	case r.holds("ti") && n == 2:
		f.names[r.int(1)] = append(f.names[r.int(1)], r.text(0))
	}
}

// join puts together what belongs together.
func (f *find) join() Saved {
	var saved Saved
	for id := range f.known {
		if f.pieces[id] == nil {
			saved.LostPieces++
		} else {
			saved.Pieces++
		}
	}
	for _, played := range f.stood {
		saved.More = saved.More || played && len(f.played) == 0
	}
	f.Talas = union(f.Talas, nil, func(t repertoire.Tala) string { return t.Name }, first)
	for _, id := range slices.Sorted(maps.Keys(f.plays)) {
		p := f.plays[id]
		if f.pieces[p.Piece] == nil {
			f.pieces[p.Piece] = f.lostPiece(p.Piece)
		}
		f.pieces[p.Piece].Plays = append(f.pieces[p.Piece].Plays, PlayOf(p))
	}
	ids := map[string]int64{}
	for _, id := range slices.Sorted(maps.Keys(f.pieces)) {
		r := f.pieces[id]
		r.complete(f.Talas)
		if first := f.pieces[f.after[id]]; first != nil {
			r.After = first.Title
		}
		if _, twice := ids[repertoire.Fold(r.Title)]; !twice { // or it was removed and added again
			ids[repertoire.Fold(r.Title)] = id
			f.Pieces = append(f.Pieces, *r)
		}
	}
	slices.SortFunc(f.Pieces, func(a, b Record) int { return foldedOrder(a.Title, b.Title) })
	uncircle(f.Pieces)
	saved.Plays = f.Archive.Plays()
	saved.LostPlays = len(f.played) - saved.Plays
	for _, id := range slices.Sorted(maps.Keys(f.concerts)) {
		c := f.concerts[id]
		slices.SortFunc(f.places[id], func(a, b row) int { return cmp.Compare(a.int(1), b.int(1)) })
		for _, place := range f.places[id] {
			if r := f.pieces[place.int(2)]; r != nil {
				c.Set = append(c.Set, Place{r.Title, int(place.int(3)), int(place.int(4)), int(place.int(5))})
			}
		}
		if _, err := c.of(ids); err == nil {
			f.Concerts = append(f.Concerts, *c)
		}
	}
	f.Concerts = union(f.Concerts, nil, func(c Concert) string { return c.Name }, first)
	return saved
}

// complete gives a piece a goal tempo, that of its fastest clear play, a day on
// which it was added and a tala, where it has none that can be kept.
func (r *Record) complete(own []repertoire.Tala) {
	if _, err := repertoire.FindTala(r.Tala, slices.Concat(repertoire.Talas, own)); err != nil {
		r.remark(fmt.Sprintf("Its tala, %.40q, is not known.", r.Tala))
		r.Tala = repertoire.Talas[0].Name
	}
	if r.Goal == unreadGoal {
		r.Goal = repertoire.MinTempo
		for _, p := range r.Plays {
			if p.Clarity >= int(schedule.Clear) && !p.Spoken && p.Line == 0 {
				r.Goal = max(r.Goal, p.Tempo)
			}
		}
	}
	if r.Added == repertoire.Never {
		r.Added = 0 // 1970
		if len(r.Plays) > 0 {
			r.Added = r.Plays[0].Day
		}
	}
}

// lostPiece stands for a piece that is not there itself, but plays of it.
func (f *find) lostPiece(id int64) *Record {
	return &Record{Entry: repertoire.Entry{
		Title: f.lostTitle(id), Kind: savedKind, Tala: repertoire.Talas[0].Name, Start: repertoire.MinTempo, Goal: unreadGoal, Note: onlyPlays,
	}, Added: repertoire.Never, Resting: repertoire.Never}
}

// lostTitle returns the title of a piece, folded, where an index gives one name
// alone that is no setting's, day's, tala's or concert's.
func (f *find) lostTitle(piece int64) string {
	others := map[string]bool{}
	for _, t := range f.Talas {
		others[t.Name], others[repertoire.Fold(t.Name)] = true, true
	}
	for _, c := range f.concerts {
		others[repertoire.Fold(c.Name)] = true
	}
	names := slices.DeleteFunc(f.names[piece], func(name string) bool {
		_, setting := f.Settings[name]
		title, err := repertoire.CleanTitle(name)
		return setting || others[name] || savedDay(name) != repertoire.Never || err != nil || title != name
	})
	if len(names) == 1 {
		return names[0]
	}
	return fmt.Sprintf("Lost piece %d", piece)
}

// savedDay reads a day; what is none is Never.
func savedDay(text string) repertoire.Day {
	day, err := repertoire.ParseDay(text)
	if err != nil {
		return repertoire.Never
	}
	return day
}
