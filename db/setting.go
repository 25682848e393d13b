package db

import (
	"cmp"
	"database/sql"
	"fmt"
	"maps"

	"dohra/schedule"
)

// Settings are what the player has chosen once.
type Settings struct {
	Minutes   int // planned for a day unless said otherwise
	DayBegins int // hour of the local clock at which a day begins, 0 to 12
	OldPiece  int // 1 when each day has a standing place for an old piece, or 0
}

// The settings stay within these.
const (
	MaxMinutes   = 720
	MaxDayBegins = 12
)

// Check refuses minutes outside 1 to MaxMinutes, a beginning of the day outside
// 0 to MaxDayBegins, and more than one standing place.
func (s Settings) Check() error {
	switch {
	case s.Minutes < 1 || s.Minutes > MaxMinutes:
		return fmt.Errorf("minutes %d are outside 1 to %d", s.Minutes, MaxMinutes)
	case s.DayBegins < 0 || s.DayBegins > MaxDayBegins:
		return fmt.Errorf("hour %d is outside 0 to %d", s.DayBegins, MaxDayBegins)
	case s.OldPiece < 0 || s.OldPiece > 1:
		return fmt.Errorf("the places for an old piece, %d, are neither 0 nor 1", s.OldPiece)
	}
	return nil
}

// DefaultSettings are those of a player who has chosen nothing.
var DefaultSettings = Settings{Minutes: 45, DayBegins: 4, OldPiece: 1}

// values are the settings by the names under which they are kept.
func (s Settings) values() map[string]int {
	return map[string]int{"minutes": s.Minutes, "day_begins": s.DayBegins, "old_piece": s.OldPiece}
}

// settingsOf returns what was chosen, and the defaults for the rest.
func settingsOf(chosen map[string]int) Settings {
	all := DefaultSettings.values()
	maps.Copy(all, chosen)
	return Settings{Minutes: all["minutes"], DayBegins: all["day_begins"], OldPiece: all["old_piece"]}
}

// Settings returns what was chosen, or the defaults. ErrDamaged when a setting is
// out of range.
func (s *Store) Settings() (Settings, error) {
	values, err := readSettings(s.db)
	if err != nil {
		return DefaultSettings, err
	}
	chosen := settingsOf(values)
	if err := chosen.Check(); err != nil {
		return chosen, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	return chosen, nil
}

func readSettings(q querier) (map[string]int, error) {
	rows, err := q.Query("SELECT name, value FROM setting")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	values := map[string]int{}
	for rows.Next() {
		var name string
		var value int
		if err := rows.Scan(&name, &value); err != nil {
			return nil, errDamaged
		}
		values[name] = value
	}
	return values, rows.Err()
}

// checkSettings refuses a setting that is none, or out of range.
func checkSettings(values map[string]int) error {
	week := schedule.Week{}
	known := DefaultSettings.values()
	for i := range week {
		known[weekdaySetting(i)] = 0
		week[i] = values[weekdaySetting(i)]
	}
	for name := range values {
		if _, ok := known[name]; !ok {
			return fmt.Errorf("it has a setting %q, which is none", name)
		}
	}
	return cmp.Or(settingsOf(values).Check(), CheckWeek(week))
}

// Choose keeps the settings.
func (s *Store) Choose(c Settings) error {
	return s.inTx(func(tx *sql.Tx) error { return saveSettings(tx, c.values()) })
}

func saveSettings(tx *sql.Tx, values map[string]int) error {
	for name, value := range values {
		if _, err := tx.Exec("INSERT OR REPLACE INTO setting (name, value) VALUES (?, ?)", name, value); err != nil {
			return err
		}
	}
	return nil
}
