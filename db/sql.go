package db

import (
	"database/sql"
	"fmt"
)

// How the file is written and read: in one transaction, and a row at a time.

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

func scanText(rows *sql.Rows) (text string, err error) { return text, rows.Scan(&text) }

func scanID(rows *sql.Rows) (id int64, err error) { return id, rows.Scan(&id) }
