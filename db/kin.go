package db

import (
	"cmp"
	"database/sql"
	"encoding/json"
	"maps"
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
	var others []repertoire.Piece
	if p.Bols != "" {
		var err error
		if others, err = kin(q, p); err != nil {
			return nil, err
		}
	}
	return hear(p, others, func(piece int64) ([]schedule.Play, error) { return playsOf(q, piece, before) })
}

// hear returns the piece's own plays and the echoes of its kin's, in the order in
// which they count.
func hear(p repertoire.Piece, kin []repertoire.Piece, playsOf func(piece int64) ([]schedule.Play, error)) ([]schedule.Play, error) {
	plays, err := playsOf(p.ID)
	if err != nil || len(kin) == 0 {
		return plays, err
	}
	plays = slices.Clone(plays)
	for _, other := range kin {
		share := schedule.Share(p, other)
		if share == 0 {
			continue
		}
		theirs, err := playsOf(other.ID)
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

// HeardBetween returns what each piece heard from one day to another, both
// included: its own plays and the echoes of its kin's, in the order in which they
// count.
func (s *Store) HeardBetween(from, to repertoire.Day) (map[int64][]schedule.Play, error) {
	plays, err := s.PlaysBetween(from, to)
	if err != nil {
		return nil, err
	}
	own := map[int64][]schedule.Play{}
	for _, p := range plays {
		own[p.Piece] = append(own[p.Piece], p)
	}
	pieces, err := hearing(s.db, slices.AppendSeq([]int64{}, maps.Keys(own)))
	if err != nil {
		return nil, err
	}
	kin := map[int64][]repertoire.Piece{} // that were played
	at := map[int64]repertoire.Piece{}
	for _, p := range pieces {
		at[p.ID] = p
	}
	for _, p := range pieces {
		first, known := at[p.After]
		if known && len(own[first.ID]) > 0 {
			kin[p.ID] = append(kin[p.ID], first)
		}
		if known && len(own[p.ID]) > 0 {
			kin[first.ID] = append(kin[first.ID], p)
		}
	}
	heard := make(map[int64][]schedule.Play, len(pieces))
	for _, p := range pieces {
		heard[p.ID], err = hear(p, kin[p.ID], func(piece int64) ([]schedule.Play, error) { return own[piece], nil })
	}
	return heard, err
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
