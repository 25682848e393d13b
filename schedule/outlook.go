package schedule

import (
	"math"
	"slices"
	"sync"

	"dohra/repertoire"
)

// What so many minutes a day come to: the scheduler is run forward on simulated
// players, drawn from what is believed of this one.

// Ahead is a future of so many days.
type Ahead struct {
	Future
	Days int
}

// An Outlook is what comes of it.
type Outlook struct {
	Ready   Range          // pieces within reach of their goal at the end
	Slipped Range          // pieces that were kept and are not ready at the end
	Hold    float64        // minutes a day that would hold all that is kept at the end
	Taken   float64        // new pieces a month that could be carried to their goal
	Next    repertoire.Day // when the next new piece should start, or Never
}

// A Range is a mean, and between what bounds 8 of 10 simulated players end.
type Range struct{ Mean, Low, High float64 }

// draws is how many players are simulated for each outlook, and supplied how
// many more, of middling pace, who never run out of new pieces (our choice).
const draws, supplied = 10, 2

// LookAhead returns the outlook of each, the same whenever it is asked. tick is
// told how many players are done, of how many.
func LookAhead(all []Ahead, tick func(done, total int)) []Outlook {
	const players = draws + supplied
	ends := make([][players]end, len(all))
	days := make([][]Rehearsal, len(all))
	for i, a := range all {
		days[i] = a.rehearsals(a.From + repertoire.Day(a.Days))
	}
	var one sync.Mutex
	done := 0
	inParallel(players*len(all), func(n int) {
		i, draw := n/players, n%players
		ends[i][draw] = all[i].live(draw, days[i])
		one.Lock()
		defer one.Unlock()
		done++
		tick(done, players*len(all))
	})
	outlooks := make([]Outlook, len(all))
	for i, a := range all {
		outlooks[i] = a.outlook(ends[i][:draws], ends[i][draws:])
	}
	return outlooks
}

// supply returns new pieces such as those of the repertoire, one for every five
// days and more than are begun at once.
func (a Ahead) supply() (fresh []Candidate) {
	last, like := int64(0), Awake(a.From, a.Pieces)
	for _, c := range a.Pieces {
		last = max(last, c.ID)
	}
	for i := range min(len(like), 1) * (fewBuilding + a.Days/5) {
		c := like[7*i%len(like)]
		c.ID, c.After, c.Resting, c.Standing = last+int64(i)+1, 0, repertoire.Never, New(c.Start)
		fresh = append(fresh, c)
	}
	return fresh
}

// Upkeep returns the minutes a day that would hold all that was kept: a turn of
// each piece before it becomes doubtful whether it is within reach of its goal.
func Upkeep(pieces []Candidate) (minutes float64) {
	for _, c := range pieces {
		if c.Stage >= Kept {
			surely := c.stays(c.Goal) * math.Exp(quantile(doubtful)*c.HoldDoubt)
			minutes += float64(c.Least()) / max(1, surely)
		}
	}
	return minutes
}

// An end is where one simulated player stands after the last day.
type end struct {
	ready, slipped, hold float64
	climbed              float64 // by pieces that were never kept, in whole ways from start to goal
	next                 repertoire.Day
}

// outlook sums up the ends.
func (a Ahead) outlook(ends, supplied []end) (o Outlook) {
	var ready, slipped []float64
	var next []repertoire.Day
	for _, e := range ends {
		ready, slipped, next = append(ready, e.ready), append(slipped, e.slipped), append(next, e.next)
		o.Hold += e.hold / draws
	}
	slices.Sort(next)
	o.Ready, o.Slipped, o.Next = rangeOf(ready), rangeOf(slipped), next[draws/2]
	const month = 30
	for _, e := range supplied {
		o.Taken += e.climbed * month / float64(a.Days*len(supplied))
	}
	if o.Next == a.From+repertoire.Day(a.Days) {
		o.Next = repertoire.Never
	}
	return o
}

// rangeOf returns the range of the values, as of a normal distribution.
func rangeOf(values []float64) (r Range) {
	for _, v := range values {
		r.Mean += v / draws
	}
	square := 0.0
	for _, v := range values {
		square += (v - r.Mean) * (v - r.Mean) / (draws - 1)
	}
	half := quantile(0.9) * math.Sqrt(square)
	return Range{r.Mean, max(0, r.Mean-half), r.Mean + half}
}

// regularDays is how far back the player's regularity is looked for, and
// fewDays are too few to tell (our choice).
const regularDays, fewDays = 60, 14

// RegularSince returns the first day that Regularity looks at.
func RegularSince(day repertoire.Day) repertoire.Day { return day - regularDays }

// Regularity returns the part of the days with minutes, before that day and from
// the first of plays on, on which there is a play; 1 of too few days. plays are
// in order of days.
func Regularity(day repertoire.Day, c Calendar, plays []Play) float64 {
	if len(plays) == 0 {
		return 1
	}
	played := map[repertoire.Day]bool{}
	for _, p := range plays {
		played[p.Day] = true
	}
	meant, kept := 0, 0
	for d := plays[0].Day; d < day; d++ {
		if c.Minutes(d) > 0 {
			meant++
			if played[d] {
				kept++
			}
		}
	}
	if meant < fewDays {
		return 1
	}
	return float64(kept) / float64(meant)
}
