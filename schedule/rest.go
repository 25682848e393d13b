package schedule

import "slices"

// A day is played in steps: turns, rests between them, and long turns in
// rounds with other pieces between. Pieces alternated every 3 minutes were
// learned at least as well as in blocks of 12: C. E. Carter and J. A. Grahn,
// Frontiers in Psychology 7:1251, 2016. Rests of about ten minutes in the hour:
// J. Horvath, "Playing (Less) Hurt", as quoted in newspapers, 2009.

// The figures are our choice within what the sources say.
const (
	longestRound = 6  // minutes that a turn may take at a stretch
	restAfter    = 25 // minutes of playing after which comes a rest
	restMinutes  = 5  // so that an hour holds two of them
)

// A Step is what is done next: a rest, or a round of a turn, or a leg of a round.
type Step struct {
	Rest      bool
	Turn      int // its place in the plan
	Round, Of int // counted from 1
	Leg, Legs int // of the round, counted from 1
	Part      Part
	Time      int // how many steps of the day were of the same part of the same turn, with this one
	Tempo     int // to reach, matras/min
	Minutes   int
}

// Steps returns the steps of a day with those turns, and the walks of those that
// are taken apart, by their place; there may be none. A turn's rounds add up to
// its minutes; those of rests come on top, so that a plan is the same with rests
// and without.
func Steps(turns []Turn, walks map[int][]Leg, rests bool) []Step {
	steps := alternated(turns)
	rounds := make([]int, len(turns))
	for i := range steps {
		rounds[steps[i].Turn]++
		steps[i].Round = rounds[steps[i].Turn]
	}
	for i := range steps {
		steps[i].Of = rounds[steps[i].Turn]
	}
	if rests {
		steps = withRests(steps, turns)
	}
	return walked(steps, turns, walks)
}

// walked parts the rounds of turns that are taken apart into their legs. A leg
// that a round has no room for goes on in the next.
func walked(steps []Step, turns []Turn, walks map[int][]Leg) []Step {
	type part struct {
		turn int
		of   Part
	}
	var all []Step
	times, spent := map[part]int{}, make([]int, len(turns))
	for _, s := range steps {
		first := len(all)
		for left := s.Minutes; left > 0; {
			if all = append(all, s); s.Rest {
				break
			}
			at := &all[len(all)-1]
			leg := turns[s.Turn].legAfter(walks[s.Turn], spent[s.Turn])
			at.Part, at.Tempo, at.Minutes = leg.Part, leg.Tempo, min(leg.Minutes, left)
			spent[s.Turn] += at.Minutes
			left -= at.Minutes
			times[part{s.Turn, leg.Part}]++
			at.Time, at.Leg = times[part{s.Turn, leg.Part}], len(all)-first
		}
		for i := first; i < len(all) && !s.Rest; i++ {
			all[i].Legs = len(all) - first
		}
	}
	return all
}

// legAfter returns what is left of the leg under way after so many minutes of a
// walk: the whole, where there is none.
func (t Turn) legAfter(legs []Leg, minutes int) Leg {
	for _, leg := range legs {
		if minutes < leg.Minutes {
			leg.Minutes -= minutes
			return leg
		}
		minutes -= leg.Minutes
	}
	return Leg{Tempo: t.Target, Minutes: max(1, t.Minutes)}
}

// Whole returns each turn as one step.
func Whole(turns []Turn) []Step {
	steps := make([]Step, len(turns))
	for i, t := range turns {
		steps[i] = Step{Turn: i, Round: 1, Of: 1, Minutes: t.Minutes, Leg: 1, Legs: 1, Time: 1, Tempo: t.Target}
	}
	return steps
}

// alternated parts long turns into rounds and puts other turns between them. A
// run-through, with which a day begins, stays as it is.
func alternated(turns []Turn) []Step {
	var run, steps, waiting []Step
	for i, t := range turns {
		if t.Run {
			run = append(run, Step{Turn: i, Minutes: t.Minutes})
			continue
		}
		rounds := roundsOf(i, t.Minutes)
		steps = append(steps, rounds[0])
		other := slices.IndexFunc(waiting, func(s Step) bool { return s.Turn != i })
		if other >= 0 && i < len(turns)-1 {
			steps = append(steps, waiting[other])
			waiting = slices.Delete(waiting, other, other+1)
		}
		waiting = append(waiting, rounds[1:]...)
	}
	for _, s := range waiting {
		steps = fitIn(steps, s)
	}
	return append(run, steps...)
}

// fitIn puts a round where it has other turns on both sides, late but before
// what ends the day, or after that; where there is no such place, its turn is
// played in one.
func fitIn(steps []Step, s Step) []Step {
	free := func(i int) bool {
		return i > 0 && steps[i-1].Turn != s.Turn && (i == len(steps) || steps[i].Turn != s.Turn)
	}
	for i := len(steps) - 1; i > 0; i-- {
		if free(i) {
			return slices.Insert(steps, i, s)
		}
	}
	if free(len(steps)) {
		return append(steps, s)
	}
	for i := len(steps) - 1; ; i-- {
		if steps[i].Turn == s.Turn {
			steps[i].Minutes += s.Minutes
			return steps
		}
	}
}

// roundsOf parts the minutes of a turn into as few rounds as may be, the longer
// ones first.
func roundsOf(turn, minutes int) []Step {
	n := max(1, (minutes+longestRound-1)/longestRound)
	rounds := make([]Step, n)
	for i := range rounds {
		rounds[i] = Step{Turn: turn, Minutes: (minutes + n - 1 - i) / n}
	}
	return rounds
}

// withRests puts a rest before what would make a stretch of playing too long.
func withRests(steps []Step, turns []Turn) []Step {
	var all []Step
	since := 0
	for _, s := range steps {
		if turns[s.Turn].Spoken {
			all = append(all, s) // which rests the hands
			continue
		}
		if since > 0 && since+s.Minutes > restAfter {
			all = append(all, Step{Rest: true, Minutes: restMinutes})
			since = 0
		}
		since += s.Minutes
		all = append(all, s)
	}
	return all
}
