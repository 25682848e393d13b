package db

import (
	"database/sql"
	"fmt"
)

// Settings are what the player has chosen once.
type Settings struct {
	Minutes   int // planned for a day unless said otherwise
	DayBegins int // hour of the local clock at which a day begins, 0 to 12
}

// The settings stay within these.
const (
	MaxMinutes   = 720
	MaxDayBegins = 12
)

// Check refuses minutes outside 1 to MaxMinutes, and a beginning of the day
// outside 0 to MaxDayBegins.
func (s Settings) Check() error {
	switch {
	case s.Minutes < 1 || s.Minutes > MaxMinutes:
		return fmt.Errorf("minutes %d are outside 1 to %d", s.Minutes, MaxMinutes)
	case s.DayBegins < 0 || s.DayBegins > MaxDayBegins:
		return fmt.Errorf("hour %d is outside 0 to %d", s.DayBegins, MaxDayBegins)
	}
	return nil
}

// DefaultSettings are those of a player who has chosen nothing.
var DefaultSettings = Settings{Minutes: 45, DayBegins: 4}

// Settings returns what was chosen, or the defaults.
func (s *Store) Settings() (Settings, error) {
	chosen := DefaultSettings
	rows, err := s.db.Query("SELECT name, value FROM setting")
	if err != nil {
		return chosen, err
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		var value int
		if err := rows.Scan(&name, &value); err != nil {
			return chosen, err
		}
		switch name {
		case "minutes":
			chosen.Minutes = value
		case "day_begins":
			chosen.DayBegins = value
		}
	}
	if err := rows.Err(); err != nil {
		return chosen, err
	}
	return chosen, chosen.Check()
}

// Choose keeps the settings.
func (s *Store) Choose(c Settings) error {
	return s.inTx(func(tx *sql.Tx) error {
		_, err := tx.Exec("INSERT OR REPLACE INTO setting (name, value) VALUES ('minutes', ?), ('day_begins', ?)",
			c.Minutes, c.DayBegins)
		return err
	})
}
