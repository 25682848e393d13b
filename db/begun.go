package db

import (
	"dohra/repertoire"
	"dohra/schedule"
)

// lateBegun is how many pieces tell how fast their player learns now (our choice).
const lateBegun = 100

// Begun returns the plays before a day of the pieces that were begun last, by
// piece, each in the order in which they count: what schedule.PaceOf looks at.
func (s *Store) Begun(before repertoire.Day) (map[int64][]schedule.Play, error) {
	plays, err := collect(s.db, scanPlay, playColumns+`WHERE day < ?1 AND piece IN (
			SELECT id FROM (SELECT id, (SELECT min(day) FROM play WHERE piece = p.id) AS first FROM piece p)
			WHERE first < ?1 ORDER BY first DESC, id DESC LIMIT ?2)
		ORDER BY piece, day, id`, day(before), lateBegun)
	begun := map[int64][]schedule.Play{}
	for _, p := range plays {
		begun[p.Piece] = append(begun[p.Piece], p)
	}
	return begun, err
}
