package db

import (
	"database/sql"
	"fmt"

	"dohra/repertoire"
)

// A piece and a concert remember when the player last changed what is said of
// them, in Unix seconds, 0 where that is not known. Of two files of one player
// the later is believed.

// EditedAt returns the moment of a change at now of what was changed at was, both
// in Unix seconds: now, or just after was when the clock that gave was is up to
// a day ahead of this one. One that is further ahead is not followed.
func EditedAt(now, was int64) int64 {
	if was < now+daySeconds {
		return max(now, was+1)
	}
	return now
}

const daySeconds = 24 * 60 * 60

// moment is a value of a column: NULL when it is not known.
func moment(edited int64) sql.NullInt64 { return sql.NullInt64{Int64: edited, Valid: edited != 0} }

// dayOf returns the day of a moment, in UTC.
func dayOf(edited int64) repertoire.Day { return repertoire.Day(edited / daySeconds) }

// toCome reports whether a moment is later than the day after last, for a day of
// practice may end after that of UTC, and a clock be a day ahead.
func toCome(edited int64, last repertoire.Day) bool { return dayOf(edited) > last+1 }

// checkEdited refuses a moment that is to come.
func checkEdited(what string, edited int64, last repertoire.Day) error {
	if toCome(edited, last) {
		return fmt.Errorf("%s: it was changed on %s, which is still to come", what, dayOf(edited))
	}
	return nil
}
