package schedule

import (
	"fmt"

	"dohra/repertoire"
)

// Fast playing is raised gradually, and less after time away, for that is how
// hands are kept whole: J. Horvath, "Playing (Less) Hurt", as quoted in
// newspapers, 2009. The figures are our choice.
const (
	FastStrokes = 8  // strokes a second, above which playing is fast
	leastFast   = 20 // minutes of fast playing that a week may always have
	unsaid      = 3  // minutes of a play whose minutes were not given
	awayFrom    = 7  // days without a play are time away
)

// FastPlays are the days from which FastRoom looks back on plays.
const FastPlays = 27

// densest returns the strokes of the fullest matra, 0 when the bols do not read.
func densest(bols string) int {
	n, err := repertoire.ReadBols(bols)
	if err != nil {
		return 0
	}
	return n.Load().Densest
}

// isFast reports whether bols so dense are fast at a tempo in matras/min.
func isFast(densest, tempo int) bool { return densest*tempo > 60*FastStrokes }

// HasFast reports whether any of the turns is fast.
func HasFast(turns []Turn) bool {
	for _, t := range turns {
		if isFast(t.densest, t.Target) {
			return true
		}
	}
	return false
}

// A Room is how many minutes of a day may be fast, and why not more.
type Room struct {
	Minutes int
	Week    int  // minutes that the seven days may have together
	Away    bool // the first day after time away
}

// FastRoom returns the room of a day, given the plays of the FastPlays days
// before it and the bols of their pieces: with the six days before it, a quarter
// more than the mean of the three weeks before those; on the first day after
// time away a third of that.
func FastRoom(day repertoire.Day, plays []Play, bols map[int64]string) Room {
	dense := map[int64]int{}
	for id, text := range bols {
		dense[id] = densest(text)
	}
	week, before, last := 0, 0, repertoire.Never
	for _, p := range plays {
		last = max(last, p.Day)
		minutes := p.Minutes
		if minutes == 0 {
			minutes = unsaid
		}
		switch {
		case p.Spoken || !isFast(dense[p.Piece], p.Tempo):
		case p.Day > day-awayFrom:
			week += minutes
		default:
			before += minutes
		}
	}
	r := Room{Week: max(leastFast, before*5/(3*4)), Away: last <= day-awayFrom && last != repertoire.Never}
	r.Minutes = max(0, r.Week-week)
	if r.Away {
		r.Minutes = min(r.Minutes, r.Week/3)
	}
	return r
}

// Spare returns the turns with those slowed for which the day has no room, and
// whether there were any.
func (r Room) Spare(turns []Turn) (spared []Turn, bound bool) {
	spared = make([]Turn, len(turns))
	left := r.Minutes
	for i, t := range turns {
		switch {
		case !isFast(t.densest, t.Target):
		case t.Run: // as on the day
			bound, left = bound || t.Minutes > left, max(0, left-t.Minutes)
		case t.Minutes <= left:
			left -= t.Minutes
		default:
			t = t.SlowerBy(marks[markBelow(max(repertoire.MinTempo, 60*FastStrokes/t.densest))])
			t.Why += ", slow to spare the hands"
			t.spared, bound = true, true
		}
		spared[i] = t
	}
	return spared, bound
}

// String says in one sentence what holds fast playing back.
func (r Room) String() string {
	if r.Away {
		return fmt.Sprintf("Easing in after time away: %d minutes over %d strokes a second today, the rest slower.", r.Minutes, FastStrokes)
	}
	return fmt.Sprintf("Playing over %d strokes a second is held to %d minutes in seven days, a quarter over your last weeks; the rest is slower today.", FastStrokes, r.Week)
}

// Soothe returns the turns of a day on which playing has hurt: of those that are
// not done, what would be fast is spoken, slowed or of a run-through too, and what
// hurt.
func Soothe(turns []Turn, hurt, done func(Turn) bool) []Turn {
	return Recite(turns, func(t Turn) bool { return (hurt(t) || t.spared || isFast(t.densest, t.Target)) && !done(t) })
}

// Recite returns the turns with those spoken and not played that which says.
func Recite(turns []Turn, which func(Turn) bool) []Turn {
	all := make([]Turn, len(turns))
	for i, t := range turns {
		if which(t) {
			t.Spoken, t.Why = true, t.Why+"; say it aloud"
		}
		all[i] = t
	}
	return all
}
