package db

import "database/sql"

// Settings are what the player has chosen once.
type Settings struct {
	Minutes   int // planned for a day unless said otherwise
	DayBegins int // hour of the local clock at which a day begins, 0 to 12
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
	return chosen, rows.Err()
}

// Choose keeps the settings.
func (s *Store) Choose(c Settings) error {
	return s.inTx(func(tx *sql.Tx) error {
		_, err := tx.Exec("INSERT OR REPLACE INTO setting (name, value) VALUES ('minutes', ?), ('day_begins', ?)",
			c.Minutes, c.DayBegins)
		return err
	})
}
