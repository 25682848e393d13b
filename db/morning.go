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
	store  *Store
	day    repertoire.Day
	played map[int64]schedule.Candidate // pieces played on the day or later, as they stood
}

// Morning returns the repertoire as it stood when the day began.
func (s *Store) Morning(on repertoire.Day) (*Morning, error) {
	m := &Morning{s, on, map[int64]schedule.Candidate{}}
	ids, err := collect(s.db, scanID,
		// Left alone, SQLite would read the whole of play_piece for DISTINCT.
		"SELECT DISTINCT piece FROM play INDEXED BY play_day WHERE day >= ?", day(on))
	if err != nil || len(ids) == 0 {
		return m, err
	}
	played, err := s.Candidates(ids)
	if err != nil {
		return nil, err
	}
	for _, c := range played {
		plays, err := collect(s.db, scanPlay, playColumns+"WHERE piece = ? AND day < ? ORDER BY day, id", c.ID, day(on))
		if err != nil {
			return nil, err
		}
		c.Standing = schedule.Replay(c.Start, c.Goal, plays)
		m.played[c.ID] = c
	}
	return m, nil
}

// Claims returns what the pieces that were not resting ask of the day, save
// those that cannot have a part in it.
func (m *Morning) Claims() ([]schedule.Claim, error) {
	resting, err := m.resting()
	if err != nil {
		return nil, err
	}
	claims, err := m.cached(len(resting) + len(m.played))
	if err != nil {
		return nil, err
	}
	claims = slices.DeleteFunc(claims, func(c schedule.Claim) bool {
		_, played := m.played[c.Piece]
		return played || resting[c.Piece]
	})
	for id, stood := range m.played {
		if !resting[id] {
			claims = append(claims, stood.Claim(false))
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
		claims[i].Waits = waits[c.Piece]
	}
	return claims, err
}

// cached returns the claims, as the standings now are, that can have a part in
// the day: what is due or untouched, and the first kept pieces to come due
// after it, spare more of them than the day can want.
func (m *Morning) cached(spare int) ([]schedule.Claim, error) {
	// Each column is scanned into an int64, which database/sql does without a
	// detour over text.
	var piece, stage, due, last, interval, steps, least int64
	return collect(m.store.db, func(rows *sql.Rows) (c schedule.Claim, err error) {
		err = rows.Scan(&piece, &stage, &due, &last, &interval, &steps, &least)
		return schedule.Claim{
			Piece: piece, Stage: schedule.Stage(stage), Due: repertoire.Day(due), Last: repertoire.Day(last),
			Interval: int(interval), Steps: int(steps), Least: int(least),
		}, err
	}, `SELECT piece, stage, due, last, interval, steps, least FROM standing WHERE due <= ?1
		UNION ALL
		SELECT * FROM (
			SELECT piece, stage, due, last, interval, steps, least FROM standing
			WHERE due > ?1 AND stage = ?2 ORDER BY due, piece LIMIT ?3)`,
		m.day, schedule.Kept, schedule.Framing+spare)
}

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
func (m *Morning) waiting(ids []int64) (map[int64]bool, error) {
	waits := map[int64]bool{}
	list, err := json.Marshal(ids)
	if err != nil || len(ids) == 0 {
		return waits, err
	}
	rows, err := m.store.db.Query(`SELECT p.id, first.id, first.goal, s.clean
		FROM json_each(?) wanted
		JOIN piece p ON p.id = wanted.value
		JOIN piece first ON first.id = p.after
		JOIN standing s ON s.piece = first.id`, string(list))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var id, first int64
		var goal, clean int
		if err := rows.Scan(&id, &first, &goal, &clean); err != nil {
			return nil, err
		}
		if stood, ok := m.played[first]; ok {
			clean = stood.Clean
		}
		waits[id] = !schedule.Carries(clean, goal)
	}
	return waits, rows.Err()
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
		if stood, ok := m.played[c.ID]; ok {
			pieces[i] = stood
		}
	}
	return pieces
}
