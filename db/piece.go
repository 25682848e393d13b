package db

import (
	"database/sql"
	"errors"
	"fmt"
	"strconv"

	"github.com/mattn/go-sqlite3"

	"dohra/repertoire"
	"dohra/schedule"
)

// ErrTaken says that another piece has the title.
var ErrTaken = errors.New("another piece has that title")

// ErrCircle says that a piece would have to come before itself.
var ErrCircle = errors.New("that would make the piece wait for itself")

// AddPiece keeps a new piece, untouched, and returns its id. ErrTaken when the
// folded title is another's.
func (s *Store) AddPiece(p repertoire.Piece) (id int64, err error) {
	err = s.inTx(func(tx *sql.Tx) error {
		id, err = insertPiece(tx, p)
		return err
	})
	return id, err
}

func insertPiece(tx *sql.Tx, p repertoire.Piece) (int64, error) {
	p.Matras = repertoire.Length(p.Bols)
	r, err := tx.Exec(`INSERT INTO piece (title, folded, kind, tala, start, goal, after, bols, matras, teacher, note, added, resting)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, columns(p)...)
	if err != nil {
		return 0, taken(err)
	}
	if p.ID, err = r.LastInsertId(); err != nil {
		return 0, err
	}
	return p.ID, saveStanding(tx, p, schedule.New(p.Start))
}

// UpdatePiece keeps the piece as it now is and replays its plays, for its
// standing follows from its tempos too. ErrTaken when the folded title is
// another's; ErrCircle when it would come after itself.
func (s *Store) UpdatePiece(p repertoire.Piece) error {
	p.Matras = repertoire.Length(p.Bols)
	return s.inTx(func(tx *sql.Tx) error {
		was, err := kinOf(tx, p.ID)
		if err != nil {
			return err
		}
		if err := checkCircle(tx, p); err != nil {
			return err
		}
		if err := updatePiece(tx, p); err != nil {
			return err
		}
		return replayHearing(tx, append(was, p.ID), noTick)
	})
}

func updatePiece(tx *sql.Tx, p repertoire.Piece) error {
	_, err := tx.Exec(`UPDATE piece SET (title, folded, kind, tala, start, goal, after, bols, matras, teacher, note, added, resting)
		= (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) WHERE id = ?`, append(columns(p), p.ID)...)
	return taken(err)
}

// columns returns the piece's values in the order of its columns.
func columns(p repertoire.Piece) []any {
	return []any{p.Title, repertoire.Fold(p.Title), string(p.Kind), p.Tala, p.Start, p.Goal,
		sql.NullInt64{Int64: p.After, Valid: p.After != 0}, p.Bols, p.Matras, p.Teacher, p.Note, day(p.Added), day(p.Resting)}
}

func taken(err error) error {
	var se sqlite3.Error
	if errors.As(err, &se) && se.ExtendedCode == sqlite3.ErrConstraintUnique {
		return ErrTaken
	}
	return err
}

// checkCircle follows what must come first back to where it begins.
func checkCircle(tx *sql.Tx, p repertoire.Piece) error {
	var circle bool
	err := tx.QueryRow(`
		WITH RECURSIVE before(id) AS (
			VALUES (?)
			UNION
			SELECT after FROM piece JOIN before USING (id) WHERE after IS NOT NULL
		)
		SELECT EXISTS (SELECT 1 FROM before WHERE id = ?)`,
		sql.NullInt64{Int64: p.After, Valid: p.After != 0}, p.ID).Scan(&circle)
	if err == nil && circle {
		return ErrCircle
	}
	return err
}

// RemovePiece removes the piece, its plays and its standing. Pieces that waited
// for it wait no longer.
func (s *Store) RemovePiece(id int64) error {
	return s.inTx(func(tx *sql.Tx) error {
		was, err := kinOf(tx, id)
		if err != nil {
			return err
		}
		if _, err := tx.Exec("DELETE FROM piece WHERE id = ?", id); err != nil {
			return err
		}
		return replayHearing(tx, was, noTick)
	})
}

// Named is a piece by its id and title.
type Named struct {
	ID    int64
	Title string
}

// Followers returns the pieces that must come after the piece, by title.
func (s *Store) Followers(id int64) ([]Named, error) {
	return s.named("SELECT id, title FROM piece WHERE after = ? ORDER BY folded", id)
}

// Family returns the other pieces of a piece's family: all that come after the
// same first piece, and that piece, by id.
func (s *Store) Family(id int64) ([]schedule.Candidate, error) {
	return collect(s.db, scanCandidate, `
		WITH RECURSIVE
			up(id) AS (VALUES (?1) UNION SELECT after FROM piece JOIN up USING (id) WHERE after IS NOT NULL),
			family(id) AS (SELECT id FROM up UNION SELECT piece.id FROM piece JOIN family ON piece.after = family.id)
		`+candidateColumns+` WHERE p.id IN (SELECT id FROM family) AND p.id <> ?1 ORDER BY p.id`, id)
}

// Find returns the pieces that text can mean: the one whose id or whole title
// it is, or else all whose title it is a part of, by title. Case and
// diacritics are ignored.
func (s *Store) Find(text string) ([]Named, error) {
	if id, err := strconv.ParseInt(text, 10, 64); err == nil {
		if byID, err := s.named("SELECT id, title FROM piece WHERE id = ?", id); err != nil || len(byID) > 0 {
			return byID, err
		}
	}
	folded := repertoire.Fold(text)
	whole, err := s.named("SELECT id, title FROM piece WHERE folded = ?", folded)
	if err != nil || len(whole) > 0 || folded == "" {
		return whole, err
	}
	return s.named("SELECT id, title FROM piece WHERE instr(folded, ?) > 0 ORDER BY folded", folded)
}

// Empty reports whether there is no piece.
func (s *Store) Empty() (empty bool, err error) {
	err = s.db.QueryRow("SELECT NOT EXISTS (SELECT 1 FROM piece)").Scan(&empty)
	return empty, err
}

// Titles returns every piece by title.
func (s *Store) Titles() ([]Named, error) {
	return s.named("SELECT id, title FROM piece ORDER BY folded")
}

// Teachers returns the teachers of all pieces, by name.
func (s *Store) Teachers() ([]string, error) {
	return collect(s.db, scanText, "SELECT DISTINCT teacher FROM piece WHERE teacher <> '' ORDER BY teacher")
}

func (s *Store) named(query string, args ...any) ([]Named, error) {
	return collect(s.db, func(rows *sql.Rows) (n Named, err error) {
		return n, rows.Scan(&n.ID, &n.Title)
	}, query, args...)
}

// inTx runs f in one write transaction: all of it is kept, or nothing.
func (s *Store) inTx(f func(*sql.Tx) error) error {
	tx, err := s.db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := f(tx); err != nil {
		return err
	}
	if err := s.unmoved(); err != nil {
		tx.Rollback()
		if s.unsettled {
			s.settle() // into the file that was opened, wherever it is now
		}
		return err
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	s.settle()
	return nil
}

var errDamaged = fmt.Errorf("%w: it holds a row that cannot be read", ErrDamaged)

type querier interface {
	Query(query string, args ...any) (*sql.Rows, error)
}

// collect returns what scan makes of each row of a query.
func collect[T any](q querier, scan func(*sql.Rows) (T, error), query string, args ...any) ([]T, error) {
	rows, err := q.Query(query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []T
	for rows.Next() {
		one, err := scan(rows)
		if err != nil {
			return nil, errDamaged
		}
		all = append(all, one)
	}
	return all, rows.Err()
}

var errNoPiece = errors.New("no such piece")

// Piece returns one piece with its standing.
func (s *Store) Piece(id int64) (c schedule.Candidate, err error) {
	found, err := s.Candidates([]int64{id})
	if err == nil && len(found) == 0 {
		err = s.inTx(func(tx *sql.Tx) (err error) {
			c, err = candidate(tx, id)
			return err
		})
		return c, err
	}
	if err != nil {
		return c, err
	}
	return found[0], nil
}

// candidate returns one piece with its standing, which is derived anew when it
// is missing.
func candidate(tx *sql.Tx, id int64) (c schedule.Candidate, err error) {
	const only = " WHERE p.id = ?"
	found, err := collect(tx, scanCandidate, candidateColumns+only, id)
	if err != nil || len(found) > 0 {
		return append(found, c)[0], err
	}
	pieces, err := collect(tx, scanPiece, "SELECT "+pieceColumns+" FROM piece p"+only, id)
	if err == nil && len(pieces) == 0 {
		err = fmt.Errorf("%w: %d", errNoPiece, id)
	}
	if err != nil {
		return c, err
	}
	if err := replay(tx, pieces[0]); err != nil {
		return c, err
	}
	if found, err = collect(tx, scanCandidate, candidateColumns+only, id); err != nil || len(found) == 0 {
		return c, errors.Join(err, errNoPiece)
	}
	return found[0], nil
}
