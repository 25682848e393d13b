package db

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// An Archive is the player's truth and nothing that follows from it: settings,
// talas, pieces and plays. It holds no ids, so that two files that say the same
// have the same archive. What a later version adds to it must be left out of
// the JSON while it is empty; then digests of old files stay what they are.
type Archive struct {
	Version  int                `json:"dohra"`
	Settings map[string]int     `json:"settings"`
	Talas    []repertoire.Tala  `json:"talas"`
	Absences []schedule.Absence `json:"absences,omitempty"`
	Pieces   []Record           `json:"pieces"` // by folded title
	Concerts []Concert          `json:"concerts,omitempty"`
}

// A Record is a piece and its plays, in the order in which they count.
type Record struct {
	repertoire.Entry
	Added   repertoire.Day `json:"added"`
	Resting repertoire.Day `json:"resting"`
	Edited  int64          `json:"edited,omitempty"` // Unix seconds, 0 unknown
	Plays   []Play         `json:"plays"`
}

// A Play is a play within its record.
type Play struct {
	Day     repertoire.Day `json:"day"`
	Tempo   int            `json:"tempo"`
	Clarity int            `json:"clarity"`
	Minutes int            `json:"minutes,omitempty"`
	Note    string         `json:"note,omitempty"`
	Sore    bool           `json:"sore,omitempty"`
	Spoken  bool           `json:"spoken,omitempty"`
	Line    int            `json:"line,omitempty"`
	Through int            `json:"through,omitempty"`
}

// PlayOf returns a play as it stands in a record.
func PlayOf(p schedule.Play) Play {
	return Play{p.Day, p.Tempo, int(p.Clarity), p.Minutes, p.Note, p.Sore, p.Spoken, p.Line, p.Through}
}

// Of returns the play as one of the piece of that id.
func (p Play) Of(piece int64) schedule.Play {
	return schedule.Play{Piece: piece, Day: p.Day, Tempo: p.Tempo, Clarity: schedule.Clarity(p.Clarity), Minutes: p.Minutes, Note: p.Note,
		Sore: p.Sore, Spoken: p.Spoken, Line: p.Line, Through: p.Through}
}

// archiveVersion is the version of the JSON.
const archiveVersion = 1

// MaxArchive is the longest archive that is read, in bytes: some three million
// plays.
const MaxArchive = 256 << 20

// maxAbsences is how many absences are read, for each is joined to the others.
const maxAbsences = 1000

// Archive returns the player's truth, as it is at one moment.
func (s *Store) Archive() (a Archive, err error) {
	if _, err := s.db.Exec("BEGIN"); err != nil { // which reads, and keeps no one waiting
		return a, err
	}
	defer s.db.Exec("ROLLBACK")
	a, _, err = readArchive(s.db)
	return a, err
}

// readArchive also returns the id of each piece by its folded title.
func readArchive(q querier) (a Archive, ids map[string]int64, err error) {
	a.Version = archiveVersion
	if a.Talas, err = ownTalas(q); err != nil {
		return a, nil, err
	}
	if a.Settings, err = readSettings(q); err != nil {
		return a, nil, err
	}
	if a.Absences, err = absences(q); err != nil {
		return a, nil, err
	}
	pieces, err := collect(q, scanPiece, "SELECT "+pieceColumns+" FROM piece p ORDER BY p.folded")
	if err != nil {
		return a, nil, err
	}
	titles := map[int64]string{}
	for _, p := range pieces {
		titles[p.ID] = p.Title
	}
	if a.Concerts, err = archiveConcerts(q, titles); err != nil {
		return a, nil, err
	}
	ids = map[string]int64{}
	at := map[int64]int{}
	for i, p := range pieces {
		ids[repertoire.Fold(p.Title)], at[p.ID] = p.ID, i
		a.Pieces = append(a.Pieces, recordOf(p, titles[p.After]))
	}
	return a, ids, eachPlay(q, func(p schedule.Play) error {
		i, ok := at[p.Piece]
		if !ok {
			return errDamaged
		}
		a.Pieces[i].Plays = append(a.Pieces[i].Plays, PlayOf(p))
		return nil
	})
}

// recordOf returns the record of a piece, without plays; after is the title of
// the piece that must come first.
func recordOf(p repertoire.Piece, after string) Record {
	return Record{Entry: repertoire.Entry{
		Title: p.Title, Kind: p.Kind, Tala: p.Tala, Start: p.Start, Goal: p.Goal,
		After: after, Teacher: p.Teacher, Note: p.Note, Bols: p.Bols,
	}, Added: p.Added, Resting: p.Resting, Edited: p.Edited, Plays: []Play{}}
}

// eachPlay calls do with every play, by piece and then in the order in which
// plays count.
func eachPlay(q querier, do func(schedule.Play) error) error {
	rows, err := q.Query(playColumns + "ORDER BY piece, day, id")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		p, err := scanPlay(rows)
		if err != nil {
			return errDamaged
		}
		if err := do(p); err != nil {
			return err
		}
	}
	return rows.Err()
}

// Plays returns how many plays the archive holds.
func (a Archive) Plays() int {
	n := 0
	for _, r := range a.Pieces {
		n += len(r.Plays)
	}
	return n
}

// LastDay returns the day of the last play, or Never.
func (a Archive) LastDay() repertoire.Day {
	last := repertoire.Never
	for _, r := range a.Pieces {
		last = max(last, r.lastDay())
	}
	return last
}

func (r Record) lastDay() repertoire.Day {
	if len(r.Plays) == 0 {
		return repertoire.Never
	}
	return r.Plays[len(r.Plays)-1].Day
}

// Digest returns a number, in hexadecimal digits, that two archives share when
// they say the same. A setting left alone and one set to its default are the
// same.
func (a Archive) Digest() string {
	a.Settings = maps.Clone(a.Settings)
	maps.DeleteFunc(a.Settings, func(name string, value int) bool { return value == DefaultSettings.values()[name] })
	sum := sha256.New()
	a.Write(sum)
	return hex.EncodeToString(sum.Sum(nil)[:16])
}

// Write writes the archive as JSON.
func (a Archive) Write(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	return enc.Encode(a)
}

// ReadArchive reads what Write wrote, or somebody says that it did: whatever a
// repertoire could not hold is refused.
func ReadArchive(r io.Reader) (a Archive, err error) {
	limited := &io.LimitedReader{R: r, N: MaxArchive + 1}
	dec := json.NewDecoder(limited)
	dec.DisallowUnknownFields()
	err = dec.Decode(&a)
	if err == nil {
		if _, more := dec.Token(); more != io.EOF {
			err = errors.New("there is more after its end")
		}
	}
	if limited.N == 0 {
		err = fmt.Errorf("it is longer than %d MiB", MaxArchive>>20)
	}
	if err != nil {
		return a, fmt.Errorf("it is no dohra archive: %w", plainJSON(err))
	}
	if err := a.tidy(); err != nil {
		return a, err
	}
	return a, a.checkTalas()
}

// CheckDays refuses a play or a piece that is later than the day, and a change
// that is later than the day after it.
func (a Archive) CheckDays(last repertoire.Day) error {
	for _, r := range a.Pieces {
		if r.lastDay() > last {
			return fmt.Errorf("%s: a play of %s, which is still to come", r.Title, r.lastDay())
		}
		if r.Added > last {
			return fmt.Errorf("%s: it was added on %s, which is still to come", r.Title, r.Added)
		}
		if err := checkEdited(r.Title, r.Edited, last); err != nil {
			return err
		}
	}
	for _, c := range a.Concerts {
		if err := checkEdited("the concert "+c.Name, c.Edited, last); err != nil {
			return err
		}
	}
	return nil
}

// checkTalas refuses a piece of a tala that is not known.
func (a Archive) checkTalas() error {
	known := slices.Concat(repertoire.Talas, a.Talas)
	for _, r := range a.Pieces {
		if _, err := repertoire.FindTala(r.Tala, known); err != nil {
			return fmt.Errorf("%s: %w", r.Title, err)
		}
	}
	return nil
}

// plainJSON words an error of reading JSON for a player.
func plainJSON(err error) error {
	var wrong *json.UnmarshalTypeError
	switch {
	case errors.As(err, &wrong):
		return fmt.Errorf("%s cannot be %s", cmp.Or(wrong.Field, "the whole"), wrong.Value)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("it ends too soon")
	}
	return err
}

// tidy puts what was read in order, and refuses what cannot be.
func (a *Archive) tidy() error {
	if a.Version != archiveVersion {
		return fmt.Errorf("it is of version %d; this dohra reads %d", a.Version, archiveVersion)
	}
	switch {
	case len(a.Talas) > repertoire.MaxTalas:
		return fmt.Errorf("it has %d talas; at most %d are read", len(a.Talas), repertoire.MaxTalas)
	case len(a.Absences) > maxAbsences:
		return fmt.Errorf("it has %d absences; at most %d are read", len(a.Absences), maxAbsences)
	}
	for i, t := range a.Talas {
		for _, signs := range []*[]int{&a.Talas[i].Tali, &a.Talas[i].Khali} {
			if len(*signs) == 0 {
				*signs = nil // as it is read from a file
			}
		}
		name, err := repertoire.CleanTitle(t.Name)
		if err == nil && name != t.Name {
			err = fmt.Errorf("the tala %q is not named as it would be kept", t.Name)
		}
		if err := cmp.Or(err, t.Check()); err != nil {
			return err
		}
	}
	slices.SortFunc(a.Talas, func(a, b repertoire.Tala) int { return foldedOrder(a.Name, b.Name) })
	for i, r := range a.Pieces {
		if err := r.Check(); err != nil {
			return err
		}
		if a.Pieces[i].Plays == nil {
			a.Pieces[i].Plays = []Play{}
		}
		slices.SortStableFunc(r.Plays, func(a, b Play) int { return int(a.Day - b.Day) })
	}
	slices.SortStableFunc(a.Pieces, func(a, b Record) int { return foldedOrder(a.Title, b.Title) })
	titles := map[string]string{}
	for _, r := range a.Pieces {
		if other, twice := titles[repertoire.Fold(r.Title)]; twice {
			return fmt.Errorf("it has two pieces called %s", other)
		}
		titles[repertoire.Fold(r.Title)] = r.Title
	}
	if err := order(a.Pieces); err != nil {
		return err
	}
	for _, away := range slices.Clone(a.Absences) {
		if away.From == repertoire.Never || away.To < away.From {
			return errors.New("it has an absence that ends before it begins")
		}
		a.Absences = schedule.Leave(a.Absences, away)
	}
	if err := a.tidyConcerts(titles); err != nil {
		return err
	}
	return checkSettings(a.Settings)
}

// Check refuses an entry or a play that could not be kept.
func (r Record) Check() error {
	err := r.Entry.Check()
	if err == nil && r.Added == repertoire.Never {
		err = fmt.Errorf("%s has no day on which it was added", r.Title)
	}
	if err == nil && r.Edited < 0 {
		err = fmt.Errorf("%s was changed before 1970", r.Title)
	}
	for _, p := range r.Plays {
		if bad := p.check(); bad != nil && err == nil {
			err = fmt.Errorf("%s, a play of %s: %w", r.Title, p.Day, bad)
		}
	}
	return err
}

func (p Play) check() error {
	note, err := repertoire.CleanNote(p.Note)
	if err == nil && note != p.Note {
		err = errors.New("the note has spaces around it")
	}
	if p.Day == repertoire.Never {
		err = errors.New("a play has no day")
	}
	return cmp.Or(err, p.Of(0).Check())
}

func foldedOrder(a, b string) int { return cmp.Compare(repertoire.Fold(a), repertoire.Fold(b)) }
