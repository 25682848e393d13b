package schedule

import (
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

// A future is the plan itself: what a life takes of a day, and at which tempos, is
// what the plan of that day has, whatever concerts, absences, resting pieces and
// the old piece's place make of it.
func TestADayOfALifeIsThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Future{From: today, Calendar: everyDay(rapid.IntRange(2, 120).Draw(t, "minutes")), OldPiece: rapid.Bool().Draw(t, "old piece"), Pieces: anyRepertoire(t)}
		if rapid.Bool().Draw(t, "concert") {
			f.Concerts = []Concert{anyConcert(t, f.Pieces)}
		}
		if rapid.Bool().Draw(t, "away") {
			from := today + repertoire.Day(rapid.IntRange(-12, lead).Draw(t, "from"))
			to := from + repertoire.Day(rapid.IntRange(0, 60).Draw(t, "for"))
			f.Calendar.Absences = []Absence{{from, to}}
		}
		r := f.Rehearsal(today)
		minutes := r.Minutes(f.Calendar.Minutes(today))
		if minutes == 0 {
			t.Skip()
		}
		want := map[int64]int{}
		for _, turn := range r.plan(f.Calendar, f.OldPiece, minutes, f.Pieces).Turns {
			want[turn.ID] = turn.Target
		}
		l := f.newLife(nil, f.Pieces, func(c Candidate) Belief { return c.Belief })
		r = r.Settle(minutes, among(l.pieces, l.at))
		taken := l.choose(r, minutes)
		if len(taken) != len(want) {
			t.Fatalf("%d turns, %d in the plan", len(taken), len(want))
		}
		for _, c := range taken {
			if got := r.Target(l.pieces[l.at[c.Piece]]); want[c.Piece] != got {
				t.Fatalf("piece %d at %d, in the plan at %d", c.Piece, got, want[c.Piece])
			}
		}
	})
}

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
