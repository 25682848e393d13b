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

// A Load is minutes a day, in whole millionths of them, so that the sum of
// many is the same in whatever order they are added.
type Load int64

// MinuteADay is the unit of a Load.
const MinuteADay Load = 1_000_000

// BacklogOf returns the backlog of a day that Choose has divided. daily is what
// kept pieces come to ask for: the sum of Daily. A piece that has slipped asks
// for as many turns as bring it back.
func BacklogOf(day repertoire.Day, taken []Claim, denied []Denied, daily Load) (b Backlog) {
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
	load := float64(daily) / float64(MinuteADay)
	switch pace := float64(keeping) - load; {
	case b.Pieces == 0:
	case pace > 0:
		b.Days = int(math.Ceil(float64(waiting) / pace))
	default:
		b.Needed = max(climbing+int(math.Ceil(load)), climbing+keeping) + 1
	}
	return b
}

// Daily returns what the candidate comes to ask for while it is kept: its turn,
// spread over its interval. 0 of one that never was.
func (c Candidate) Daily() Load {
	if c.Stage < Kept {
		return 0
	}
	return MinuteADay * Load(c.Least()) / Load(max(c.SM2.Interval, c.LostAt, 1))
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
