package db

import (
	"cmp"
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// Concerts returns every concert with its set, by day, then name.
func (s *Store) Concerts() ([]schedule.Concert, error) { return concertsSince(s.db, repertoire.Never) }

// concertsSince returns the concerts of that day and later.
func concertsSince(q querier, since repertoire.Day) ([]schedule.Concert, error) {
	from := ""
	if since != repertoire.Never {
		from = since.String()
	}
	all, err := collect(q, func(rows *sql.Rows) (c schedule.Concert, err error) {
		var talas, set string
		if err := rows.Scan(&c.Name, (*day)(&c.Day), &c.Minutes, &talas, &c.Note, &c.Edited, &set); err != nil {
			return c, err
		}
		if talas != "" {
			c.Talas = strings.Split(talas, "\n")
		}
		if err := json.Unmarshal([]byte(set), &c.Set); err != nil {
			return c, err
		}
		return c, c.Check()
	}, `SELECT name, day, minutes, talas, note, coalesce(edited, 0),
			(SELECT json_group_array(json_object('Piece', piece, 'Tempo', tempo, 'Rounds', rounds, 'Minutes', minutes))
			FROM (SELECT * FROM place WHERE concert = id ORDER BY nth))
		FROM concert WHERE day >= ? ORDER BY day, folded`, from)
	return all, err
}

// ChangeConcert keeps what change makes of the concert of that name, which it is
// given as it is, or with only a name where there is none.
func (s *Store) ChangeConcert(name string, change func(*schedule.Concert) error) error {
	return s.inTx(func(tx *sql.Tx) error {
		all, err := concertsSince(tx, repertoire.Never)
		if err != nil {
			return err
		}
		c := schedule.Concert{Name: name}
		for _, there := range all {
			if foldedOrder(there.Name, name) == 0 {
				c = there
			}
		}
		if err := change(&c); err != nil {
			return err
		}
		if err := c.Check(); err != nil {
			return err
		}
		if err := dropConcert(tx, name); err != nil {
			return err
		}
		return saveConcert(tx, c)
	})
}

// DropConcert forgets the concert of that name.
func (s *Store) DropConcert(name string) error {
	return s.inTx(func(tx *sql.Tx) error { return dropConcert(tx, name) })
}

func dropConcert(tx *sql.Tx, name string) error {
	_, err := tx.Exec("DELETE FROM concert WHERE folded = ?", repertoire.Fold(name))
	return err
}

func saveConcert(tx *sql.Tx, c schedule.Concert) error {
	r, err := tx.Exec("INSERT INTO concert (name, folded, day, minutes, talas, note, edited) VALUES (?, ?, ?, ?, ?, ?, ?)",
		c.Name, repertoire.Fold(c.Name), day(c.Day), c.Minutes, strings.Join(c.Talas, "\n"), c.Note, moment(c.Edited))
	if err != nil {
		return taken(err)
	}
	id, err := r.LastInsertId()
	for i, p := range c.Set {
		if err != nil {
			break
		}
		_, err = tx.Exec("INSERT INTO place (concert, nth, piece, tempo, rounds, minutes) VALUES (?, ?, ?, ?, ?, ?)",
			id, i, p.Piece, p.Tempo, p.Rounds, p.Minutes)
	}
	return err
}

// A Concert is a concert as an archive has it: its pieces are titles.
type Concert struct {
	Name    string         `json:"name"`
	Day     repertoire.Day `json:"day"`
	Minutes int            `json:"minutes"`
	Talas   []string       `json:"talas,omitempty"`
	Note    string         `json:"note,omitempty"`
	Set     []Place        `json:"set,omitempty"`
	Edited  int64          `json:"edited,omitempty"` // Unix seconds, 0 unknown
}

// A Place is a piece's in the set of an archive's concert.
type Place struct {
	Title   string `json:"title"`
	Tempo   int    `json:"tempo"`
	Rounds  int    `json:"rounds,omitempty"`
	Minutes int    `json:"minutes,omitempty"`
}

// archiveConcerts returns the concerts by folded name. titles are those of the
// pieces by their ids.
func archiveConcerts(q querier, titles map[int64]string) (all []Concert, err error) {
	concerts, err := concertsSince(q, repertoire.Never)
	for _, c := range concerts {
		kept := Concert{c.Name, c.Day, c.Minutes, c.Talas, c.Note, nil, c.Edited}
		for _, p := range c.Set {
			if title, there := titles[p.Piece]; there {
				kept.Set = append(kept.Set, Place{title, p.Tempo, p.Rounds, p.Minutes})
			}
		}
		all = append(all, kept)
	}
	sortConcerts(all)
	return all, err
}

func sortConcerts(all []Concert) {
	slices.SortFunc(all, func(a, b Concert) int { return foldedOrder(a.Name, b.Name) })
}

// of returns the concert with ids for titles, which are found folded.
func (c Concert) of(ids map[string]int64) (schedule.Concert, error) {
	all := schedule.Concert{Name: c.Name, Day: c.Day, Minutes: c.Minutes, Talas: c.Talas, Note: c.Note, Edited: c.Edited}
	for _, p := range c.Set {
		id, there := ids[repertoire.Fold(p.Title)]
		if !there {
			return all, fmt.Errorf("the concert %s has %s in its set, which is not there", c.Name, p.Title)
		}
		all.Set = append(all.Set, schedule.Place{Piece: id, Tempo: p.Tempo, Rounds: p.Rounds, Minutes: p.Minutes})
	}
	return all, all.Check()
}

// saveConcerts keeps those concerts and no others.
func saveConcerts(tx *sql.Tx, all []Concert, ids map[string]int64) error {
	if _, err := tx.Exec("DELETE FROM concert"); err != nil {
		return err
	}
	for _, c := range all {
		kept, err := c.of(ids)
		if err == nil {
			err = saveConcert(tx, kept)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// tidyConcerts puts what was read in order, with titles as the pieces have them,
// and refuses what cannot be. titles are by folded title.
func (a *Archive) tidyConcerts(titles map[string]string) error {
	ids := map[string]int64{}
	for folded := range titles {
		ids[folded] = int64(len(ids))
	}
	sortConcerts(a.Concerts)
	for i, c := range a.Concerts {
		if _, err := c.of(ids); err != nil {
			return err
		}
		if c.Edited < 0 {
			return fmt.Errorf("the concert %s was changed before 1970", c.Name)
		}
		if i > 0 && foldedOrder(a.Concerts[i-1].Name, c.Name) == 0 {
			return fmt.Errorf("it has two concerts called %s", c.Name)
		}
		if slices.ContainsFunc(c.Talas, func(tala string) bool { return cmp.Or(tala, "\n") == "\n" || strings.Contains(tala, "\n") }) {
			return fmt.Errorf("the concert %s has a tala without a name", c.Name)
		}
		for j, p := range c.Set {
			c.Set[j].Title = titles[repertoire.Fold(p.Title)]
		}
		if len(c.Talas) == 0 {
			a.Concerts[i].Talas = nil
		}
		if len(c.Set) == 0 {
			a.Concerts[i].Set = nil
		}
	}
	return nil
}
