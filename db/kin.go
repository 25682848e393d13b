package db

import (
	"cmp"
	"database/sql"
	"encoding/json"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// A play is heard by its piece's kin: the piece that it comes after, and those
// that come after it, as far as their bols have phrases in common.

// forever is a day after every play: 9999-12-31, the last that can be written.
const forever repertoire.Day = 2932896

// kin returns the pieces that hear the piece, and that it hears.
func kin(q querier, p repertoire.Piece) ([]repertoire.Piece, error) {
	return collect(q, scanPiece, "SELECT "+pieceColumns+" FROM piece p WHERE p.id = ? OR p.after = ? ORDER BY p.id", p.After, p.ID)
}

// heardOrder puts a day's own plays first, as they were logged, and then its
// echoes, by what they tell: which of two pieces was played first on a day is
// not kept in an archive, so nothing may follow from it.
func heardOrder(a, b schedule.Play) int {
	if byDay := cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(min(a.Share, 1), min(b.Share, 1))); byDay != 0 || a.Share == 0 {
		return byDay
	}
	return cmp.Or(cmp.Compare(a.Share, b.Share), cmp.Compare(a.Tempo, b.Tempo), cmp.Compare(a.Clarity, b.Clarity))
}

// kinOf returns the ids of a piece's kin.
func kinOf(q querier, id int64) ([]int64, error) {
	return collect(q, scanID, "SELECT after FROM piece WHERE id = ?1 AND after IS NOT NULL UNION SELECT id FROM piece WHERE after = ?1", id)
}

// heard returns the plays before a day that the piece's standing follows from,
// its own and its kin's, in the order in which they count.
func heard(q querier, p repertoire.Piece, before repertoire.Day) ([]schedule.Play, error) {
	plays, err := playsOf(q, p.ID, before)
	if err != nil || p.Bols == "" {
		return plays, err
	}
	others, err := kin(q, p)
	if err != nil {
		return nil, err
	}
	for _, other := range others {
		share := schedule.Share(p, other)
		if share == 0 {
			continue
		}
		theirs, err := playsOf(q, other.ID, before)
		if err != nil {
			return nil, err
		}
		for _, play := range theirs {
			plays = append(plays, schedule.Echo(play, other, p, share))
		}
	}
	slices.SortStableFunc(plays, heardOrder)
	return plays, nil
}

// Heard returns the plays that the piece's standing follows from: its own and
// the echoes of its kin's.
func (s *Store) Heard(p repertoire.Piece) ([]schedule.Play, error) { return heard(s.db, p, forever) }

// hearing returns those pieces and their kin: all whose standings follow from
// plays of theirs.
func hearing(q querier, ids []int64) ([]repertoire.Piece, error) {
	list, err := json.Marshal(ids)
	if err != nil {
		return nil, err
	}
	return collect(q, scanPiece, `WITH wanted AS (SELECT value AS id FROM json_each(?))
		SELECT `+pieceColumns+` FROM piece p WHERE p.id IN (
			SELECT id FROM wanted
			UNION SELECT piece.id FROM wanted JOIN piece ON piece.after = wanted.id
			UNION SELECT piece.after FROM wanted JOIN piece USING (id))
		ORDER BY p.id`, string(list))
}

// replayHearing derives the standings of those pieces and their kin anew.
func replayHearing(tx *sql.Tx, ids []int64, tick Tick) error {
	pieces, err := hearing(tx, ids)
	if err != nil {
		return err
	}
	for i, p := range pieces {
		if err := replay(tx, p); err != nil {
			return err
		}
		if i%100 == 0 {
			tick(i, len(pieces))
		}
	}
	return nil
}
