package schedule

import (
	"math"
	"sort"

	"dohra/repertoire"
)

// The ladder is the row of tempos on which targets stand: the marks of the
// traditional metronome, each about 4 per cent above the last. The target is
// the mark where the player is believed to succeed with 85 per cent, where
// learning was found fastest: R. C. Wilson et al., "The Eighty Five Percent
// Rule for optimal learning", Nature Communications 10:4646, 2019.

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

// markBelow returns the index of the highest mark that is not above tempo,
// 20 to 400 matras/min.
func markBelow(tempo int) int { return sort.SearchInts(marks, tempo+1) - 1 }

// slower returns the mark n marks below tempo, in matras/min, at least 20.
func slower(tempo, n int) int {
	i := markBelow(tempo)
	if marks[i] < tempo {
		n--
	}
	return marks[max(0, i-n)]
}

// nearestMark returns the mark nearest to a ln tempo, never above goal.
func nearestMark(ln float64, goal int) int {
	tempo := tempoAt(ln)
	if tempo >= goal {
		return goal
	}
	i := markBelow(tempo)
	if i+1 < len(marks) && math.Exp(2*ln) > float64(marks[i]*marks[i+1]) {
		i++
	}
	return min(marks[i], goal)
}

// stepsBetween counts the marks from one tempo up to another, the goal itself
// being the last mark even when it stands between two.
func stepsBetween(tempo, goal int) int {
	if tempo >= goal {
		return 0
	}
	return sort.SearchInts(marks, goal) - markBelow(tempo)
}
