package schedule

// How long a turn takes: so many rounds at its tempos, from the length of its
// bols. The counts of rounds are our choice.
const (
	roundsWarm  = 2 // of a piece that was kept, at the tempo where the turn begins
	roundsKept  = 6 // of a piece that was kept, at the tempo that it reaches
	roundsClimb = 4 // of a climbing piece, at each mark up to its target
)

// A turn is never shorter than it takes to settle, nor so long that the hands
// tire on one thing: limits in minutes, for kept pieces and for climbing ones.
// Only a piece so long that one round at each tempo takes more has more.
// Turns are short, because pieces alternated every 3 minutes were learned at
// least as well as in blocks of 12: C. E. Carter and J. A. Grahn, Frontiers in
// Psychology 7:1251, 2016.
const (
	ShortestTurn, longestKept   = 2, 8 // of a piece that was kept; and the shortest of all
	shortestClimb, longestClimb = 3, 12
)

// unknownLength is what a turn takes when there are no bols to measure, minutes
// by stage.
var unknownLength = [...]int{Untouched: 4, Building: 5, Kept: 2, Slipped: 2}

// Least returns the minutes that the candidate's turn takes at least, at the
// tempos that its last play leads to.
func (c Candidate) Least() int {
	if c.Matras == 0 {
		return unknownLength[c.Stage]
	}
	begin, target := c.tempos()
	if c.Stage >= Kept {
		seconds := roundsWarm*c.seconds(begin) + roundsKept*c.seconds(target)
		return min(max(minutes(seconds), ShortestTurn), c.longest())
	}
	seconds := roundsClimb * c.seconds(target)
	for _, mark := range marks[markBelow(begin):] {
		if mark < target {
			seconds += roundsClimb * c.seconds(mark)
		}
	}
	return min(max(minutes(seconds), shortestClimb), c.longest())
}

func (c Candidate) tempos() (begin, target int) {
	return c.Begin(c.Last, c.Goal), c.Target(c.Last, c.Goal)
}

// longest returns the most minutes that the turn may take.
func (c Candidate) longest() int {
	limit := longestClimb
	if c.Stage >= Kept {
		limit = longestKept
	}
	if c.Matras == 0 {
		return limit
	}
	begin, target := c.tempos()
	return max(limit, minutes(c.seconds(begin)+c.seconds(target)))
}

// Most returns the minutes to which the turn may be lengthened when the day has
// time to spare.
func (c Candidate) Most() int {
	if c.Stage >= Kept {
		return min(c.Least()+2, c.longest())
	}
	return min(2*c.Least(), c.longest())
}

// seconds returns what one round takes at a tempo in matras/min, rounded up.
func (c Candidate) seconds(tempo int) int { return (60*c.Matras + tempo - 1) / tempo }

func minutes(seconds int) int { return (seconds + 59) / 60 }
