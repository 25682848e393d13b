package schedule

import (
	"iter"

	"dohra/repertoire"
)

// Days plans each day until the concert, that day included, as it comes if the
// player plays on every day that has minutes and is in all else the middle of
// what is believed of them: how well the pieces stand, how fast they learn. So
// the plan promises no more than the readiness does. Pieces are given as they
// stand when the first day begins.
func (p Prospect) Days() iter.Seq2[repertoire.Day, Plan] {
	return func(yield func(repertoire.Day, Plan) bool) {
		l := p.draw(func() float64 { return 0 }, p.Pieces)
		for day := p.From; day <= p.Concert.Day; day++ {
			r := p.Rehearsal(day)
			plan := r.plan(p.Calendar, p.OldPiece, r.Minutes(p.Calendar.Minutes(day)), l.pieces)
			if !yield(day, plan) {
				return
			}
			for _, t := range plan.Turns {
				l.play(l.at[t.ID], day, t.Target, 0)
			}
		}
	}
}
