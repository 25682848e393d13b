package schedule

import (
	"slices"
	"sort"
)

// What would bring on course what cannot be ready: it is tried out, by living the
// days again. The bounds of the search are our choice.
const (
	MostAdvised = 120 // minutes a day; more is never advised
	advisedStep = 5   // minutes
	trialLives  = 40
)

// A Remedy is what would bring one piece on course.
type Remedy struct {
	Minutes int // to add to every day that has any; 0 where none up to MostAdvised a day would do
	Tempo   int // a performance tempo, matras/min, from its start tempo on; 0 where none would do
}

// Remedies returns a remedy for each piece that cannot be ready. The tempos hold
// where all of these pieces are played at theirs.
func (p Prospect) Remedies(r Readiness) map[int64]Remedy {
	p.Concert = p.Awake()
	var places []int
	for i, f := range r.Set {
		if f.Cannot() {
			places = append(places, i)
		}
	}
	remedies := make(map[int64]Remedy, len(places))
	if len(places) == 0 {
		return remedies
	}
	longer, slower := p.lengthened(), p.slowed(places)
	for n, i := range places {
		remedies[r.Set[i].Piece] = Remedy{longer(i), slower[n]}
	}
	return remedies
}

// lengthened returns what finds the fewest minutes more a day that bring the
// piece at a place of the set on course. Each number is tried once.
func (p Prospect) lengthened() func(place int) (minutes int) {
	week := p.Calendar.Week
	steps := max(0, MostAdvised-slices.Max(week[:])) / advisedStep
	tried := map[int]Readiness{}
	does := func(step, place int) bool {
		if _, done := tried[step]; !done {
			for i, minutes := range week {
				if minutes > 0 {
					p.Calendar.Week[i] = minutes + step*advisedStep
				}
			}
			tried[step] = p.readiness(trialLives)
		}
		return tried[step].Set[place].Chance >= likely
	}
	return func(place int) int {
		if steps == 0 || !does(steps, place) {
			return 0
		}
		return advisedStep * (1 + sort.Search(steps-1, func(i int) bool { return does(i+1, place) }))
	}
}

// slowed returns the fastest marks below their performance tempos at which the
// pieces at those places of the set are on course together, 0 for one that is
// not even at its start tempo. All are halved in on at once, and what is found is
// tried again, lower where it does not hold.
func (p Prospect) slowed(places []int) []int {
	low, high := make([]int, len(places)), make([]int, len(places)) // marks that do and that do not
	least := make([]int, len(places))
	for n, i := range places {
		place := p.Concert.Set[i]
		at := slices.IndexFunc(p.Pieces, func(c Candidate) bool { return c.ID == place.Piece })
		least[n] = markBelow(p.Pieces[at].Start)
		low[n], high[n] = least[n]-1, max(least[n], markBelow(place.Tempo-1)+1)
	}
	do := func(at []int) []bool {
		r := p.at(places, at).readiness(trialLives)
		done := make([]bool, len(places))
		for n, i := range places {
			done[n] = r.Set[i].Chance >= likely
		}
		return done
	}
	const halvings, checks = 5, 2
	for range halvings {
		middle := make([]int, len(places))
		for n := range places {
			middle[n] = (low[n] + high[n]) / 2
		}
		for n, done := range do(middle) {
			if done {
				low[n] = max(low[n], middle[n])
			} else {
				high[n] = min(high[n], max(middle[n], low[n]+1))
			}
		}
	}
	for range checks {
		for n, done := range do(low) {
			if !done {
				low[n]--
			}
		}
	}
	found := make([]int, len(places))
	for n, done := range do(low) {
		if done && low[n] >= least[n] {
			found[n] = marks[low[n]]
		}
	}
	return found
}

// at returns the prospect with other performance tempos, given as marks, at those
// places of the set.
func (p Prospect) at(places, mark []int) Prospect {
	was := p.Concert
	p.Concert.Set = slices.Clone(was.Set)
	for n, i := range places {
		p.Concert.Set[i].Tempo = marks[max(0, mark[n])]
	}
	p.Concerts = slices.Clone(p.Concerts)
	for i, c := range p.Concerts {
		if c.Name == was.Name && c.Day == was.Day {
			p.Concerts[i] = p.Concert
		}
	}
	return p
}
