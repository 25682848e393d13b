package schedule

import (
	"cmp"
	"slices"

	"dohra/repertoire"
)

// How many minutes a day has: those of its weekday, and none while the player
// is away.

// A Week is the minutes of its days, Monday first.
type Week [7]int

// Weekday returns the place of a day in its week, 0 for Monday.
func Weekday(day repertoire.Day) int {
	const thursday = 3 // Day 0, 1970-01-01
	return ((int(day)+thursday)%7 + 7) % 7
}

// An Absence is a time without practice, from its first to its last day.
type Absence struct {
	From repertoire.Day `json:"from"`
	To   repertoire.Day `json:"to"`
}

// Holds reports whether the day is one of the absence's.
func (a Absence) Holds(day repertoire.Day) bool { return a.From <= day && day <= a.To }

// Days returns how many days the absence has.
func (a Absence) Days() int { return int(a.To-a.From) + 1 }

// A Calendar is a player's week, and the absences from it, which are in order
// and neither overlap nor touch.
type Calendar struct {
	Week     Week
	Absences []Absence
}

// Minutes returns what there is to play on the day.
func (c Calendar) Minutes(day repertoire.Day) int {
	if _, away := c.Away(day); away {
		return 0
	}
	return c.ease(day, c.Week[Weekday(day)])
}

// Away returns the absence that holds the day, if there is one.
func (c Calendar) Away(day repertoire.Day) (Absence, bool) {
	for _, a := range c.Absences {
		if a.Holds(day) {
			return a, true
		}
	}
	return Absence{}, false
}

// Next returns the first day from that day on that has minutes; none when no
// day of the week has any.
func (c Calendar) Next(day repertoire.Day) (next repertoire.Day, ok bool) {
	if c.Week == (Week{}) {
		return 0, false
	}
	for c.Minutes(day) == 0 {
		if a, away := c.Away(day); away {
			day = a.To
		}
		day++
	}
	return day, true
}

// Leave returns absences with the days of a among them. What overlaps or
// touches becomes one absence: all that is said is on which days there is no
// practice, and a day off twice is a day off.
func Leave(absences []Absence, a Absence) []Absence {
	var apart []Absence
	for _, b := range absences {
		if b.To+1 < a.From || a.To+1 < b.From {
			apart = append(apart, b)
			continue
		}
		a = Absence{min(a.From, b.From), max(a.To, b.To)}
	}
	apart = append(apart, a)
	slices.SortFunc(apart, func(a, b Absence) int { return cmp.Compare(a.From, b.From) })
	return apart
}

// Return returns absences without the days of a.
func Return(absences []Absence, a Absence) []Absence {
	var left []Absence
	for _, b := range absences {
		for _, part := range []Absence{{b.From, min(b.To, a.From-1)}, {max(b.From, a.To+1), b.To}} {
			if part.From <= part.To {
				left = append(left, part)
			}
		}
	}
	return left
}
