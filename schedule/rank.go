package schedule

import (
	"cmp"
	"math"
	"slices"

	"dohra/repertoire"
)

// Who plays today. Pieces are ranked once, whatever the minutes; a day takes
// them from the top while their minutes fit. So more minutes add pieces and
// never drop one, and fewer keep the most valuable.

// A Claim is what one piece that is not resting asks of a day: all that ranking
// looks at.
type Claim struct {
	Piece  int64
	Stage  Stage          // as its plays left it
	Wants  repertoire.Day // see Standing.Wants
	Due    repertoire.Day // by its interval
	Last   repertoire.Day // the last play
	Goal   int            // matras/min
	Least  int            // minutes of its turn, at least
	Waits  bool           // what must come first does not carry it yet
	Place  bool           // it has the standing place; see KeepPlace
	Away   int            // days until the return from an absence; see BeforeAway
	Belief                // as its plays left it
}

// A Denial says why a claim has no turn.
type Denial int

const (
	NoTime      Denial = iota // the minutes ran out
	Crowded                   // new, and enough pieces are building
	TooEarly                  // new, and what must come first does not carry it yet
	NearConcert               // new, and a concert is near
)

// Denied is a claim that has no turn.
type Denied struct {
	Claim
	Denial
}

// shortened is how many minutes may be cut from the last turn of a day to make
// it fit (our choice). The first is cut to what there is, or one long piece
// would leave a short day empty. No turn is shorter than ShortestTurn.
const shortened = 2

// Choose divides the claims of a day of that many minutes: taken in order of
// value, and denied in the order in which they would have come next. Kept
// pieces that are not due may be taken when there is time; none is denied.
func Choose(day repertoire.Day, minutes int, claims []Claim) (taken []Claim, denied []Denied) {
	ranked, late := rank(day, claims)
	ranked = placed(ranked)
	n := 0
	for n < len(ranked) && minutes >= ShortestTurn && (n == 0 || ranked[n].Least <= minutes+shortened) {
		minutes -= ranked[n].Least
		n++
	}
	denied = make([]Denied, 0, len(ranked)-n+len(late))
	for _, c := range ranked[n:] {
		if c.asks(day) {
			denied = append(denied, Denied{c, NoTime})
		}
	}
	return ranked[:n], append(denied, late...)
}

// asks reports whether the piece is to be played on that day: it is new, or
// due, or believed to have slipped.
func (c Claim) asks(day repertoire.Day) bool {
	return c.Stage == Untouched || c.Away > 0 || c.Due <= day || c.stageOn(day) == Slipped
}

func (c Claim) stageOn(day repertoire.Day) Stage { return stageOn(c.Stage, c.Belief, day, c.Goal) }

// climbs reports whether the piece has never been kept.
func (c Claim) climbs() bool { return c.Stage == Untouched || c.Stage == Building }

// rank returns the claims in order of value, and the new pieces that may not
// enter yet. First comes all that asks, then the kept pieces that may have
// faded before their day, and a few more to frame the day.
func rank(day repertoire.Day, claims []Claim) (ranked []Claim, late []Denied) {
	asking := make([]Claim, 0, len(claims))
	var early, spare, fresh []Claim
	building := 0
	for _, c := range claims {
		if c.Stage == Building {
			building++
		}
		switch {
		case c.Stage == Untouched:
			fresh = append(fresh, c)
		case c.asks(day):
			asking = append(asking, c)
		case c.Stage == Kept && c.Wants <= day:
			early = append(early, c)
		case c.Stage == Kept:
			spare = append(spare, c)
		}
	}
	entering, late := admit(day, fresh, building)
	keep, _ := part(asking)
	ranked = append(mix(day, append(asking, entering...)), byWorth(day, early)...)
	return append(ranked, soonest(spare, Framing-len(keep)-len(early))...), late
}

// Framing is how many kept pieces a day wants: one to warm up, one to end. When
// fewer are due and there is time, others are played early.
const Framing = 2

// soonest returns the n claims that will want a turn first.
func soonest(claims []Claim, n int) []Claim {
	if n <= 0 {
		return nil
	}
	claims = sortedBy(claims, func(c Claim) float64 { return float64(c.Wants) })
	return claims[:min(len(claims), n)]
}

// fewBuilding is how many pieces may be building before new ones have to wait:
// as many as half an hour holds (our choice).
const fewBuilding = 6

// admit lets new pieces enter, the shortest way to the goal first, while few are
// building and what they come after carries them.
func admit(day repertoire.Day, fresh []Claim, building int) (entering []Claim, late []Denied) {
	for _, c := range byWorth(day, fresh) {
		switch {
		case c.Waits:
			late = append(late, Denied{c, TooEarly})
		case building >= fewBuilding:
			late = append(late, Denied{c, Crowded})
		default:
			building++
			entering = append(entering, c)
		}
	}
	return entering, late
}

// Visits is the bound on neglect: every fifth turn goes to the piece that was
// left alone longest, of those that ask for one. Of n such pieces each is
// visited within 5·n turns and some thirty more, however little it seems worth;
// and looking is how a wrong belief is found out.
const Visits = 5

// visit returns at which place of the first five of a day that turn stands. It
// moves on from day to day by the golden ratio, so that days of one turn have
// their share, and practice on every fifth day has it as well as daily practice.
func visit(day repertoire.Day) int {
	_, part := math.Modf(float64(day) * math.Phi)
	if part < 0 {
		part++
	}
	return int(Visits * part)
}

// leastShare is the part of the minutes that what was kept, and what climbs,
// has at least while it asks for them (our choice).
const leastShare = 0.25

// mix ranks by worth, with a turn for what was left alone longest now and then,
// and neither side without its share.
func mix(day repertoire.Day, claims []Claim) []Claim {
	best := byWorth(day, claims)
	longest := sortedBy(claims, func(c Claim) float64 { return float64(c.Last) })
	longest = slices.DeleteFunc(longest, func(c Claim) bool { return c.Stage == Untouched })
	keep, climb := part(best)

	ranked := make([]Claim, 0, len(claims))
	taken := make(map[int64]bool, len(claims))
	kept, climbed := 0, 0 // minutes given to each
	for len(ranked) < len(claims) {
		best, longest, keep, climb = untaken(best, taken), untaken(longest, taken), untaken(keep, taken), untaken(climb, taken)
		least := leastShare * float64(kept+climbed)
		both := len(keep) > 0 && len(climb) > 0
		from := best
		switch {
		case len(longest) > 0 && len(ranked)%Visits == visit(day):
			from = longest
		case both && float64(kept) < least:
			from = keep
		case both && float64(climbed) < least:
			from = climb
		}
		c := from[0]
		taken[c.Piece] = true
		ranked = append(ranked, c)
		if c.climbs() {
			climbed += c.Least
		} else {
			kept += c.Least
		}
	}
	return ranked
}

// part divides claims into those that were kept and those that climb.
func part(claims []Claim) (keep, climb []Claim) {
	for _, c := range claims {
		if c.climbs() {
			climb = append(climb, c)
		} else {
			keep = append(keep, c)
		}
	}
	return keep, climb
}

// untaken returns the claims from the first that is not taken yet.
func untaken(claims []Claim, taken map[int64]bool) []Claim {
	for len(claims) > 0 && taken[claims[0].Piece] {
		claims = claims[1:]
	}
	return claims
}

// The figures of worth: our choice; see DEVELOPERS.md for others.
const (
	sure     = 0.4 // a piece that is lost with less chance than this is not worth a turn yet
	regained = 0.1 // ln tempo that a play brings back of what was lost, to count plays by
)

// worth returns the ready days that a minute spent on the piece buys, near
// enough to rank by: the days that it will stay within reach of its goal once it
// is there, by how far it is likelier lost than is to be borne, over the minutes
// of the plays it takes to bring it there. Least lapsed goes before long lost,
// what holds long before what fades fast, and what is nearly there before what
// is far. For a piece that comes back in one play this is the index of a restless
// bandit (P. Whittle, "Restless bandits", J. Appl. Probab. 25A, 1988; from
// memory) when it is lost all at once.
func (c Claim) worth(day repertoire.Day) float64 {
	edge, doubt := c.on(day + repertoire.Day(c.Away))
	goal := lnOf(c.Goal)
	missing := cumulative((goal - within - edge) / doubt)
	plays := 1 + c.climb(edge, goal)
	return c.stays(c.Goal) * (missing - sure) / (plays * float64(c.Least))
}

// climb returns about how many plays lead from an edge to a goal, both ln tempo:
// what was once known comes back faster than what is new.
func (b Belief) climb(edge, goal float64) float64 {
	return max(0, min(b.Peak, goal)-edge)/regained + max(0, goal-max(b.Peak, edge))/learned
}

// stays returns how many days the piece will stay within reach of its goal once
// it is there.
func (b Belief) stays(goal int) float64 {
	reserve := max(b.Peak-lnOf(goal), even) + within
	return min(lasts(reserve, math.Exp(b.Hold)), longest)
}

func byWorth(day repertoire.Day, claims []Claim) []Claim {
	return sortedBy(claims, func(c Claim) float64 { return -c.worth(day) })
}

// sortedBy returns the claims from the least key to the greatest, equal ones by
// piece. It sorts keys and places, not claims, for there may be many.
func sortedBy(claims []Claim, key func(Claim) float64) []Claim {
	type place struct {
		key   float64
		piece int64
		at    int
	}
	places := make([]place, len(claims))
	for i, c := range claims {
		places[i] = place{key(c), c.Piece, i}
	}
	slices.SortFunc(places, func(a, b place) int {
		if a.key != b.key {
			return cmp.Compare(a.key, b.key)
		}
		return cmp.Compare(a.piece, b.piece)
	})
	sorted := make([]Claim, len(places))
	for i, p := range places {
		sorted[i] = claims[p.at]
	}
	return sorted
}
