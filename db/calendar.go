package db

import (
	"database/sql"
	"fmt"
	"strings"
	"time"

	"dohra/schedule"
)

// CheckWeek refuses a day of more than MaxMinutes, or of less than none.
func CheckWeek(w schedule.Week) error {
	for _, minutes := range w {
		if minutes < 0 || minutes > MaxMinutes {
			return fmt.Errorf("minutes %d are outside 0 to %d", minutes, MaxMinutes)
		}
	}
	return nil
}

// Calendar returns the week that the player chose, or otherwise one in which
// every day has those minutes, and the absences. chosen tells which.
func (s *Store) Calendar(otherwise int) (c schedule.Calendar, chosen bool, err error) {
	for i := range c.Week {
		c.Week[i] = otherwise
		switch err := s.db.QueryRow("SELECT value FROM setting WHERE name = ?", weekdaySetting(i)).Scan(&c.Week[i]); err {
		case nil:
			chosen = true
		case sql.ErrNoRows:
		default:
			return c, chosen, err
		}
	}
	if err := CheckWeek(c.Week); err != nil {
		return c, chosen, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	c.Absences, err = absences(s.db)
	return c, chosen, err
}

func weekdaySetting(i int) string { return fmt.Sprintf("minutes_%d", i+1) }

// settingTitle says what a setting is called.
func settingTitle(name string) string {
	for i := range len(schedule.Week{}) {
		if name == weekdaySetting(i) {
			return "the minutes of " + time.Weekday((i+1)%7).String()
		}
	}
	return "the setting " + strings.ReplaceAll(name, "_", "-")
}

// ChooseWeek keeps the minutes of each weekday.
func (s *Store) ChooseWeek(w schedule.Week) error {
	return s.inTx(func(tx *sql.Tx) error {
		for i, minutes := range w {
			if _, err := tx.Exec("INSERT OR REPLACE INTO setting (name, value) VALUES (?, ?)", weekdaySetting(i), minutes); err != nil {
				return err
			}
		}
		return nil
	})
}

// ForgetWeek makes every weekday alike again.
func (s *Store) ForgetWeek() error {
	return s.inTx(func(tx *sql.Tx) error {
		_, err := tx.Exec("DELETE FROM setting WHERE name GLOB 'minutes_[1-7]'")
		return err
	})
}

// ChangeAbsences keeps what change makes of the absences; any error of change as
// it is.
func (s *Store) ChangeAbsences(change func([]schedule.Absence) ([]schedule.Absence, error)) error {
	return s.inTx(func(tx *sql.Tx) error {
		before, err := absences(tx)
		if err != nil {
			return err
		}
		now, err := change(before)
		if err != nil {
			return err
		}
		return saveAbsences(tx, now)
	})
}

// saveAbsences keeps those absences and no others.
func saveAbsences(tx *sql.Tx, all []schedule.Absence) error {
	if _, err := tx.Exec("DELETE FROM absence"); err != nil {
		return err
	}
	for _, a := range all {
		if _, err := tx.Exec("INSERT INTO absence (first, last) VALUES (?, ?)", day(a.From), day(a.To)); err != nil {
			return err
		}
	}
	return nil
}

// absences returns the absences in order.
func absences(q querier) ([]schedule.Absence, error) {
	return collect(q, func(rows *sql.Rows) (a schedule.Absence, err error) {
		return a, rows.Scan((*day)(&a.From), (*day)(&a.To))
	}, "SELECT first, last FROM absence ORDER BY first")
}
