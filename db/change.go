package db

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// Tick is told how much of a long work is done.
type Tick func(done, total int)

func noTick(int, int) {}

// ErrUnchanged says that there was nothing to change.
var ErrUnchanged = errors.New("there is nothing to change")

// Change replaces the player's truth by what plan makes of it, all or nothing,
// after a backup; pieces keep their ids. It returns the path of the backup, ""
// where there was no piece to lose. ErrUnchanged when there is nothing to do;
// any error of plan as it is.
func (s *Store) Change(plan func(Archive) (Archive, error), tick Tick) (backup string, err error) {
	err = s.inTx(func(tx *sql.Tx) error {
		before, ids, err := readArchive(tx)
		if err != nil {
			return err
		}
		after, err := plan(before)
		if err != nil {
			return err
		}
		if before.same(after) {
			return ErrUnchanged
		}
		if err := after.keepable(); err != nil {
			return err
		}
		if len(before.Pieces) > 0 {
			if backup, err = s.keepWhileWriting(); err != nil {
				return err
			}
		}
		return apply(tx, before, after, ids, tick)
	})
	return backup, err
}

// same reports whether two archives say the same.
func (a Archive) same(b Archive) bool {
	return maps.Equal(a.Settings, b.Settings) && slices.Equal(a.Absences, b.Absences) && reflect.DeepEqual(a.Talas, b.Talas) &&
		reflect.DeepEqual(a.Concerts, b.Concerts) &&
		slices.EqualFunc(a.Pieces, b.Pieces, func(x, y Record) bool { return x.sameEntry(y) && slices.Equal(x.Plays, y.Plays) })
}

// keepable refuses what no file could give back: no plan may lead to it.
func (a Archive) keepable() error {
	for _, r := range a.Pieces {
		if err := r.Check(); err != nil {
			return err
		}
	}
	return cmp.Or(order(slices.Clone(a.Pieces)), a.checkTalas())
}

// keepWhileWriting makes a backup from a connection of its own, which does not
// see what this one is about to write.
func (s *Store) keepWhileWriting() (string, error) {
	if s.path == "" {
		return "", nil
	}
	if err := s.unmoved(); err != nil {
		return "", err
	}
	other, err := open(escape(s.path))
	if err != nil {
		return "", err
	}
	defer other.Close()
	other.path = s.path
	return other.Keep()
}

// apply makes the file say what after says. before is what it says now; pieces
// that after does not have stay.
func apply(tx *sql.Tx, before, after Archive, ids map[string]int64, tick Tick) error {
	if err := saveSettings(tx, after.Settings); err != nil {
		return err
	}
	if err := saveAbsences(tx, after.Absences); err != nil {
		return err
	}
	for _, t := range after.Talas {
		if err := saveTala(tx, t, "INSERT OR REPLACE"); err != nil {
			return err
		}
	}
	old := map[string]Record{}
	for _, r := range before.Pieces {
		old[repertoire.Fold(r.Title)] = r
	}
	pieces, err := applyPieces(tx, old, after, ids)
	if err != nil {
		return err
	}
	if err := saveConcerts(tx, after.Concerts, ids); err != nil {
		return err
	}
	return applyPlays(tx, old, after, pieces, tick)
}

// applyPieces keeps what is new or changed and returns every piece of after, in
// its order.
func applyPieces(tx *sql.Tx, old map[string]Record, after Archive, ids map[string]int64) ([]repertoire.Piece, error) {
	pieces := make([]repertoire.Piece, len(after.Pieces))
	for i, r := range after.Pieces {
		key := repertoire.Fold(r.Title)
		pieces[i] = r.piece()
		if _, known := ids[key]; !known {
			id, err := insertPiece(tx, pieces[i])
			if err != nil {
				return nil, fmt.Errorf("%s: %w", r.Title, err)
			}
			ids[key] = id
		}
		pieces[i].ID = ids[key]
	}
	var changed []repertoire.Piece
	for i, r := range after.Pieces {
		if r.After != "" {
			first, ok := ids[repertoire.Fold(r.After)]
			if !ok {
				return nil, fmt.Errorf("%s comes after %s, which is not there", r.Title, r.After)
			}
			pieces[i].After = first
		}
		if r.sameEntry(old[repertoire.Fold(r.Title)]) {
			continue
		}
		changed = append(changed, pieces[i])
		if _, err := tx.Exec("UPDATE piece SET after = NULL WHERE id = ?", pieces[i].ID); err != nil {
			return nil, err
		}
	}
	for _, p := range changed {
		if err := updatePiece(tx, p); err != nil {
			return nil, fmt.Errorf("%s: %w", p.Title, err)
		}
	}
	return pieces, nil
}

func (r Record) piece() repertoire.Piece {
	return repertoire.Piece{Title: r.Title, Kind: r.Kind, Tala: r.Tala, Start: r.Start, Goal: r.Goal, Teacher: r.Teacher, Note: r.Note,
		Bols: r.Bols, Matras: repertoire.Length(r.Bols), Added: r.Added, Resting: r.Resting, Edited: r.Edited}
}

// sameEntry reports whether two records differ at most in their plays.
func (r Record) sameEntry(other Record) bool {
	r.Plays, other.Plays = nil, nil
	return reflect.DeepEqual(r, other)
}

// applyPlays keeps the plays, by day, and derives anew the standings of the
// pieces that they or a change concern. What a piece's plays were before is
// kept up to where they part, so that the order in which they count is kept.
func applyPlays(tx *sql.Tx, old map[string]Record, after Archive, pieces []repertoire.Piece, tick Tick) error {
	var fresh []schedule.Play
	ids := map[string]int64{}
	for _, p := range pieces {
		ids[repertoire.Fold(p.Title)] = p.ID
	}
	var touched []int64
	for i, r := range after.Pieces {
		was := old[repertoire.Fold(r.Title)]
		same := samePlays(was.Plays, r.Plays)
		if same < len(was.Plays) {
			if _, err := tx.Exec(`DELETE FROM play WHERE id IN (
				SELECT id FROM play WHERE piece = ? ORDER BY day, id LIMIT -1 OFFSET ?)`, pieces[i].ID, same); err != nil {
				return err
			}
		}
		for _, p := range r.Plays[same:] {
			fresh = append(fresh, p.Of(pieces[i].ID))
		}
		if same < len(was.Plays) || same < len(r.Plays) || !r.sameEntry(was) {
			touched = append(touched, pieces[i].ID)
		}
		if was.After != r.After {
			touched = append(touched, ids[repertoire.Fold(was.After)])
		}
	}
	slices.SortStableFunc(fresh, func(a, b schedule.Play) int { return int(a.Day - b.Day) })
	if err := insertPlays(tx, fresh, tick); err != nil {
		return err
	}
	return replayHearing(tx, touched, func(done, total int) { tick(len(fresh)+done, len(fresh)+total) })
}

// samePlays returns how many plays two lists begin with in common.
func samePlays(a, b []Play) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// insertPlays keeps many plays.
func insertPlays(tx *sql.Tx, plays []schedule.Play, tick Tick) error {
	insert, err := tx.Prepare(insertPlay)
	if err != nil {
		return err
	}
	defer insert.Close()
	for i, p := range plays {
		if _, err := insert.Exec(playValues(p)...); err != nil {
			return err
		}
		if i%1000 == 0 {
			tick(i, len(plays))
		}
	}
	return nil
}
