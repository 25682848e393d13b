package schedule

import (
	"sort"

	"dohra/repertoire"
)

// The ladder is the row of tempos on which targets stand: the marks of the
// traditional metronome, each about 4 per cent above the last. A piece climbs
// it in a weighted up-down staircase, which settles where the player succeeds
// with probability p when
//
//	step up · p = step down · (1-p)
//
// (C. Kaernbach, "Simple adaptive testing with the weighted up-down method",
// Perception & Psychophysics 49, 1991; from memory). p is set to 85 per cent,
// where learning was found fastest: R. C. Wilson et al., "The Eighty Five
// Percent Rule for optimal learning", Nature Communications 10:4646, 2019.

// marks are the tempos of the ladder in matras/min. From 40 to 208 they are the
// traditional scale: 40-60 by 2, 60-72 by 3, 72-120 by 4, 120-144 by 6,
// 144-208 by 8. Below, the first step is continued; above, whole numbers about
// 4 per cent apart.
var marks = makeMarks()

func makeMarks() []int {
	var marks []int
	for _, part := range []struct{ from, below, by int }{
		{repertoire.MinTempo, 60, 2}, {60, 72, 3}, {72, 120, 4}, {120, 144, 6}, {144, 208, 8},
	} {
		for t := part.from; t < part.below; t += part.by {
			marks = append(marks, t)
		}
	}
	for t := 208; t < repertoire.MaxTempo; t += (t + 12) / 25 {
		marks = append(marks, t)
	}
	return append(marks, repertoire.MaxTempo)
}

// A rung is a place on the ladder, in sixths of the way from one mark to the
// next; rung 6·i is mark i.
type rung = int

const perMark rung = 6

// The steps of the staircase. Until the first play that was not clear, the
// player's edge is unknown and a clear play climbs a whole mark. After it, with
// one clear play in three effortless, the mean step up is 2 2/3 sixths, and
// 2 2/3 · 0.85 = 15 · 0.15. The step down is two and a half marks, about a
// tenth of the tempo.
const (
	searchUp = perMark
	stepUp   = 2
	stepDown = 15
)

// markBelow returns the index of the highest mark that is not above tempo,
// 20 to 400 matras/min.
func markBelow(tempo int) int { return sort.SearchInts(marks, tempo+1) - 1 }

func rungOf(tempo int) rung { return markBelow(tempo) * perMark }

// slower returns the mark n marks below tempo, in matras/min, at least 20.
func slower(tempo, n int) int {
	i := markBelow(tempo)
	if marks[i] < tempo {
		n--
	}
	return marks[max(0, i-n)]
}

// targetAt returns the tempo of a rung: its mark, never above goal.
func targetAt(r rung, goal int) int { return min(marks[r/perMark], goal) }

// topRung is the first rung whose target is the goal.
func topRung(goal int) rung { return sort.SearchInts(marks, goal) * perMark }

// stepsBetween counts the marks from one tempo up to another, the goal itself
// being the last mark even when it stands between two.
func stepsBetween(tempo, goal int) int {
	if tempo >= goal {
		return 0
	}
	return (topRung(goal) - rungOf(tempo)) / perMark
}

// climb returns the rung after a play at tempo that sounded q, and whether the
// player's edge has been found. A clear play below the target shows nothing
// new; an unclear one above it was overreach, and shows nothing either.
func climb(at rung, found bool, goal, tempo int, q Clarity) (rung, bool) {
	target := targetAt(at, goal)
	switch {
	case q >= Clear && tempo >= target:
		up := stepUp
		if !found {
			up = searchUp
		}
		if q == Effortless {
			up *= 2
		}
		return min(max(at, rungOf(tempo))+up, topRung(goal)), found
	case q < Clear && tempo <= target:
		return max(0, min(at, rungOf(tempo))-stepDown), true
	}
	return at, found
}
