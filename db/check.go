package db

import (
	"cmp"
	"database/sql"
	"errors"
	"fmt"

	"dohra/repertoire"
	"dohra/schedule"
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
// rows lead to rows, whether each says what this program would keep, and whether
// the standings are what the plays say.
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
	if r.Problems = append(r.Problems, c.faults()...); len(r.Problems) > 0 {
		return r, nil
	}
	a, err := c.Archive()
	if err == nil {
		r.Pieces, r.Plays, r.Digest = len(a.Pieces), a.Plays(), a.Digest()
		err = cmp.Or(a.tidy(), a.checkTalas())
	}
	if err == nil {
		r.Standings, err = c.strayed()
	}
	if err != nil {
		r.Problems = append(r.Problems, Plain(err).Error())
	}
	return r, nil
}

// faults tells of rows that cannot be read, or say what this program would not
// keep, and of what is otherwise in the file than the migrations make it.
func (s *Store) faults() []string {
	all, err := otherSchema(s.db)
	if err != nil {
		all = []string{Plain(err).Error()}
	}
	all = append(all, pieceFaults(s.db)...)
	all = append(all, faulty(s.db, "piece", scanFolded, func(f [2]string) error {
		if repertoire.Fold(f[0]) != f[1] {
			return fmt.Errorf("%s is looked up as %q", f[0], f[1])
		}
		return nil
	}, "SELECT id, title, folded FROM piece")...)
	all = append(all, faulty(s.db, "play", scanPlay, func(p schedule.Play) error {
		return PlayOf(p).check()
	}, playColumns)...)
	return append(all, faulty(s.db, "tala", scanTala, repertoire.Tala.Check, talaColumns)...)
}

func pieceFaults(q querier) []string {
	return faulty(q, "piece", scanPiece, func(p repertoire.Piece) error { return recordOf(p, "").Check() },
		"SELECT "+pieceColumns+" FROM piece p")
}

func scanFolded(rows *sql.Rows) (f [2]string, err error) {
	return f, rows.Scan(new(int64), &f[0], &f[1])
}

// faulty names the rows of a query, by their first column, that scan cannot read
// or check refuses.
func faulty[T any](q querier, what string, scan func(*sql.Rows) (T, error), check func(T) error, query string) (all []string) {
	rows, err := q.Query(query)
	if err != nil {
		return []string{Plain(err).Error()}
	}
	defer rows.Close()
	more := 0
	for rows.Next() {
		one, err := scan(rows)
		if err == nil {
			if err = check(one); err == nil {
				continue
			}
		}
		for errors.Unwrap(err) != nil {
			err = errors.Unwrap(err) // without the words of the library
		}
		if len(all) == mostProblems {
			more++
			continue
		}
		all = append(all, fmt.Sprintf("%s %v: %v", what, firstOf(rows), err))
	}
	if more > 0 {
		all = append(all, fmt.Sprintf("and %d rows more", more))
	}
	if err := rows.Err(); err != nil {
		all = append(all, Plain(err).Error())
	}
	return all
}

// firstOf returns the first value of a row.
func firstOf(rows *sql.Rows) any {
	columns, _ := rows.Columns()
	values := make([]any, max(len(columns), 1))
	into := make([]any, len(values))
	for i := range values {
		into[i] = &values[i]
	}
	rows.Scan(into...)
	return values[0]
}

// dangling adds the rows that lead to a row that is not there.
func (s *Store) dangling(problems []string) ([]string, error) {
	rows, err := collect(s.db, func(rows *sql.Rows) (text string, err error) {
		var table, parent string
		var row, key sql.NullInt64
		err = rows.Scan(&table, &row, &parent, &key)
		if table == "piece" {
			return fmt.Sprintf("piece %d comes after a piece that is not there", row.Int64), err
		}
		return fmt.Sprintf("%s %d belongs to a %s that is not there", table, row.Int64, parent), err
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
