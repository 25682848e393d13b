package schedule

import (
	"cmp"
	"fmt"
	"slices"

	"dohra/repertoire"
)

// What concerts ask of the days before them. A piece of a set that is not there
// yet is played every day, from early enough on; one that is there comes back
// after a fifth of the time that is left, which serves best for a test within
// weeks (N. J. Cepeda et al., "Spacing effects in learning", Psychological
// Science 19, 2008). Of the last two weeks some days have a run-through, each
// piece as fast as it goes by then; the day before is light (J. Horvath, "Playing
// (Less) Hurt", as quoted in newspapers, 2009): the set once, below its tempos.
// On the day itself the set is warmed up. The other figures are our choice.
const (
	spacedFrom = 28  // days before, from when what is there is kept there
	headroom   = 105 // per cent of the performance tempo that are worked for
	freshUntil = 7   // days before, when nothing new is begun any more
	restShare  = 10  // one part in so many of the minutes is the other pieces'
	lightly    = 1   // marks below what a run-through would ask, on a light day
)

// runThroughs are the days before a concert on which its whole set is played.
var runThroughs = [...]repertoire.Day{13, 10, 7, 4, 2}

// MostRunThroughs is how many run-throughs a concert has where days allow.
const MostRunThroughs = len(runThroughs)

// A Rehearsal is what concerts ask of one day; without any it asks nothing.
type Rehearsal struct {
	Day   repertoire.Day
	Next  Concert // the nearest, if any
	Runs  bool    // a run-through of the nearest is due
	calls map[int64]call
	pass  []int // the minutes of each piece of the way through its set; see Settle
}

// A call is a piece's place in a concert, the nearest where it has several.
type call struct {
	Concert
	Place
}

// Rehearse returns what those concerts, by day, ask of a day in the calendar on
// which some pieces are set aside.
func Rehearse(day repertoire.Day, c Calendar, concerts []Concert, aside map[int64]bool) Rehearsal {
	r := Rehearsal{Day: day, calls: map[int64]call{}}
	for _, concert := range concerts {
		concert = concert.Awake(aside)
		if concert.Day < day || len(concert.Set) == 0 {
			continue
		}
		if r.Next.Name == "" {
			r.Next = concert
			r.Runs = slices.Contains(concert.RunThroughs(c), day)
		}
		for _, p := range concert.Set {
			if _, nearer := r.calls[p.Piece]; !nearer {
				r.calls[p.Piece] = call{concert, p}
			}
		}
	}
	return r
}

// RunThroughs returns the days on which the whole set is played, each moved to
// the next day before it that has minutes.
func (c Concert) RunThroughs(calendar Calendar) (days []repertoire.Day) {
	for _, before := range runThroughs {
		day := c.Day - before
		for day > c.Day-15 && (calendar.Minutes(day) == 0 || slices.Contains(days, day)) {
			day--
		}
		if day > c.Day-15 {
			days = append(days, day)
		}
	}
	slices.Sort(days)
	return days
}

// Has reports whether the piece stands in the set of a concert to come.
func (r Rehearsal) Has(piece int64) bool {
	_, has := r.calls[piece]
	return has
}

// Pieces returns the pieces of the sets.
func (r Rehearsal) Pieces() (pieces []int64) {
	for piece := range r.calls {
		pieces = append(pieces, piece)
	}
	slices.Sort(pieces)
	return pieces
}

// left returns the days until the nearest concert; many where there is none.
func (r Rehearsal) left() int {
	if r.Next.Name == "" {
		return longest
	}
	return int(r.Next.Day - r.Day)
}

// Light reports whether a concert is today or tomorrow.
func (r Rehearsal) Light() bool { return r.left() <= 1 }

// Minutes returns what is left of a day's minutes: half of them when it is light,
// and on the day of the concert no more than warms up its set.
func (r Rehearsal) Minutes(minutes int) int {
	switch half := (minutes + 1) / 2; r.left() {
	case 0:
		return min(half, warmUp*len(r.Next.Set))
	case 1:
		return half
	}
	return minutes
}

// warmUp is the minutes of a piece on the day of its concert (our choice).
const warmUp = 1

// aim returns the tempo that is worked for: above the performance tempo, but no
// more on a light day.
func (r Rehearsal) aim(c call) int {
	if int(c.Day-r.Day) <= 1 {
		return c.Tempo
	}
	return min((headroom*c.Tempo+99)/100, repertoire.MaxTempo)
}

// plays returns about how many plays lie between a belief and a tempo.
func (b Belief) plays(day repertoire.Day, tempo int) float64 {
	edge, _ := b.on(day)
	return b.climb(edge, lnOf(tempo))
}

// early returns how many days before its concert a piece so far from its aim is
// taken up: twice the plays it takes, for days are missed and plays fail.
func early(plays float64) int { return spacedFrom + int(2*plays) }

// A wish is how a concert wants a piece on a day.
type wish int

const (
	ordinary wish = iota // it is for the ordinary intervals yet
	spaced               // it is there, and will hold or has not waited long enough
	keeping              // it is there, has waited, and may be lost until the day; or that is at hand
	climbing             // it is not there yet
)

func (r Rehearsal) wish(c call, b Claim) wish {
	left := int(c.Day - r.Day)
	aim := r.aim(c)
	switch {
	case left > early(b.plays(r.Day, aim)):
		return ordinary
	case b.Stage == Untouched || b.missing(r.Day, aim) > sure:
		return climbing
	case left <= 1 || int(r.Day-b.Last) >= (left+4)/5 && b.missing(c.Day, c.Tempo) > doubtful:
		return keeping
	}
	return spaced
}

// Claim returns what the candidate asks of the day: where a concert has it in
// hand, with the tempo that is worked for as its goal.
func (r Rehearsal) Claim(c Candidate, waits bool) Claim {
	if !r.Has(c.ID) { // which most are
		return c.Claim(waits)
	}
	if _, in := r.inHand(c); !in {
		return c.Claim(waits)
	}
	return r.prepared(c).Claim(false)
}

// Prepare makes the claims of the day ready for Choose: what would not survive an
// absence asks before it, and on days that are not light the old piece has its
// place, where days keep one. It returns that piece, or 0.
func (r Rehearsal) Prepare(c Calendar, oldPiece bool, claims []Claim) (place int64) {
	c.BeforeAway(r.Day, claims)
	if oldPiece && !r.Light() {
		place = KeepPlace(r.Day, claims)
	}
	return place
}

// inHand returns the call of a candidate that is not for ordinary intervals.
func (r Rehearsal) inHand(c Candidate) (call, bool) {
	called, in := r.calls[c.ID]
	return called, in && (r.passes(c.ID) || r.wish(called, Claim{Stage: c.Stage, Last: c.Last, Belief: c.Belief}) != ordinary)
}

// prepared returns the candidate with the tempo that is worked for as its goal,
// and bolder: with a date, a strained play now and then is worth it (our choice).
func (r Rehearsal) prepared(c Candidate) Candidate {
	c.Goal = r.aim(r.calls[c.ID])
	c.Room /= 2
	return c
}

// Choose divides the claims of a day as the function Choose does, but those that
// a concert calls go first, while the other pieces keep their share; first of all
// the way through its set, where the day has one. What is new waits when a concert
// is near.
func (r Rehearsal) Choose(minutes int, claims []Claim) (taken []Claim, denied []Denied) {
	if len(r.calls) == 0 {
		return Choose(r.Day, minutes, claims)
	}
	var called, others, fresh []Claim
	for _, c := range claims {
		mine, in := r.calls[c.Piece]
		w := ordinary
		if in {
			w = r.wish(mine, c)
		}
		switch {
		case r.tooNew(c):
			fresh = append(fresh, c)
		case w == ordinary && !r.passes(c.Piece):
			others = append(others, c)
		case w != spaced || r.passes(c.Piece):
			called = append(called, c)
		}
	}
	called = r.ranked(called)
	budget, n := minutes-sum(r.pass), len(r.pass)
	share := budget / restShare
	for budget -= share; n < len(called) && called[n].Least <= budget; n++ {
		budget -= called[n].Least
	}
	if n == len(called) {
		share += budget // else what is left lengthens turns, so that more minutes never drop one
	}
	for _, c := range called[n:] {
		denied = append(denied, Denied{c, NoTime})
	}
	rest, without := Choose(r.Day, share, others)
	denied = append(denied, without...)
	for _, c := range byWorth(r.Day, fresh) {
		denied = append(denied, Denied{c, NearConcert})
	}
	return append(called[:n:n], rest...), denied
}

// tooNew reports whether a piece is not to be begun with a concert so near.
func (r Rehearsal) tooNew(c Claim) bool {
	return c.Stage == Untouched && r.left() <= freshUntil && !r.passes(c.Piece)
}

// ranked returns the called claims in the order in which they are taken: the way
// through the set in its order; then what is there, the longest waiting first;
// then what climbs, by its urgency.
func (r Rehearsal) ranked(called []Claim) []Claim {
	called = sortedBy(called, r.urgency)
	rank := func(c Claim) int {
		switch {
		case r.passes(c.Piece):
			return r.Next.At(c.Piece) - MaxSlot
		case r.wish(r.calls[c.Piece], c) == climbing:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(called, func(a, b Claim) int {
		if byRank := cmp.Compare(rank(a), rank(b)); byRank != 0 || rank(a) > 0 {
			return byRank
		}
		return cmp.Compare(a.Last, b.Last)
	})
	return called
}

// urgency is least for the piece with the fewest days to spare; a piece has one
// turn a day. What more days would be needed for than there are comes last.
func (r Rehearsal) urgency(c Claim) float64 {
	mine := r.calls[c.Piece]
	days := float64(mine.Day - r.Day)
	need := c.plays(r.Day, mine.Tempo)
	if need > days {
		return need
	}
	return need - days
}

// Slid returns the claims that would have a turn if there were no concert, and
// have none among those taken.
func (r Rehearsal) Slid(minutes int, claims, taken []Claim) (slid []Claim) {
	if len(r.calls) == 0 {
		return nil
	}
	ordinary, _ := Choose(r.Day, minutes, claims)
	for _, c := range ordinary {
		has := slices.ContainsFunc(taken, func(t Claim) bool { return t.Piece == c.Piece })
		if !has && !r.Has(c.Piece) && !r.tooNew(c) && c.asks(r.Day) {
			slid = append(slid, c)
		}
	}
	return slid
}

// Target returns the tempo at which the candidate is played on the day.
func (r Rehearsal) Target(c Candidate) int {
	called, in := r.inHand(c)
	switch {
	case in && r.passes(c.ID):
		tempo := min(called.Tempo, c.Standing.Target(r.Day, r.aim(called)))
		if r.Light() {
			return slower(tempo, lightly)
		}
		return tempo
	case in:
		c = r.prepared(c)
	}
	return c.Standing.Target(r.Day, c.Goal)
}

// Arrange gives the chosen pieces their turns as the function Arrange does; the
// way through the set comes first, as one.
func (r Rehearsal) Arrange(minutes int, chosen []Candidate) []Turn {
	pass := r.passTurns(chosen)
	rest := slices.Clone(chosen[len(pass):])
	for i, c := range rest {
		if _, in := r.inHand(c); in {
			rest[i] = r.prepared(c)
		}
	}
	turns := Arrange(r.Day, minutes-sum(r.pass), rest)
	for i := range turns {
		if _, in := r.inHand(turns[i].Candidate); in {
			turns[i] = r.called(turns[i], chosen)
		}
	}
	return append(pass, turns...)
}

// called returns a turn of a piece that a concert calls with its own goal again,
// and why.
func (r Rehearsal) called(t Turn, chosen []Candidate) Turn {
	plain := why(r.Day, t.Candidate)
	before := t.Why[:len(t.Why)-len(plain)] // such as "warm up: "
	i := slices.IndexFunc(chosen, func(c Candidate) bool { return c.ID == t.ID })
	t.Candidate = chosen[i]
	clean, _ := t.CleanOn(r.Day)
	c := r.calls[t.ID]
	when := ago(int(r.Day - c.Day))
	if clean == 0 {
		t.Why = fmt.Sprintf("%s%s %s: new, needs %d", before, c.Name, when, c.Tempo)
	} else {
		t.Why = fmt.Sprintf("%s%s %s: clean at %d, needs %d", before, c.Name, when, clean, c.Tempo)
	}
	return t
}
