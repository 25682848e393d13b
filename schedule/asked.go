package schedule

import (
	"iter"
	"slices"

	"dohra/repertoire"
)

// Asked plans each day from one to another, both included, as it was planned
// when it began: pieces are given as they stood when the first day began, plays
// are those of all the days, by day and, within a day, as they were logged. What
// was added later has no part in a day; concerts are taken as they now are.
func Asked(from, to repertoire.Day, c Calendar, oldPiece bool, concerts []Concert, pieces []Candidate, plays []Play) iter.Seq2[repertoire.Day, Plan] {
	return func(yield func(repertoire.Day, Plan) bool) {
		pieces := slices.Clone(pieces)
		at := make(map[int64]int, len(pieces))
		for i, p := range pieces {
			at[p.ID] = i
		}
		for day := from; day <= to; day++ {
			var there []Candidate
			for _, p := range pieces {
				if p.Added <= day {
					there = append(there, p)
				}
			}
			r := Rehearse(day, c, concerts, setAside(day, pieces))
			if !yield(day, r.plan(c, oldPiece, r.Minutes(c.Minutes(day)), there)) {
				return
			}
			for ; len(plays) > 0 && plays[0].Day == day; plays = plays[1:] {
				p := &pieces[at[plays[0].Piece]]
				p.Standing = p.Add(p.Goal, plays[0])
			}
		}
	}
}
