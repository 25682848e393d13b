package schedule

import (
	"cmp"
	"slices"

	"dohra/repertoire"
)

// Who plays today. Pieces are ranked once, whatever the minutes; a day takes
// them from the top while their minutes fit. So more minutes add pieces and
// never drop one, and fewer keep the most valuable.

// A Claim is what one piece that is not resting asks of a day: all that ranking
// looks at.
type Claim struct {
	Piece    int64
	Stage    Stage
	Due      repertoire.Day
	Last     repertoire.Day
	Interval int  // days, of a kept piece
	Steps    int  // marks from the clean tempo to the goal
	Least    int  // minutes of its turn, at least
	Waits    bool // what must come first does not carry it yet
}

// A Denial says why a claim has no turn.
type Denial int

const (
	NoTime   Denial = iota // the minutes ran out
	Crowded                // new, and enough pieces are building
	TooEarly               // new, and what must come first does not carry it yet
)

// Denied is a claim that has no turn.
type Denied struct {
	Claim
	Denial
}

// fewBuilding is how many pieces may be building before new ones have to wait
// (common practice, no source).
const fewBuilding = 4

// Choose divides the claims of a day of that many minutes: taken in order of
// value, and denied in the order in which they would have come next. Of the
// kept pieces that are not due, a few may be taken; none is denied.
func Choose(day repertoire.Day, minutes int, claims []Claim) (taken []Claim, denied []Denied) {
	ranked, late := rank(day, claims)
	n := 0
	for n < len(ranked) && ranked[n].Least <= minutes {
		minutes -= ranked[n].Least
		n++
	}
	denied = make([]Denied, 0, len(ranked)-n+len(late))
	for _, c := range ranked[n:] {
		if c.Stage == Untouched || c.Due <= day {
			denied = append(denied, Denied{c, NoTime})
		}
	}
	return ranked[:n], append(denied, late...)
}

// rank returns the claims in order of value, and the new pieces that may not
// enter yet.
func rank(day repertoire.Day, claims []Claim) (ranked []Claim, late []Denied) {
	var keep, early, climb, fresh []Claim
	building := 0
	for _, c := range claims {
		if c.Stage == Building {
			building++
		}
		switch due := c.Due <= day; {
		case c.Stage == Untouched:
			fresh = append(fresh, c)
		case c.Stage == Kept && due:
			keep = append(keep, c)
		case c.Stage == Kept:
			early = append(early, c)
		case due:
			climb = append(climb, c)
		}
	}
	entering, late := admit(fresh, building)
	ranked = interleave(rankKept(day, keep), append(rankClimbing(climb), entering...))
	return append(ranked, soonest(early, Framing-len(keep))...), late
}

// admit lets new pieces enter, in the order in which they came, while few are
// building and what they come after carries them.
func admit(fresh []Claim, building int) (entering []Claim, late []Denied) {
	for _, c := range sortedBy(fresh, func(Claim) int64 { return 0 }) {
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

// interleave gives half of the minutes to what is kept and half to what climbs,
// the first to what is kept, for its turns are short.
func interleave(keep, climb []Claim) []Claim {
	ranked := make([]Claim, 0, len(keep)+len(climb))
	holding, climbing := 0, 0 // minutes given to each
	for len(keep) > 0 || len(climb) > 0 {
		from, spent := &climb, &climbing
		if len(climb) == 0 || len(keep) > 0 && holding <= climbing {
			from, spent = &keep, &holding
		}
		*spent += (*from)[0].Least
		ranked = append(ranked, (*from)[0])
		*from = (*from)[1:]
	}
	return ranked
}

// Framing is how many kept pieces a day wants: one to warm up, one to end. When
// fewer are due and there is time, the next to come due are played early.
const Framing = 2

// soonest returns the n claims that come due first.
func soonest(claims []Claim, n int) []Claim {
	if n <= 0 {
		return nil
	}
	claims = sortedBy(claims, func(c Claim) int64 { return int64(c.Due) })
	return claims[:min(len(claims), n)]
}

// rankClimbing puts what slipped first, then what has the fewest steps to go,
// then what has waited longest: what is nearly there is finished before more
// is begun.
func rankClimbing(climb []Claim) []Claim {
	return sortedBy(climb, func(c Claim) int64 {
		return int64(Slipped-c.Stage)<<48 | int64(c.Steps)<<36 | int64(c.Last+1<<35)
	})
}

// rankKept puts first what has lapsed least, counted in its own intervals: when
// there is not time for all, a piece just due is saved by one turn, and one
// long lost is not saved at all. But every third turn goes to the piece that
// has waited longest past its day, so none is left for ever.
func rankKept(day repertoire.Day, kept []Claim) []Claim {
	fading := sortedBy(kept, func(c Claim) int64 { return int64(day-c.Due) << 20 / int64(max(1, c.Interval)) })
	waiting := sortedBy(kept, func(c Claim) int64 { return int64(c.Due) })
	ranked := make([]Claim, 0, len(kept))
	seen := make(map[int64]bool, len(kept))
	for len(ranked) < len(kept) {
		from := &fading
		if len(ranked)%3 == 2 {
			from = &waiting
		}
		next := (*from)[0]
		*from = (*from)[1:]
		if !seen[next.Piece] {
			seen[next.Piece] = true
			ranked = append(ranked, next)
		}
	}
	return ranked
}

// sortedBy returns the claims from the least key to the greatest, equal ones by
// piece. It sorts keys and places, not claims, for there may be many.
func sortedBy(claims []Claim, key func(Claim) int64) []Claim {
	type place struct{ key, piece, at int64 }
	places := make([]place, len(claims))
	for i, c := range claims {
		places[i] = place{key(c), c.Piece, int64(i)}
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
