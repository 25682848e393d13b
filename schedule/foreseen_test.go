package schedule

import (
	"strings"
	"testing"

	"dohra/repertoire"
)

// The plan of a player who is far behind does not promise what the readiness
// denies: what cannot be ready is not there in the last run-through, and what will
// be is. Its days are all there, in order, and the last is the concert's.
func TestDaysPromiseNoMoreThanTheReadiness(t *testing.T) {
	p := farBehind()
	p.Pace.Shows = 1
	chances := map[int64]Forecast{}
	for _, f := range p.Readiness().Set {
		chances[f.Piece] = f
	}
	next, denied, there := p.From, 0, 0
	last := p.Concert.RunThroughs(p.Calendar)
	for day, plan := range p.Days() {
		if day != next {
			t.Fatalf("day %d after %d", day, next)
		}
		next++
		if day != last[len(last)-1] {
			continue
		}
		for _, turn := range plan.Turns {
			f := chances[turn.ID]
			switch runs := strings.HasPrefix(turn.Why, "run-through"); {
			case runs && f.Cannot() && turn.Target < f.Need:
				denied++
			case runs && f.Cannot():
				t.Errorf("%+v is there: %s", f, turn.Why)
			case runs && f.Chance > 0.95 && turn.Target < f.Need:
				t.Errorf("%+v is not there: %s", f, turn.Why)
			case runs && turn.Target == f.Need:
				there++
			}
		}
	}
	if next != p.Concert.Day+1 || denied == 0 || there == 0 {
		t.Errorf("until %d, %d denied and %d there", next-1, denied, there)
	}
}

// Who learns more slowly is planned more slowly.
func TestDaysGoAtThePlayersPace(t *testing.T) {
	reached := func(speed float64) (sum int) {
		p := farBehind()
		p.Pace.Speed = speed
		for day, plan := range p.Days() {
			for _, turn := range plan.Turns {
				if day == p.Concert.Day-repertoire.Day(1) && p.Concert.At(turn.ID) >= 0 {
					sum += turn.Target
				}
			}
		}
		return sum
	}
	if slow, quick := reached(-0.7), reached(0.3); slow == 0 || slow >= quick {
		t.Errorf("%d and %d", slow, quick)
	}
}
