package schedule

import (
	"iter"
	"maps"
	"slices"

	"dohra/repertoire"
)

// Asked plans each day from one to another, both included, as it was planned
// when it began: pieces are given as they stood when the first day began, and
// with each of them what it heard on these days, its own plays and its echoes, in
// the order in which they count. Concerts are taken as they now are.
func Asked(from, to repertoire.Day, c Calendar, oldPiece bool, concerts []Concert, pieces []Candidate, heard map[int64][]Play) iter.Seq2[repertoire.Day, Plan] {
	return func(yield func(repertoire.Day, Plan) bool) {
		pieces, heard := slices.Clone(pieces), maps.Clone(heard)
		at := make(map[int64]int, len(pieces))
		for i, p := range pieces {
			at[p.ID] = i
		}
		for day := from; day <= to; day++ {
			awake := func(piece int64) bool { i, known := at[piece]; return known && pieces[i].Awake(day) }
			var sets []Concert
			for _, concert := range concerts {
				sets = append(sets, concert.With(awake))
			}
			r := Rehearse(day, c, sets)
			ready := func(claims []Claim) {
				c.BeforeAway(day, claims)
				if oldPiece && !r.Light() {
					KeepPlace(day, claims)
				}
			}
			if !yield(day, r.plan(r.Minutes(c.Minutes(day)), pieces, ready)) {
				return
			}
			for i := range pieces {
				p := &pieces[i]
				plays := heard[p.ID]
				for ; len(plays) > 0 && plays[0].Day == day; plays = plays[1:] {
					p.hear(plays[0])
				}
				heard[p.ID] = plays
			}
		}
	}
}
