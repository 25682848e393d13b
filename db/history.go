package db

import (
	"dohra/repertoire"
	"dohra/schedule"
)

// PlaysBetween returns the plays from one day to another, both included, by day
// and, within a day, as they were logged.
func (s *Store) PlaysBetween(from, to repertoire.Day) ([]schedule.Play, error) {
	return collect(s.db, scanPlay, playColumns+"WHERE day BETWEEN ? AND ? ORDER BY day, id", day(from), day(to))
}
