package schedule

import (
	"fmt"
	"slices"
)

// How a set flows. What is customary in a solo is common practice, no source:
// slow before fast, kinds in their order, a tihai at the end of its kaida. It is
// advice: the player decides.

// How many per cent faster the next piece may be, or slower, before it is worth a
// word (our choice).
const (
	bigStep  = 50
	stepDown = 10
)

// Flow returns what there is to say of a running order, a sentence each.
func (c Concert) Flow(items []Item, pieces map[int64]Candidate) (remarks []string) {
	for i, now := range items {
		if len(c.Talas) > 0 && !slices.Contains(c.Talas, now.Of.Tala) {
			remarks = append(remarks, fmt.Sprintf("%s is in %s, which is not a tala of this concert.", now.Of.Title, now.Of.Tala))
		}
		if i > 0 {
			remarks = append(remarks, between(items[i-1], now, pieces)...)
		}
		if now.Of.Kind == "tihai" {
			remarks = append(remarks, closes(items, i, pieces)...)
		}
	}
	return remarks
}

// between compares two neighbours.
func between(last, now Item, pieces map[int64]Candidate) (remarks []string) {
	if last.Of.Tala != now.Of.Tala {
		return []string{fmt.Sprintf("The tala changes from %s to %s before %s.", last.Of.Tala, now.Of.Tala, now.Of.Title)}
	}
	family := root(last.Piece, pieces) == root(now.Piece, pieces)
	if !family && last.Of.Kind != "tihai" && now.Of.Kind.Order() < last.Of.Kind.Order() {
		remarks = append(remarks, fmt.Sprintf("%s: a %s commonly comes before a %s.", now.Of.Title, now.Of.Kind, last.Of.Kind))
	}
	switch faster := 100*now.Tempo/last.Tempo - 100; {
	case !family && 100*now.Tempo <= (100-stepDown)*last.Tempo: // within a family each has its own tempo
		remarks = append(remarks, fmt.Sprintf("%s at %d is slower than what it follows, at %d.", now.Of.Title, now.Tempo, last.Tempo))
	case faster >= bigStep:
		remarks = append(remarks, fmt.Sprintf("%s at %d is %d %% faster than what it follows: a big step.", now.Of.Title, now.Tempo, faster))
	}
	return remarks
}

// closes tells of a tihai that does not stand at the end of its family.
func closes(items []Item, at int, pieces map[int64]Candidate) []string {
	tihai := items[at]
	family := -1
	for i, other := range items {
		if other.Of.Kind != "tihai" && root(other.Piece, pieces) == root(tihai.Piece, pieces) {
			family = i
		}
	}
	before := at - 1
	for before >= 0 && items[before].Of.Kind == "tihai" {
		before--
	}
	switch {
	case family < 0 && tihai.Of.After != 0:
		return []string{fmt.Sprintf("%s closes nothing here: %s is not in the set.", tihai.Of.Title, pieces[tihai.Of.After].Title)}
	case family < 0 || family == before:
		return nil
	}
	return []string{fmt.Sprintf("%s would close %s, but does not follow it.", tihai.Of.Title, items[family].Of.Title)}
}
