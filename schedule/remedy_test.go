package schedule

import "testing"

// What is advised does what it says, in lives of which it was not found.
func TestRemedies(t *testing.T) {
	p := farBehind()
	r := p.Readiness()
	remedies := p.Remedies(r)
	minutes, tempos := 0, 0
	for i, f := range r.Set {
		remedy, has := remedies[f.Piece]
		if has != f.Cannot() {
			t.Errorf("%+v has %+v", f, remedy)
		}
		if remedy.Tempo > 0 {
			tempos++
			p.Concert.Set[i].Tempo = remedy.Tempo
			if remedy.Tempo >= f.Need || remedy.Tempo < 60 {
				t.Errorf("%+v at %d", f, remedy.Tempo)
			}
		}
		if remedy.Minutes > 0 {
			minutes++
		}
	}
	if tempos == 0 || minutes > 0 {
		t.Errorf("%d tempos, %d with more minutes", tempos, minutes)
	}
	p.Concerts[0] = p.Concert
	for _, f := range p.Readiness().Set {
		if remedy := remedies[f.Piece]; remedy.Tempo > 0 && f.Chance < likely-0.15 {
			t.Errorf("at %d its chance is %v", f.Need, f.Chance)
		}
	}
}

// Four pieces that are not far off want at most five minutes each, and a tenth of
// a day is left to others: five minutes a day are too few, 30 enough, but for the
// luck of the lives in which they are tried, which may ask for two steps more.
func TestMoreMinutesAreAdvised(t *testing.T) {
	p := farBehind()
	p.Concert.Set = p.Concert.Set[:4]
	for i := range p.Concert.Set {
		c := &p.Pieces[i]
		c.Standing = New(60).Add(c.Goal, Play{Day: today - 5, Tempo: c.Goal * 4 / 5, Clarity: Clear})
		p.Concert.Set[i].Tempo = c.Goal
	}
	p.Concerts[0] = p.Concert
	p.Calendar.Week = Week{5, 5, 5, 5, 5, 5, 0}
	found := 0
	for _, remedy := range p.Remedies(p.Readiness()) {
		found = max(found, remedy.Minutes)
	}
	if found < advisedStep || found > 30-5+2*advisedStep {
		t.Fatalf("%d minutes more", found)
	}
	for i := range 6 {
		p.Calendar.Week[i] += found
	}
	for _, f := range p.Readiness().Set {
		if f.Chance < likely-0.15 {
			t.Errorf("with %d minutes more its chance is %v", found, f.Chance)
		}
	}
}
