package db

import (
	"database/sql"
	"encoding/json"

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
	ids, err := collect(s.db, func(rows *sql.Rows) (id int64, err error) { return id, rows.Scan(&id) },
		"SELECT DISTINCT piece FROM play WHERE day >= ?", day(on))
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

// Claims returns what every piece that was not resting asks of the day.
func (m *Morning) Claims() ([]schedule.Claim, error) {
	claims, err := collect(m.store.db, func(rows *sql.Rows) (c schedule.Claim, err error) {
		return c, rows.Scan(&c.Piece, &c.Stage, (*day)(&c.Due), (*day)(&c.Last), &c.Interval, &c.Steps)
	}, `SELECT s.piece, s.stage, s.due, s.last, s.interval, s.steps
		FROM standing s JOIN piece p ON p.id = s.piece
		WHERE p.resting IS NULL OR p.resting > ?`, day(m.day))
	if err != nil {
		return nil, err
	}
	var untouched []int64
	for i, c := range claims {
		if stood, ok := m.played[c.Piece]; ok {
			claims[i] = stood.Claim(false)
		}
		if claims[i].Stage == schedule.Untouched {
			untouched = append(untouched, c.Piece)
		}
	}
	waits, err := m.waiting(untouched)
	for i, c := range claims {
		claims[i].Waits = waits[c.Piece]
	}
	return claims, err
}

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

// Candidates returns those pieces as they stood when the day began, in that
// order.
func (m *Morning) Candidates(ids []int64) ([]schedule.Candidate, error) {
	found, err := m.store.Candidates(ids)
	for i, c := range found {
		if stood, ok := m.played[c.ID]; ok {
			found[i] = stood
		}
	}
	return found, err
}
