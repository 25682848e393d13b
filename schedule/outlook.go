package schedule

import (
	"math"
	"runtime"
	"slices"
	"sync"

	"dohra/repertoire"
)

// What so many minutes a day come to: the scheduler is run forward on simulated
// players, drawn from what is believed of this one.

// Ahead is the time that is looked into, and what goes into it.
type Ahead struct {
	From     repertoire.Day
	Days     int
	Calendar Calendar
	Regular  float64 // the part of the days with minutes on which the player plays
	OldPiece bool    // each day keeps a place for an old piece
	Pieces   []Candidate
}

// An Outlook is what comes of it.
type Outlook struct {
	Ready   Range          // pieces within reach of their goal at the end
	Slipped Range          // pieces that were kept and are not ready at the end
	Hold    float64        // minutes a day that would hold all that is kept at the end
	Taken   float64        // new pieces a month that the other minutes carry to their goal
	Next    repertoire.Day // when the next new piece should start, or Never
}

// A Range is a mean, and between what bounds 8 of 10 simulated players end.
type Range struct{ Mean, Low, High float64 }

// draws is how many players are simulated for each outlook (our choice).
const draws = 12

// LookAhead returns the outlook of each, the same whenever it is asked. tick is
// told how many players are done, of how many.
func LookAhead(all []Ahead, tick func(done, total int)) []Outlook {
	ends := make([][]end, len(all))
	for i := range ends {
		ends[i] = make([]end, draws)
	}
	jobs := make(chan int)
	var wait sync.WaitGroup
	var one sync.Mutex
	done := 0
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for j := range jobs {
				ends[j/draws][j%draws] = all[j/draws].live(j % draws)
				one.Lock()
				done++
				tick(done, draws*len(all))
				one.Unlock()
			}
		})
	}
	for j := range draws * len(all) {
		jobs <- j
	}
	close(jobs)
	wait.Wait()
	outlooks := make([]Outlook, len(all))
	for i, a := range all {
		outlooks[i] = a.outlook(ends[i])
	}
	return outlooks
}

// An end is where one simulated player stands after the last day.
type end struct {
	ready, slipped, hold float64
	next                 repertoire.Day
}

// outlook sums up the ends.
func (a Ahead) outlook(ends []end) (o Outlook) {
	var ready, slipped []float64
	var next []repertoire.Day
	for _, e := range ends {
		ready, slipped, next = append(ready, e.ready), append(slipped, e.slipped), append(next, e.next)
		o.Hold += e.hold / draws
	}
	slices.Sort(next)
	o.Ready, o.Slipped, o.Next = rangeOf(ready), rangeOf(slipped), next[draws/2]
	if cost := a.costOfNew(); cost > 0 {
		const month = 30
		o.Taken = max(0, a.daily()-o.Hold) * month / cost
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

func quantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// daily returns the mean minutes of a day.
func (a Ahead) daily() float64 {
	sum := 0
	for i := range a.Days {
		sum += a.Calendar.Minutes(a.From + repertoire.Day(i))
	}
	return a.Regular * float64(sum) / float64(max(1, a.Days))
}

// costOfNew returns the minutes of the turns that bring a piece such as these
// from its start to its goal.
func (a Ahead) costOfNew() (minutes float64) {
	for _, c := range a.Pieces {
		c.Standing = New(c.Start)
		minutes += float64(c.turnsBack(a.From, c.Goal)*c.Least()) / float64(len(a.Pieces))
	}
	return minutes
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
