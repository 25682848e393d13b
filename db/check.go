package db

import (
	"database/sql"
	"errors"
	"fmt"
)

// A Report is what Check found. No problems is a sound file.
type Report struct {
	Problems  []string `json:"problems"`          // with the file
	Standings int      `json:"strayed_standings"` // that are not what their plays say; Rebuild mends them
	Pieces    int      `json:"pieces"`
	Plays     int      `json:"plays"`
	Digest    string   `json:"digest"` // of the player's truth; "" when it cannot be read
}

// mostProblems is how many problems of one sort a report names.
const mostProblems = 5

// Check looks at a copy of the file: whether its pages fit together, whether
// rows lead to rows, whether all can be read, and whether the standings are
// what the plays say.
func (s *Store) Check() (r Report, err error) {
	r.Problems = []string{}
	c, err := inMemory(s.db)
	if err != nil {
		return r, err
	}
	defer c.Close()
	pages, err := collect(c.db, scanText, fmt.Sprintf("PRAGMA integrity_check(%d)", mostProblems))
	if err != nil {
		r.Problems = []string{Plain(err).Error()}
		return r, nil
	}
	if len(pages) != 1 || pages[0] != "ok" {
		r.Problems = pages
	}
	if r.Problems, err = c.dangling(r.Problems); err != nil {
		return r, err
	}
	a, err := c.Archive()
	if err == nil {
		r.Pieces, r.Plays, r.Digest = len(a.Pieces), a.Plays(), a.Digest()
		r.Standings, err = c.strayed()
	}
	if err != nil {
		r.Problems = append(r.Problems, Plain(err).Error())
	}
	return r, nil
}

// dangling adds the rows whose piece is not there.
func (s *Store) dangling(problems []string) ([]string, error) {
	rows, err := collect(s.db, func(rows *sql.Rows) (text string, err error) {
		var table, parent string
		var row, key sql.NullInt64
		err = rows.Scan(&table, &row, &parent, &key)
		return fmt.Sprintf("%s %d belongs to a piece that is not there", table, row.Int64), err
	}, "PRAGMA foreign_key_check")
	if errors.Is(err, errDamaged) {
		return problems, err
	}
	if more := len(rows) - mostProblems; more > 0 {
		rows = append(rows[:mostProblems], fmt.Sprintf("and %d rows more", more))
	}
	return append(problems, rows...), err
}

// strayed counts the pieces of which Rebuild would change what is derived. It
// rebuilds, so it is for a copy.
func (s *Store) strayed() (n int, err error) {
	const derived = "SELECT p.id, p.matras, s.* FROM piece p LEFT JOIN standing s ON s.piece = p.id"
	if _, err := s.db.Exec("CREATE TEMP TABLE before AS " + derived); err != nil {
		return 0, err
	}
	if err := s.Rebuild(); err != nil {
		return 0, err
	}
	err = s.db.QueryRow("SELECT count(*) FROM (SELECT * FROM temp.before EXCEPT " + derived + ")").Scan(&n)
	return n, err
}
