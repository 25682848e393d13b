package schedule

import (
	"math"
	"slices"
)

// foremost returns the claims of which Choose may take some for a day of that
// many minutes, and leaves out the others, so that many days can be planned in
// no time. A day has so many turns at most; the best of each of the rows from
// which they are taken will do, and all that are new or called by a concert. few
// is used again.
func (r Rehearsal) foremost(minutes int, claims, few []Claim) []Claim {
	day, calls := r.Day, len(r.calls) > 0
	n := max(minutes/ShortestTurn+2, fewBuilding)
	keep, climb, early, longest, spare := newRow(n), newRow(n), newRow(n), newRow(n), newRow(Framing)
	wanted := make([]bool, len(claims))
	for i := range claims {
		c := &claims[i]
		switch {
		case c.Stage == Untouched || c.Place || calls && r.Has(c.Piece):
			wanted[i] = true
			continue
		case c.Wants > day && c.Away == 0:
			if c.Stage == Kept {
				spare.put(float64(c.Wants), i)
			}
			continue
		case !c.asks(day):
			early.put(-c.worth(day), i)
			continue
		case c.climbs():
			climb.put(-c.worth(day), i)
		default:
			keep.put(-c.worth(day), i)
		}
		longest.put(float64(c.Last), i)
	}
	for _, row := range []row{keep, climb, early, longest, spare} {
		for _, i := range row.at {
			wanted[i] = true
		}
	}
	few = few[:0]
	for i := range claims {
		if wanted[i] {
			few = append(few, claims[i])
		}
	}
	return few
}

// A row holds the places of the n least keys, the first of equal ones.
type row struct {
	keys []float64
	at   []int
}

func newRow(n int) row {
	r := row{make([]float64, n), make([]int, 0, n)}
	for i := range r.keys {
		r.keys[i] = math.Inf(1)
	}
	return r
}

func (r *row) put(key float64, at int) {
	n := len(r.keys)
	if key >= r.keys[n-1] {
		return
	}
	i := n - 1
	for i > 0 && r.keys[i-1] > key {
		r.keys[i] = r.keys[i-1]
		i--
	}
	r.keys[i] = key
	r.at = slices.Insert(r.at, i, at)
	r.at = r.at[:min(len(r.at), n)]
}
