package schedule

import (
	"fmt"

	"dohra/repertoire"
)

// A Candidate is a piece as a day's plan sees it: with its standing when the
// day began.
type Candidate struct {
	repertoire.Piece
	Standing
	First string // the title of the piece that must come first, or ""
}

// Claim returns what the candidate asks of a day. waits says that the piece
// that must come first does not carry it yet.
func (c Candidate) Claim(waits bool) Claim {
	return Claim{
		Piece: c.ID, Stage: c.Stage, Due: c.Due, Last: c.Last,
		Interval: c.SM2.Interval, Steps: c.Steps(c.Goal), Least: c.Least(), Waits: waits,
	}
}

// A Turn is one row of a day's plan.
type Turn struct {
	Candidate
	Begin   int // tempo to begin at, matras/min
	Target  int // tempo to reach, matras/min
	Minutes int
	Why     string // one clause

	technique string // what it exercises most, or ""
}

// LeftOut is a piece that has no turn, and why, in one clause.
type LeftOut struct {
	Candidate
	Why string
}

// A Plan is what a day holds: turns in the order in which to play them, and
// what was due or new but has no turn.
type Plan struct {
	Turns []Turn
	Left  []LeftOut
}

// Minutes returns the sum of the turns' minutes.
func (p Plan) Minutes() int {
	n := 0
	for _, t := range p.Turns {
		n += t.Minutes
	}
	return n
}

// PlanDay plans a day of that many minutes for a whole repertoire, given as the
// standings were when the day began. It is Choose, Arrange and WhyLeft in one,
// for a repertoire held in memory.
func PlanDay(day repertoire.Day, minutes int, all []Candidate) Plan {
	byID := make(map[int64]Candidate, len(all))
	for _, c := range all {
		byID[c.ID] = c
	}
	var claims []Claim
	for _, c := range all {
		if !c.Rests(day) {
			first, ok := byID[c.After]
			claims = append(claims, c.Claim(ok && !Carries(first.Clean, first.Goal)))
		}
	}
	taken, denied := Choose(day, minutes, claims)
	chosen := make([]Candidate, len(taken))
	for i, c := range taken {
		chosen[i] = byID[c.Piece]
	}
	plan := Plan{Turns: Arrange(day, minutes, chosen)}
	for _, d := range denied {
		c := byID[d.Piece]
		plan.Left = append(plan.Left, LeftOut{c, WhyLeft(day, c, d.Denial)})
	}
	return plan
}

// Arrange gives the chosen pieces, in order of value, their turns in order of
// playing: an easy kept piece to warm up, the hardest climb while fresh, then
// kinds and techniques alternated, and a kept piece at full tempo to end. Minutes left over
// lengthen turns, climbing ones first, as far as that helps.
func Arrange(day repertoire.Day, minutes int, chosen []Candidate) []Turn {
	turns := make([]Turn, len(chosen))
	for i, c := range chosen {
		turns[i] = Turn{
			Candidate: c, Begin: c.Begin(c.Goal), Target: c.Target(c.Goal),
			Minutes: c.Least(), Why: why(day, c), technique: technique(c.Bols),
		}
		minutes -= turns[i].Minutes
	}
	stretch(turns, minutes, func(t Turn) bool { return t.Stage != Kept })
	stretch(turns, minutes-gained(turns), func(t Turn) bool { return t.Stage == Kept })
	return order(turns)
}

// gained returns by how much the turns are longer than the least.
func gained(turns []Turn) int {
	n := 0
	for _, t := range turns {
		n += t.Minutes - t.Least()
	}
	return n
}

// stretch gives the spare minutes one by one to the turns that want them, in
// order, round after round.
func stretch(turns []Turn, spare int, wants func(Turn) bool) {
	for given := true; given && spare > 0; {
		given = false
		for i := range turns {
			if t := &turns[i]; spare > 0 && wants(*t) && t.Minutes < t.Most() {
				t.Minutes++
				spare--
				given = true
			}
		}
	}
}

// technique returns what the bols exercise most, "" when there are none.
func technique(bols string) string {
	n, err := repertoire.ReadBols(bols)
	if err != nil {
		return ""
	}
	return append(n.Techniques(), "")[0]
}

// longAgo is when a piece that is still climbing is said to have waited, days.
const longAgo = 7

// why says in one clause why the piece has its turn.
func why(day repertoire.Day, c Candidate) string {
	switch {
	case c.Stage == Untouched && c.First != "":
		return "new, and " + c.First + " carries it"
	case c.Stage == Untouched:
		return "new, for few pieces are building"
	case c.Stage == Kept:
		return fmt.Sprintf("kept, played %s, due %s", ago(int(day-c.Last)), ago(int(day-c.Due)))
	case c.Stage == Slipped:
		return "slipped, " + whyClimbing(day, c)
	}
	return whyClimbing(day, c)
}

// whyClimbing says where a piece below its goal tempo stands.
func whyClimbing(day repertoire.Day, c Candidate) string {
	target := c.Target(c.Goal)
	switch since := int(day - c.Last); {
	case c.Clean == 0:
		return fmt.Sprintf("not clear yet, %s at %d", c.LastClarity, c.LastTempo)
	case since >= longAgo:
		return fmt.Sprintf("clean at %d, last played %s", c.Clean, ago(since))
	case target < c.Clean:
		return fmt.Sprintf("clean at %d but not steady, so %d first", c.Clean, target)
	case c.LastClarity < Clear && c.LastTempo > target:
		return fmt.Sprintf("%s at %d, so %d first", c.LastClarity, c.LastTempo, target)
	}
	if target <= c.LastTempo && target < c.Goal {
		return fmt.Sprintf("clean at %d, once more before %d", c.Clean, targetAt(c.Rung+perMark, c.Goal))
	}
	return fmt.Sprintf("clean at %d, %s to go", c.Clean, steps(c))
}

// WhyLeft says in one clause why the candidate has no turn on that day.
func WhyLeft(day repertoire.Day, c Candidate, d Denial) string {
	switch {
	case d == TooEarly && c.First != "":
		return "new, waits for " + c.First
	case d == TooEarly:
		return "new, waits for what comes first"
	case d == Crowded:
		return fmt.Sprintf("new, %s are building already", number(fewBuilding))
	case c.Stage == Untouched:
		return "new, the minutes ran out"
	case c.Stage == Kept:
		return fmt.Sprintf("due %s, the minutes ran out", ago(int(day-c.Due)))
	default:
		return fmt.Sprintf("%s to go, the minutes ran out", steps(c))
	}
}

// ago writes a day by its distance from today.
func ago(days int) string {
	switch days {
	case 0:
		return "today"
	case 1:
		return "yesterday"
	case -1:
		return "tomorrow"
	}
	if days < 0 {
		return fmt.Sprintf("in %d days", -days)
	}
	return fmt.Sprintf("%d days ago", days)
}

var numbers = []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// number writes small numbers as words.
func number(n int) string {
	if n >= 0 && n < len(numbers) {
		return numbers[n]
	}
	return fmt.Sprint(n)
}

func steps(c Candidate) string {
	if n := c.Steps(c.Goal); n != 1 {
		return number(n) + " steps"
	}
	return "one step"
}

// Days writes a count of days.
func Days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}
