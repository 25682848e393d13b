package schedule

import (
	"fmt"
	"math"

	"dohra/repertoire"
)

// A Backlog is what was kept, asks for a turn and has none today. It is never
// played all at once: days take from it what they hold, and go on.
type Backlog struct {
	Pieces int
	Days   int // until it is about played off at today's pace; 0 when that never comes
	Needed int // minutes a day that would hold everything, where Days is 0
}

// BacklogOf returns the backlog of a day that Choose has divided. daily is the
// minutes a day that kept pieces come to ask for: the sum of Daily. A piece that
// has slipped asks for as many turns as bring it back.
func BacklogOf(day repertoire.Day, taken []Claim, denied []Denied, daily float64) (b Backlog) {
	keeping, climbing, waiting := 0, 0, 0 // minutes
	for _, c := range taken {
		if c.climbs() {
			climbing += c.Least
		} else {
			keeping += c.Least
			waiting += c.Least * (c.turnsBack(day, c.Goal) - 1)
		}
	}
	for _, d := range denied {
		if d.Denial == NoTime && !d.climbs() {
			b.Pieces++
			waiting += d.Least * d.turnsBack(day, d.Goal)
		}
	}
	switch pace := float64(keeping) - daily; {
	case b.Pieces == 0:
	case pace > 0:
		b.Days = int(math.Ceil(float64(waiting) / pace))
	default:
		b.Needed = climbing + int(math.Ceil(daily)) + 1
	}
	return b
}

// Daily returns the minutes a day that the candidate comes to ask for while it
// is kept: its turn, spread over its interval. 0 of one that never was.
func (c Candidate) Daily() float64 {
	if c.Stage < Kept {
		return 0
	}
	return float64(c.Least()) / float64(max(c.SM2.Interval, c.LostAt, 1))
}

// String says in one sentence how the backlog is spread; "" when there is none.
func (b Backlog) String() string {
	more := fmt.Sprintf("%d more kept pieces are due", b.Pieces)
	if b.Pieces == 1 {
		more = "One more kept piece is due"
	}
	switch {
	case b.Pieces == 0:
		return ""
	case b.Days == 1:
		return more + "; tomorrow has time for it."
	case b.Days > 0:
		return fmt.Sprintf("%s, spread over about %d days.", more, b.Days)
	}
	return fmt.Sprintf("%s than these minutes hold; about %d a day would hold them.", more, b.Needed)
}
