package db

import (
	"cmp"
	"database/sql"
	"errors"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// ErrNothing says that no play was ever logged.
var ErrNothing = errors.New("there is no play to take back")

const playColumns = `SELECT id, piece, day, tempo, clarity, coalesce(minutes, 0), note, sore, spoken, line, through FROM play `

func scanPlay(rows *sql.Rows) (p schedule.Play, err error) {
	err = rows.Scan(&p.ID, &p.Piece, (*day)(&p.Day), &p.Tempo, &p.Clarity, &p.Minutes, &p.Note, &p.Sore, &p.Spoken, &p.Line, &p.Through)
	if err == nil {
		err = p.Check()
	}
	return p, err
}

// playsOf returns a piece's plays before a day, in the order in which they count.
func playsOf(q querier, piece int64, before repertoire.Day) ([]schedule.Play, error) {
	return collect(q, scanPlay, playColumns+"WHERE piece = ? AND day < ? ORDER BY day, id", piece, day(before))
}

// Plays returns a piece's plays by day and, within a day, as they were logged.
func (s *Store) Plays(piece int64) ([]schedule.Play, error) { return playsOf(s.db, piece, forever) }

// FirstPlays returns the day of the first play of each piece that has one.
func (s *Store) FirstPlays() (map[int64]repertoire.Day, error) {
	first := map[int64]repertoire.Day{}
	_, err := collect(s.db, func(rows *sql.Rows) (piece int64, err error) {
		var on day
		err = rows.Scan(&piece, &on)
		first[piece] = repertoire.Day(on)
		return piece, err
	}, "SELECT id, (SELECT min(day) FROM play WHERE piece = p.id) AS on_day FROM piece p WHERE on_day IS NOT NULL")
	return first, err
}

// PlaysBefore returns a piece's plays before a day, likewise.
func (s *Store) PlaysBefore(piece int64, on repertoire.Day) ([]schedule.Play, error) {
	return playsOf(s.db, piece, on)
}

// PlaysOn returns the plays of one day, as they were logged.
func (s *Store) PlaysOn(on repertoire.Day) ([]schedule.Play, error) {
	return collect(s.db, scanPlay, playColumns+"WHERE day = ? ORDER BY id", day(on))
}

// Log keeps a play and returns the piece as it stands before and after it. A
// play that may not be the last that the piece hears of is replayed in its place.
func (s *Store) Log(p schedule.Play) (before, after schedule.Candidate, err error) {
	err = s.inTx(func(tx *sql.Tx) error {
		if before, err = candidate(tx, p.Piece); err != nil {
			return err
		}
		if _, err := tx.Exec(insertPlay, playValues(p)...); err != nil {
			return err
		}
		others, err := kin(tx, before.Piece)
		if err != nil {
			return err
		}
		if len(others) == 0 && before.Stage != schedule.Untouched && p.Day >= before.Until() {
			after = before
			after.Standing = before.Add(before.Goal, p)
			return saveStanding(tx, after.Piece, after.Standing)
		}
		if err := replayHearing(tx, []int64{p.Piece}, noTick); err != nil {
			return err
		}
		after, err = candidate(tx, p.Piece)
		return err
	})
	return before, after, err
}

// Undo takes back the play logged last and returns it, with its piece as it now
// stands. ErrNothing when there is none.
func (s *Store) Undo() (undone schedule.Play, now schedule.Candidate, err error) {
	err = s.inTx(func(tx *sql.Tx) error {
		last, err := collect(tx, scanPlay, playColumns+"ORDER BY id DESC LIMIT 1")
		if err != nil {
			return err
		}
		if len(last) == 0 {
			return ErrNothing
		}
		undone = last[0]
		if _, err := tx.Exec("DELETE FROM play WHERE id = ?", undone.ID); err != nil {
			return err
		}
		if now, err = candidate(tx, undone.Piece); err != nil {
			return err
		}
		if err := replayHearing(tx, []int64{now.ID}, noTick); err != nil {
			return err
		}
		now, err = candidate(tx, undone.Piece)
		return err
	})
	return undone, now, err
}

// Mark gives the last play that is as was the note and the soreness of now, which
// move no standing. ErrNothing when there is no such play any more.
func (s *Store) Mark(was, now schedule.Play) error {
	return s.inTx(func(tx *sql.Tx) error { return mark(tx, was, now) })
}

func mark(tx *sql.Tx, was, now schedule.Play) error {
	r, err := tx.Exec(`UPDATE play SET note = ?, sore = ? WHERE id = (
		SELECT max(id) FROM play WHERE piece = ? AND day = ? AND tempo = ? AND clarity = ? AND minutes IS ?
			AND note = ? AND sore = ? AND spoken = ? AND line = ? AND through = ?)`,
		append([]any{now.Note, now.Sore}, playValues(was)...)...)
	if err != nil {
		return err
	}
	if n, err := r.RowsAffected(); err != nil || n == 0 {
		return cmp.Or(err, ErrNothing)
	}
	return nil
}

// LogAll keeps many plays at once, all or none, and derives the standings of
// their pieces anew.
func (s *Store) LogAll(plays []schedule.Play) error {
	return s.inTx(func(tx *sql.Tx) error {
		if err := insertPlays(tx, plays, noTick); err != nil {
			return err
		}
		ids := make([]int64, len(plays))
		for i, p := range plays {
			ids[i] = p.Piece
		}
		slices.Sort(ids)
		return replayHearing(tx, slices.Compact(ids), noTick)
	})
}

const insertPlay = `INSERT INTO play (piece, day, tempo, clarity, minutes, note, sore, spoken, line, through) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`

func playValues(p schedule.Play) []any {
	return []any{p.Piece, day(p.Day), p.Tempo, p.Clarity, sql.NullInt64{Int64: int64(p.Minutes), Valid: p.Minutes > 0}, p.Note, p.Sore, p.Spoken, p.Line, p.Through}
}
