package schedule

import (
	"fmt"
	"slices"

	"dohra/repertoire"
)

// A Candidate is a piece as a day's plan sees it: with its standing when the
// day began.
type Candidate struct {
	repertoire.Piece
	Standing
	First string         // the title of the piece that must come first, or ""
	Begun repertoire.Day // its first play, be it of a line or spoken, where it was added later; or zero
	Away  int            // as in its Claim
}

// There reports whether the piece was in the repertoire when the day began: it
// was added until then, or it had been played, as a piece out of an old notebook.
func (c Candidate) There(day repertoire.Day) bool {
	return c.Added <= day || c.Begun != 0 && c.Begun < day
}

// Awake reports whether the piece may have a turn on the day: it was there, and
// does not rest.
func (c Candidate) Awake(day repertoire.Day) bool { return c.There(day) && !c.Rests(day) }

// Awake returns the pieces that may have a turn on the day.
func Awake(day repertoire.Day, pieces []Candidate) []Candidate {
	return slices.DeleteFunc(slices.Clone(pieces), func(c Candidate) bool { return !c.Awake(day) })
}

// restingLast returns the pieces with those that rest on the day after the n
// others, of which none comes to rest: what will be set aside nobody knows.
func restingLast(day repertoire.Day, pieces []Candidate) (all []Candidate, n int) {
	all = Awake(day, pieces)
	n = len(all)
	for i := range all {
		all[i].Resting = repertoire.Never
	}
	for _, c := range pieces {
		if !c.Awake(day) {
			all = append(all, c)
		}
	}
	return all, n
}

// Claim returns what the candidate asks of a day. waits says that the piece
// that must come first does not carry it yet.
func (c Candidate) Claim(waits bool) Claim {
	return Claim{
		Piece: c.ID, Stage: c.Stage, Wants: c.Wants(c.Goal), Due: c.Due, Last: c.Last, Goal: c.Goal,
		Least: c.Least(), Waits: waits, Belief: c.Belief,
	}
}

// hear adds a play of the piece, or an echo of one.
func (c *Candidate) hear(p Play) {
	c.Standing = c.Add(c.Goal, p)
	if p.Share == 0 && c.Begun == 0 && p.Day < c.Added {
		c.Begun = p.Day
	}
}

// A Turn is one row of a day's plan.
type Turn struct {
	Candidate
	Begin   int // tempo to begin at, matras/min
	Target  int // tempo to reach, matras/min
	Minutes int
	Why     string // one clause
	Spoken  bool   // and not played
	Run     bool   // of a run-through of a whole set

	stage     Stage  // on the day
	steps     int    // marks from the clean tempo to the goal, on the day
	technique string // what it exercises most, or ""
	densest   int    // strokes of its fullest matra, 0 where not known
	spared    bool   // slowed, for it would be fast
}

// LeftOut is a piece that has no turn, and why, in one clause.
type LeftOut struct {
	Candidate
	Why string
}

// A Plan is what a day holds: turns in the order in which to play them, and
// what was due or new but has no turn.
type Plan struct {
	Turns  []Turn
	Left   []LeftOut
	Behind Backlog
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
// standings were when the day began; what was not there yet has no part in it. It is Choose, Arrange and WhyLeft in one,
// for a repertoire held in memory.
func PlanDay(day repertoire.Day, minutes int, all []Candidate) Plan {
	return Rehearsal{Day: day}.PlanDay(minutes, all)
}

// PlanDay plans the day as the function PlanDay does, with what concerts ask.
func (r Rehearsal) PlanDay(minutes int, all []Candidate) Plan {
	return r.plan(Calendar{}, false, minutes, all)
}

// plan is PlanDay, with what absences and the old piece ask; see Prepare.
func (r Rehearsal) plan(calendar Calendar, oldPiece bool, minutes int, all []Candidate) Plan {
	day := r.Day
	at := make(map[int64]int, len(all))
	for i, c := range all {
		at[c.ID] = i
	}
	r = r.Settle(minutes, among(all, at))
	claims := make([]Claim, 0, len(all))
	daily := Load(0)
	for i := range all {
		if c := &all[i]; c.Awake(day) {
			daily += c.Daily()
			first, waits := at[c.After]
			claims = append(claims, r.Claim(*c, waits && !all[first].Carries(day, all[first].Goal)))
		}
	}
	r.Prepare(calendar, oldPiece, claims)
	taken, denied := r.Choose(minutes, claims)
	chosen := make([]Candidate, len(taken))
	for i, c := range taken {
		chosen[i] = all[at[c.Piece]]
		chosen[i].Away = c.Away
	}
	plan := Plan{Turns: r.Arrange(minutes, chosen), Behind: BacklogOf(day, taken, denied, daily)}
	plan.Left = make([]LeftOut, len(denied))
	for i, d := range denied {
		c := all[at[d.Piece]]
		plan.Left[i] = LeftOut{c, WhyLeft(day, c, d.Denial)}
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
			Candidate: c, Begin: c.Begin(day, c.Goal), Target: c.Target(day, c.Goal),
			Minutes: min(c.Least(), minutes), Why: why(day, c), stage: c.StageOn(day, c.Goal), steps: c.Steps(day, c.Goal), technique: technique(c.Bols), densest: densest(c.Bols),
		}
		if c.Stage == Untouched {
			turns[i].Begin = slower(turns[i].Target, findBy)
		}
		minutes -= turns[i].Minutes
	}
	spare := stretch(turns, minutes, func(t Turn) bool { return t.stage != Kept })
	stretch(turns, spare, func(t Turn) bool { return t.stage == Kept })
	return order(turns)
}

// stretch gives the spare minutes one by one to the turns that want them, in
// order, round after round, and returns those that none wanted.
func stretch(turns []Turn, spare int, wants func(Turn) bool) int {
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
	return spare
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
	switch c.StageOn(day, c.Goal) {
	case Untouched:
		if c.First != "" {
			return "new, and " + c.First + " carries it"
		}
		return "new, for few pieces are building"
	case Kept:
		if c.Away > 0 {
			return "kept, and would fade below its goal while you are away"
		}
		if c.Target(day, c.Goal) < c.Goal || c.Due > day && c.Wants(c.Goal) <= day {
			clean, doubt := c.CleanOn(day)
			return fmt.Sprintf("kept, clean at %d +- %d by now, due %s", clean, doubt, ago(int(day-c.Due)))
		}
		return fmt.Sprintf("kept, played %s, due %s", ago(int(day-c.Last)), ago(int(day-c.Due)))
	case Slipped:
		return "slipped, " + whyClimbing(day, c)
	}
	return whyClimbing(day, c)
}

// whyClimbing says where a piece below its goal tempo stands.
func whyClimbing(day repertoire.Day, c Candidate) string {
	clean, _ := c.CleanOn(day)
	target := c.Target(day, c.Goal)
	switch since := int(day - c.Last); {
	case since >= longAgo:
		return fmt.Sprintf("clean at %d by now, last played %s", clean, ago(since))
	case c.LastClarity < Clear && 10*c.LastTempo < 8*c.Start:
		return fmt.Sprintf("%s even at %d: take one line of it, or ask a teacher", c.LastClarity, c.LastTempo)
	case c.LastClarity < Clear && target < c.LastTempo:
		return fmt.Sprintf("%s at %d, so %d first", c.LastClarity, c.LastTempo, target)
	}
	return fmt.Sprintf("clean at %d, %s to go", clean, steps(day, c))
}

// WhyLeft says in one clause why the candidate has no turn on that day.
func WhyLeft(day repertoire.Day, c Candidate, d Denial) string {
	switch {
	case d == TooEarly && c.First != "":
		return "new, waits for " + c.First
	case d == TooEarly:
		return "new, waits for what comes first"
	case d == NearConcert:
		return "new, and a concert is near"
	case d == Crowded:
		return fmt.Sprintf("new, %s are building already", number(fewBuilding))
	case c.Stage == Untouched:
		return "new, the minutes ran out"
	case c.StageOn(day, c.Goal) == Kept:
		return fmt.Sprintf("due %s, the minutes ran out", ago(int(day-c.Due)))
	case c.StageOn(day, c.Goal) == Slipped:
		clean, _ := c.CleanOn(day)
		return fmt.Sprintf("slipped, clean at %d by now, the minutes ran out", clean)
	default:
		return fmt.Sprintf("%s to go, the minutes ran out", steps(day, c))
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

func steps(day repertoire.Day, c Candidate) string {
	if n := c.Steps(day, c.Goal); n != 1 {
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
