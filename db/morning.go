package db

import (
	"database/sql"
	"encoding/json"
	"maps"
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
	touched, err := m.read(s.Candidates(ids))
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
	var ids []int64
	for _, c := range concerts {
		for _, p := range c.Set {
			ids = append(ids, p.Piece)
		}
	}
	slices.Sort(ids)
	called, err := m.read(m.store.Candidates(slices.Compact(ids)))
	aside := map[int64]bool{}
	for _, c := range called {
		if aside[c.ID] = !c.Awake(m.day); !aside[c.ID] {
			m.stands[c.ID] = c
		}
	}
	m.Rehearsal = schedule.Rehearse(m.day, calendar, concerts, aside)
	return err
}

// Claims returns what the pieces that were there and not resting ask of the day of
// that many minutes, save those that cannot have a part in it. A plan that looks
// ahead, as before an absence, says how far.
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
	var untouched []int64
	for _, c := range claims {
		if c.Stage == schedule.Untouched {
			untouched = append(untouched, c.Piece)
		}
	}
	for id, stood := range m.stands {
		if stood.Stage == schedule.Untouched {
			untouched = append(untouched, id)
		}
	}
	absent, waits, err := m.early(untouched)
	claims = slices.DeleteFunc(claims, func(c schedule.Claim) bool { return absent[c.Piece] })
	for i, c := range claims {
		claims[i].Waits = waits[c.Piece]
	}
	for id, stood := range m.stands {
		if stood.Awake(m.day) {
			claims = append(claims, m.Claim(stood, waits[id]))
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

// Daily returns what the pieces that were kept come to ask for; see
// schedule.Candidate.Daily.
func (m *Morning) Daily() (daily schedule.Load, err error) {
	touched, err := json.Marshal(slices.AppendSeq([]int64{}, maps.Keys(m.stands))) // [], never null
	if err != nil {
		return 0, err
	}
	err = m.store.db.QueryRow(`SELECT coalesce(sum(?1 * least / max(interval, lost_at, 1)), 0) FROM standing
		WHERE stage >= ?2 AND piece NOT IN (SELECT id FROM piece WHERE resting <= ?3) AND piece NOT IN (SELECT value FROM json_each(?4))`,
		schedule.MinuteADay, schedule.Kept, day(m.day), string(touched)).Scan(&daily)
	for _, stood := range m.stands {
		if stood.Awake(m.day) {
			daily += stood.Daily()
		}
	}
	return daily, err
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

// early tells which of the untouched pieces were not there yet, and which wait
// for the one that must come first.
func (m *Morning) early(untouched []int64) (absent, waits map[int64]bool, err error) {
	absent, waits = map[int64]bool{}, map[int64]bool{}
	list, err := json.Marshal(untouched)
	if err != nil || len(untouched) == 0 {
		return absent, waits, err
	}
	found, err := collect(m.store.db, func(rows *sql.Rows) (c schedule.Candidate, err error) {
		return c, rows.Scan(&c.ID, &c.After, (*day)(&c.Added))
	}, `SELECT p.id, coalesce(p.after, 0), p.added FROM json_each(?) wanted
		JOIN piece p ON p.id = wanted.value WHERE p.after IS NOT NULL OR p.added > ?`, string(list), day(m.day))
	found, err = m.read(found, err)
	if err != nil {
		return nil, nil, err
	}
	var ids []int64
	for _, c := range found {
		absent[c.ID] = !c.There(m.day)
		ids = append(ids, c.After)
	}
	slices.Sort(ids)
	firsts, err := m.Candidates(slices.Compact(ids))
	carries := map[int64]bool{0: true}
	for _, first := range firsts {
		carries[first.ID] = first.Carries(m.day, first.Goal)
	}
	for _, c := range found {
		waits[c.ID] = !carries[c.After]
	}
	return absent, waits, err
}

// All returns every piece as it stood when the day began, by title; those too
// that were not there yet.
func (m *Morning) All() ([]schedule.Candidate, error) {
	all, err := m.read(m.store.All())
	return m.stood(all), err
}

// Candidates returns those pieces as they stood when the day began, in that
// order.
func (m *Morning) Candidates(ids []int64) ([]schedule.Candidate, error) {
	found, err := m.read(m.store.Candidates(ids))
	return m.stood(found), err
}

// read adds to pieces that were added later the first of their plays before the
// day, on which There looks.
func (m *Morning) read(pieces []schedule.Candidate, err error) ([]schedule.Candidate, error) {
	later := map[int64]int{}
	for i, c := range pieces {
		if c.Added > m.day {
			later[c.ID] = i
		}
	}
	if err != nil || len(later) == 0 {
		return pieces, err
	}
	list, err := json.Marshal(slices.Collect(maps.Keys(later)))
	if err != nil {
		return nil, err
	}
	_, err = collect(m.store.db, func(rows *sql.Rows) (piece int64, err error) {
		var first day
		err = rows.Scan(&piece, &first)
		pieces[later[piece]].Begun = repertoire.Day(first)
		return piece, err
	}, "SELECT piece, min(day) FROM play WHERE piece IN (SELECT value FROM json_each(?)) AND day < ? GROUP BY piece", string(list), day(m.day))
	return pieces, err
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
