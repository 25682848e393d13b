package schedule

import (
	"math/rand/v2"
	"testing"

	"dohra/repertoire"
)

// An outlook minds a concert: its set has more turns until its day, and other
// pieces fewer; and afterwards each piece asks by its own goal again.
func TestOutlookKnowsOfConcerts(t *testing.T) {
	c := Concert{Name: "Spring", Day: today + 30, Minutes: 20}
	lived := func(days int, concerts ...Concert) (l *life, ofSet, others int) {
		a := ahead(days, 80, 15)[0]
		a.Concerts = concerts
		rng := rand.New(rand.NewPCG(1, 2))
		l = a.draw(rng, draws/2)
		l.live(rng, a.rehearsals(today+repertoire.Day(days)))
		for i, n := range l.sittings {
			if c.At(l.pieces[i].ID) >= 0 {
				ofSet += n
			} else {
				others += n
			}
		}
		return l, ofSet, others
	}
	for _, piece := range repertoireOf(80)[:8] {
		c.Set = append(c.Set, Place{Piece: piece.ID, Tempo: piece.Goal + 10})
	}
	_, ofSet, others := lived(30)
	if _, called, slid := lived(30, c); called < 2*ofSet || slid >= others {
		t.Errorf("%d turns of the set and %d others, without a concert %d and %d", called, slid, ofSet, others)
	}
	l, _, _ := lived(40, c)
	for i, claim := range l.claims {
		if claim.Goal != l.pieces[i].Goal {
			t.Errorf("long after the concert piece %d is worked for at %d", claim.Piece, claim.Goal)
		}
	}
	with := ahead(40, 80, 15, 15)
	with[0].Concerts = []Concert{c}
	if o := LookAhead(with, noTick); o[0] == o[1] {
		t.Errorf("the outlook is the same without it: %+v", o[0])
	}
}
