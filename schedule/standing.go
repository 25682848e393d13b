// Package schedule decides: how long a piece may rest, at which tempo it is
// played next, and what a day holds. It is pure: the day is an argument, and
// nothing is read, kept or printed.
package schedule

import (
	"fmt"
	"strconv"
	"strings"

	"dohra/repertoire"
)

// Clarity is how a play sounded. It is SM-2's quality of a repetition, 0 to 5.
type Clarity int

const (
	Lost Clarity = iota
	Broken
	Smudged
	Strained
	Clear
	Effortless
)

var clarities = []string{"lost", "broken", "smudged", "strained", "clear", "effortless"}

// String returns the word for c.
func (c Clarity) String() string { return clarities[c] }

// ParseClarity reads a clarity by its word, in any case, or its number.
func ParseClarity(text string) (Clarity, error) {
	for i, word := range clarities {
		if strings.EqualFold(text, word) || text == strconv.Itoa(i) {
			return Clarity(i), nil
		}
	}
	return 0, fmt.Errorf("%q is no clarity; say %s (0 to 5)", text, strings.Join(clarities, ", "))
}

// A Play is one logged repetition. Minutes is 0 where it was not given.
type Play struct {
	ID      int64
	Piece   int64
	Day     repertoire.Day
	Tempo   int // matras/min
	Clarity Clarity
	Minutes int
	Note    string
}

// MaxMinutes is the longest play that can be logged.
const MaxMinutes = 240

// Check refuses a play out of range: tempo outside 20 to 400 matras/min, or
// minutes, where given, outside 1 to MaxMinutes, or clarity outside 0 to 5.
func (p Play) Check() error {
	if p.Clarity < Lost || p.Clarity > Effortless {
		return fmt.Errorf("clarity %d is outside 0 to 5", int(p.Clarity))
	}
	if p.Minutes < 0 || p.Minutes > MaxMinutes {
		return fmt.Errorf("minutes %d are outside 1 to %d", p.Minutes, MaxMinutes)
	}
	return repertoire.CheckTempo("tempo", p.Tempo)
}

// A Stage is where a piece stands on its way.
type Stage int

const (
	Untouched Stage = iota // never played
	Building               // below goal tempo
	Kept                   // at goal tempo
	Slipped                // was kept, is believed below
	Resting                // set aside by the player; never the stage of a Standing
)

// Stages are the words for the stages, by number.
var Stages = []string{"untouched", "building", "kept", "slipped", "resting"}

// String returns the word for s.
func (s Stage) String() string { return Stages[s] }

// A Standing is what is known of a piece. It follows from the piece's start
// and goal tempo and its plays alone; the zero value is not valid, see New.
type Standing struct {
	Stage  Stage
	Clean  int  // clean tempo, matras/min; 0 while unknown
	Rung   int  // place on the ladder, in sixths of a mark
	Found  bool // the edge was found: the ladder goes in small steps
	SM2    SM2
	LostAt int // days of the interval at the last slip, until it is regained

	Repeated repertoire.Day // the last repetition that counted, or Never
	Due      repertoire.Day // the first day on which to play it again, or Never

	Last        repertoire.Day // the last play, or Never
	LastTempo   int            // matras/min
	LastClarity Clarity
}

// New returns the standing of an untouched piece with that start tempo.
func New(start int) Standing {
	return Standing{
		Rung:     rungOf(start),
		Repeated: repertoire.Never, Last: repertoire.Never, Due: repertoire.Never,
	}
}

// Valid reports whether the standing is one that New and Add can give; what was
// read from a damaged file may not be.
func (s Standing) Valid() bool {
	return s.Stage >= Untouched && s.Stage < Resting && s.LastClarity >= Lost && s.LastClarity <= Effortless &&
		s.Rung >= 0 && s.Rung < perMark*len(marks) && s.Clean >= 0 && s.Clean <= repertoire.MaxTempo && s.SM2.Interval >= 0
}

// Replay returns the standing of a piece with that start and goal tempo after
// plays, which are ordered by day and, within a day, as they were logged.
func Replay(start, goal int, plays []Play) Standing {
	s := New(start)
	for _, p := range plays {
		s = s.Add(goal, p)
	}
	return s
}

// Add returns the standing after one more play, on the day of the last play or
// a later one, of a piece with that goal tempo in matras/min.
//
// A repetition counts for the interval only at goal tempo, and once a day;
// below it a play moves the tempo. Only a clear play at goal tempo makes a
// piece kept. A kept piece that fails, below clarity 3, at its goal tempo or
// slower has slipped: it keeps its ease, remembers its interval, and comes back
// the next day. One that fails faster than that was only tried too fast.
func (s Standing) Add(goal int, p Play) Standing {
	if s.Stage == Untouched {
		s.Stage = Building
	}
	atGoal := p.Tempo >= goal
	counted := s.Repeated == p.Day
	switch {
	case s.Stage != Kept:
		s = s.climb(goal, p)
		if atGoal && p.Clarity >= Clear {
			s.Stage = Kept
			if !counted {
				s = s.repeat(p)
			}
		}
	case p.Clarity < passing:
		if !counted {
			s = s.fail(goal, p)
		}
	case atGoal:
		s = s.believe(p)
		if !counted {
			s = s.repeat(p)
		}
	}

	s.Last, s.LastTempo, s.LastClarity = p.Day, p.Tempo, p.Clarity
	if s.Stage == Kept {
		s.Due = s.Repeated + repertoire.Day(s.SM2.Interval)
	} else {
		s.Due = p.Day + 1
	}
	return s
}

// climb moves the tempos after a play of a piece that is not kept.
func (s Standing) climb(goal int, p Play) Standing {
	s.Rung, s.Found = climb(s.Rung, s.Found, goal, p.Tempo, p.Clarity)
	return s.believe(p)
}

// believe moves the clean tempo: up to a clear play, down to the mark below
// one that failed, or to unknown below the lowest. A strained play moves nothing.
func (s Standing) believe(p Play) Standing {
	switch {
	case p.Clarity >= Clear:
		s.Clean = max(s.Clean, p.Tempo)
	case p.Clarity >= passing || p.Tempo > s.Clean:
	case p.Tempo == repertoire.MinTempo:
		s.Clean = 0
	default:
		s.Clean = slower(p.Tempo, 1)
	}
	return s
}

// repeat counts a passing repetition at goal tempo.
func (s Standing) repeat(p Play) Standing {
	s.SM2 = s.SM2.Repeat(p.Clarity, int(p.Day-s.Repeated), s.LostAt)
	if s.SM2.Interval >= s.LostAt {
		s.LostAt = 0
	}
	s.Repeated = p.Day
	return s
}

// fail takes in a failed play of a kept piece. When the clean tempo falls below
// goal the piece has slipped, and goes down the ladder below the tempo that
// failed, where it is believed clean, to climb in whole marks until its edge is
// found again. The interval begins again only when it failed at goal tempo.
func (s Standing) fail(goal int, p Play) Standing {
	s = s.believe(p)
	if s.Clean >= goal {
		return s
	}
	s.Stage = Slipped
	s.Rung, s.Found = max(0, rungOf(min(p.Tempo, goal))-stepDown), false
	s.Clean = min(s.Clean, targetAt(s.Rung, goal))
	if p.Tempo >= goal {
		s.LostAt = max(s.LostAt, s.SM2.Interval)
		s.SM2 = s.SM2.Next(p.Clarity)
		s.Repeated = p.Day
	}
	return s
}

// Target returns the tempo to reach next, in matras/min, never above goal.
func (s Standing) Target(goal int) int {
	if s.Stage == Kept {
		return goal
	}
	return targetAt(s.Rung, goal)
}

// warmBy is how many marks below its target a turn begins: about a seventh
// slower (common practice, no source).
const warmBy = 4

// Begin returns the tempo at which a turn begins, in matras/min: some marks
// below the target, or the target itself when the piece is untouched.
func (s Standing) Begin(goal int) int {
	target := s.Target(goal)
	if s.Stage == Untouched {
		return target
	}
	return slower(target, warmBy)
}

// Steps returns how many marks of the ladder lie between the clean tempo and
// the goal; from the target while the clean tempo is unknown.
func (s Standing) Steps(goal int) int {
	if s.Clean == 0 {
		return stepsBetween(targetAt(s.Rung, goal), goal)
	}
	return stepsBetween(s.Clean, goal)
}

// Carries reports whether a piece of that clean and goal tempo is firm enough
// for what must come after it: clean at 80 per cent of its goal (common
// practice, no source).
func Carries(clean, goal int) bool { return clean >= CarriesFrom(goal) }

// CarriesFrom returns the lowest clean tempo at which a piece of that goal
// tempo carries what comes after it, in matras/min.
func CarriesFrom(goal int) int { return (80*goal + 99) / 100 }

// StartFor returns the start tempo of a piece for which none was chosen: the
// mark nearest below half its goal, but not under 40 unless the goal is
// (work begins at 60-80 toward 120, harder material at 40-60: common practice,
// no source).
func StartFor(goal int) int {
	if goal < repertoire.MinTempo || goal > repertoire.MaxTempo {
		return goal
	}
	return min(goal, max(40, marks[markBelow(max(goal/2, repertoire.MinTempo))]))
}
