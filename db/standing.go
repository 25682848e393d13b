package db

import (
	"database/sql"
	"encoding/json"

	"dohra/repertoire"
	"dohra/schedule"
)

// saveStanding caches the standing of a piece beside its plays.
func saveStanding(tx *sql.Tx, p repertoire.Piece, s schedule.Standing) error {
	_, err := tx.Exec(`INSERT OR REPLACE INTO standing (piece, stage, wants, due, last,
		believed, edge, edge_doubt, hold, hold_doubt, peak, room, goal, least,
		n, interval, ease, lost_at, repeated, last_tempo, last_clarity, spoken)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		p.ID, s.Stage, s.Wants(p.Goal), s.Due, s.Last,
		s.Of, s.Edge, s.EdgeDoubt, s.Hold, s.HoldDoubt, s.Peak, s.Room, p.Goal, schedule.Candidate{Piece: p, Standing: s}.Least(),
		s.SM2.N, s.SM2.Interval, s.SM2.Ease, s.LostAt, s.Repeated, s.LastTempo, s.LastClarity, s.Spoken)
	return err
}

// replay derives the standing of a piece from all its plays, and those of its
// kin, and caches it.
func replay(tx *sql.Tx, p repertoire.Piece) error {
	plays, err := heard(tx, p, forever)
	if err != nil {
		return err
	}
	return saveStanding(tx, p, schedule.Replay(p.Start, p.Goal, plays))
}

// Rebuild derives anew all that follows from what the player gave: every length
// from its bols, every standing from its plays.
func (s *Store) Rebuild() error { return s.inTx(rebuild) }

func rebuild(tx *sql.Tx) error {
	pieces, err := collect(tx, scanPiece, "SELECT "+pieceColumns+" FROM piece p")
	if err != nil {
		return err
	}
	for _, p := range pieces {
		p.Matras = repertoire.Length(p.Bols)
		if _, err := tx.Exec("UPDATE piece SET matras = ? WHERE id = ? AND matras <> ?", p.Matras, p.ID, p.Matras); err != nil {
			return err
		}
		if err := replay(tx, p); err != nil {
			return err
		}
	}
	return nil
}

const pieceColumns = "p.id, p.title, p.kind, p.tala, p.start, p.goal, coalesce(p.after, 0), p.bols, p.matras, p.teacher, p.note, p.added, p.resting, coalesce(p.edited, 0)"

// fields returns where pieceColumns are scanned to.
func fields(p *repertoire.Piece) []any {
	return []any{&p.ID, &p.Title, &p.Kind, &p.Tala, &p.Start, &p.Goal, &p.After, &p.Bols, &p.Matras, &p.Teacher, &p.Note,
		(*day)(&p.Added), (*day)(&p.Resting), &p.Edited}
}

func scanPiece(rows *sql.Rows) (p repertoire.Piece, err error) { return p, rows.Scan(fields(&p)...) }

const candidateColumns = "SELECT " + pieceColumns + `,
		s.stage, s.due, s.last, s.believed, s.edge, s.edge_doubt, s.hold, s.hold_doubt, s.peak, s.room,
		s.n, s.interval, s.ease, s.lost_at, s.repeated, s.last_tempo, s.last_clarity, s.spoken,
		coalesce((SELECT title FROM piece WHERE id = p.after), '')
	FROM piece p JOIN standing s ON s.piece = p.id`

func scanCandidate(rows *sql.Rows) (c schedule.Candidate, err error) {
	err = rows.Scan(append(fields(&c.Piece),
		&c.Stage, &c.Due, &c.Last, &c.Of, &c.Edge, &c.EdgeDoubt, &c.Hold, &c.HoldDoubt, &c.Peak, &c.Room,
		&c.SM2.N, &c.SM2.Interval, &c.SM2.Ease, &c.LostAt, &c.Repeated, &c.LastTempo, &c.LastClarity, &c.Spoken, &c.First)...)
	if err == nil && (c.Check() != nil || !c.Valid()) {
		err = errDamaged
	}
	return c, err
}

// All returns every piece with its standing, by title.
func (s *Store) All() ([]schedule.Candidate, error) {
	return collect(s.db, scanCandidate, candidateColumns+" ORDER BY p.folded")
}

// Candidates returns those pieces with their standings, in that order; ids that
// are no piece are passed over.
func (s *Store) Candidates(ids []int64) ([]schedule.Candidate, error) {
	list, err := json.Marshal(ids)
	if err != nil {
		return nil, err
	}
	return collect(s.db, scanCandidate,
		candidateColumns+" JOIN json_each(?) wanted ON wanted.value = p.id ORDER BY wanted.key", string(list))
}
