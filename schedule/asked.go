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
		for day := from; day <= to; day++ {
			r := Rehearse(day, c, concerts, setAside(day, pieces))
			if !yield(day, r.plan(c, oldPiece, r.Minutes(c.Minutes(day)), pieces)) {
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
