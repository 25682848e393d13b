package db

import (
	"database/sql"
	"encoding/json"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// A Morning is the repertoire as it stood when a day began: what was played on
// that day or later is not in its standings. A plan made from it is the same
// at any hour of the day.
type Morning struct {
	store              *Store
	day                repertoire.Day
	stands             map[int64]schedule.Candidate // pieces that heard a play of the day or later, as they stood
	schedule.Rehearsal                              // what concerts ask of the day
}

// Morning returns the repertoire as it stood when the day began.
func (s *Store) Morning(on repertoire.Day) (*Morning, error) {
	m := &Morning{store: s, day: on, stands: map[int64]schedule.Candidate{}, Rehearsal: schedule.Rehearsal{Day: on}}
	if err := m.rehearse(); err != nil {
		return nil, err
	}
	ids, err := collect(s.db, scanID,
		// Left alone, SQLite would read the whole of play_piece for DISTINCT.
		"SELECT DISTINCT piece FROM play INDEXED BY play_day WHERE day >= ?", day(on))
	if err != nil || len(ids) == 0 {
		return m, err
	}
	pieces, err := hearing(s.db, ids)
	if err != nil {
		return nil, err
	}
	ids = ids[:0]
	for _, p := range pieces {
		ids = append(ids, p.ID)
	}
	touched, err := s.Candidates(ids)
	if err != nil {
		return nil, err
	}
	for _, c := range touched {
		plays, err := heard(s.db, c.Piece, on)
		if err != nil {
			return nil, err
		}
		c.Standing = schedule.Replay(c.Start, c.Goal, plays)
		m.stands[c.ID] = c
	}
	return m, nil
}

// rehearse reads what concerts ask of the day. Their pieces stand among those
// that are read whole, for a concert sees more of them than a claim.
func (m *Morning) rehearse() error {
	concerts, err := concertsSince(m.store.db, m.day)
	if err != nil || len(concerts) == 0 {
		return err
	}
	calendar, _, err := m.store.Calendar(DefaultSettings.Minutes)
	if err != nil {
		return err
	}
	resting, err := m.resting()
	if err != nil {
		return err
	}
	m.Rehearsal = schedule.Rehearse(m.day, calendar, concerts, resting)
	called, err := m.store.Candidates(m.Pieces())
	for _, c := range called {
		m.stands[c.ID] = c
	}
	return err
}

// Claims returns what the pieces that were not resting ask of the day of that many
// minutes, save those that cannot have a part in it. A plan that looks ahead, as
// before an absence, says how far.
func (m *Morning) Claims(minutes int, horizon repertoire.Day) ([]schedule.Claim, error) {
	resting, err := m.resting()
	if err != nil {
		return nil, err
	}
	m.Rehearsal = m.Settle(minutes, func(piece int64) (schedule.Candidate, bool) {
		c, there := m.stands[piece]
		return c, there
	})
	claims, err := m.cached(horizon, len(resting)+len(m.stands))
	if err != nil {
		return nil, err
	}
	claims = slices.DeleteFunc(claims, func(c schedule.Claim) bool {
		_, touched := m.stands[c.Piece]
		return touched || resting[c.Piece]
	})
	for id, stood := range m.stands {
		if !resting[id] {
			claims = append(claims, m.Claim(stood, false))
		}
	}
	var untouched []int64
	for _, c := range claims {
		if c.Stage == schedule.Untouched {
			untouched = append(untouched, c.Piece)
		}
	}
	waits, err := m.waiting(untouched)
	for i, c := range claims {
		if stood, there := m.stands[c.Piece]; there {
			claims[i] = m.Claim(stood, waits[c.Piece])
		} else {
			claims[i].Waits = waits[c.Piece]
		}
	}
	return claims, err
}

// cached returns the claims, as the standings now are, that can have a part in
// the day: what may want a turn, and the first kept pieces that will want one
// after it, spare more of them than frame the day.
func (m *Morning) cached(horizon repertoire.Day, spare int) ([]schedule.Claim, error) {
	// Each column is scanned into an int64, which database/sql does without a
	// detour over text.
	var piece, stage, wants, due, last, believed, goal, least int64
	var b schedule.Belief
	return collect(m.store.db, func(rows *sql.Rows) (c schedule.Claim, err error) {
		err = rows.Scan(&piece, &stage, &wants, &due, &last, &believed, &b.Edge, &b.EdgeDoubt, &b.Hold, &b.HoldDoubt, &b.Peak, &goal, &least)
		b.Of = repertoire.Day(believed)
		return schedule.Claim{
			Piece: piece, Stage: schedule.Stage(stage), Wants: repertoire.Day(wants), Due: repertoire.Day(due), Last: repertoire.Day(last),
			Goal: int(goal), Least: int(least), Belief: b,
		}, err
	}, `SELECT `+claimColumns+` FROM standing WHERE wants <= ?1
		UNION ALL
		SELECT * FROM (
			SELECT `+claimColumns+` FROM standing
			WHERE wants > ?1 AND stage = ?2 ORDER BY wants, piece LIMIT ?3)`,
		horizon, schedule.Kept, schedule.Framing+spare)
}

// Daily returns the minutes a day that the kept pieces come to ask for; see
// schedule.Candidate.Daily.
func (m *Morning) Daily() (minutes float64, err error) {
	err = m.store.db.QueryRow(`SELECT coalesce(sum(1.0 * least / max(interval, lost_at, 1)), 0) FROM standing
		WHERE stage >= ?1 AND piece NOT IN (SELECT id FROM piece WHERE resting <= ?2)`,
		schedule.Kept, day(m.day)).Scan(&minutes)
	return minutes, err
}

const claimColumns = "piece, stage, wants, due, last, believed, edge, edge_doubt, hold, hold_doubt, peak, goal, least"

// resting returns the pieces that were set aside.
func (m *Morning) resting() (map[int64]bool, error) {
	ids, err := collect(m.store.db, scanID, "SELECT id FROM piece WHERE resting IS NOT NULL AND resting <= ?", day(m.day))
	resting := make(map[int64]bool, len(ids))
	for _, id := range ids {
		resting[id] = true
	}
	return resting, err
}

func scanID(rows *sql.Rows) (id int64, err error) { return id, rows.Scan(&id) }

// waiting tells which of the pieces are not carried yet by the one that must
// come first.
func (m *Morning) waiting(untouched []int64) (map[int64]bool, error) {
	waits := map[int64]bool{}
	list, err := json.Marshal(untouched)
	if err != nil || len(untouched) == 0 {
		return waits, err
	}
	followers, err := collect(m.store.db, scanPiece, "SELECT "+pieceColumns+` FROM json_each(?) wanted
		JOIN piece p ON p.id = wanted.value WHERE p.after IS NOT NULL`, string(list))
	if err != nil {
		return nil, err
	}
	var ids []int64
	for _, p := range followers {
		ids = append(ids, p.After)
	}
	slices.Sort(ids)
	firsts, err := m.Candidates(slices.Compact(ids))
	carries := map[int64]bool{}
	for _, first := range firsts {
		carries[first.ID] = first.Carries(m.day, first.Goal)
	}
	for _, p := range followers {
		waits[p.ID] = !carries[p.After]
	}
	return waits, err
}

// All returns every piece as it stood when the day began, by title.
func (m *Morning) All() ([]schedule.Candidate, error) {
	all, err := m.store.All()
	return m.stood(all), err
}

// Candidates returns those pieces as they stood when the day began, in that
// order.
func (m *Morning) Candidates(ids []int64) ([]schedule.Candidate, error) {
	found, err := m.store.Candidates(ids)
	return m.stood(found), err
}

// stood puts in the place of pieces as they stand now those that were played
// since, as they stood.
func (m *Morning) stood(pieces []schedule.Candidate) []schedule.Candidate {
	for i, c := range pieces {
		if stood, ok := m.stands[c.ID]; ok {
			pieces[i] = stood
		}
	}
	return pieces
}
