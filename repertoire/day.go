package repertoire

import (
	"fmt"
	"time"
)

// Day is one day of practice, counted from 1970-01-01, which is Day 0.
// It carries no hour and no zone, so days can be subtracted safely.
type Day int

const isoDay = "2006-01-02"

// Never is the Day before every other: nothing has happened yet.
const Never Day = -1 << 31

// ParseDay reads YYYY-MM-DD, from the year 1000 on. The error names the text.
func ParseDay(text string) (Day, error) {
	t, err := time.Parse(isoDay, text)
	if err != nil || t.Year() < 1000 {
		return 0, fmt.Errorf("%q is no day; a day is written YYYY-MM-DD", text)
	}
	return DayOf(t), nil
}

// DayOf returns the calendar day of t in t's own zone.
func DayOf(t time.Time) Day {
	y, m, d := t.Date()
	return Day(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// DayAt returns the day of practice at the moment t: the calendar day of its
// wall clock, or the day before when the clock shows less than begins o'clock.
func DayAt(t time.Time, begins int) Day {
	day := DayOf(t)
	if t.Hour() < begins {
		day--
	}
	return day
}

func (d Day) time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// String returns YYYY-MM-DD, or a dash for Never.
func (d Day) String() string {
	if d == Never {
		return "-"
	}
	return d.time().Format(isoDay)
}

// MarshalText writes a day as YYYY-MM-DD, and Never as nothing.
func (d Day) MarshalText() ([]byte, error) {
	if d == Never {
		return nil, nil
	}
	return []byte(d.String()), nil
}

// UnmarshalText reads what MarshalText wrote.
func (d *Day) UnmarshalText(text []byte) (err error) {
	if *d = Never; len(text) > 0 {
		*d, err = ParseDay(string(text))
	}
	return err
}

// Year returns the year that the day is in.
func (d Day) Year() int { return d.time().Year() }

// Long returns the day as a heading has it: Wednesday 25 November 2026.
func (d Day) Long() string { return d.time().Format("Monday 2 January 2006") }

// Short returns the day as a sentence has it: Wed 25 Nov 2026.
func (d Day) Short() string { return d.time().Format("Mon 2 Jan 2006") }
