package schedule

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

func noTick(int, int) {}

func everyDay(minutes int) (c Calendar) {
	for i := range c.Week {
		c.Week[i] = minutes
	}
	return c
}

// repertoireOf has that many pieces, most of them kept.
func repertoireOf(n int) (all []Candidate) {
	rng := rand.New(rand.NewPCG(3, 16))
	for id := range int64(n) {
		switch rng.IntN(10) {
		case 0:
			all = append(all, piece(id+1, "kaida", 120))
		case 1, 2:
			all = append(all, building(id+1, "gat", 60+rng.IntN(56)))
		default:
			all = append(all, kept(id+1, "rela", 100+rng.IntN(60), rng.IntN(100)))
		}
	}
	return all
}

func ahead(days, n int, minutes ...int) (all []Ahead) {
	for _, m := range minutes {
		all = append(all, Ahead{Future{From: today, Calendar: everyDay(m), Pace: Pace{Shows: 1}, Pieces: repertoireOf(n)}, days})
	}
	return all
}

func TestOutlook(t *testing.T) {
	all := ahead(120, 60, 0, 10, 30)
	o := LookAhead(all, noTick)
	if again := LookAhead(all, noTick); !reflect.DeepEqual(o, again) {
		t.Fatalf("asked again, it is another: %v, %v", o, again)
	}
	if !(o[0].Ready.Mean < o[1].Ready.Mean && o[1].Ready.Mean < o[2].Ready.Mean) {
		t.Errorf("more minutes hold no more: %+v", o)
	}
	if o[0].Taken != 0 || o[0].Next >= 0 || o[2].Next < today {
		t.Errorf("new pieces: %+v", o)
	}
	for _, o := range o {
		if o.Ready.Low > o.Ready.Mean || o.Ready.High < o.Ready.Mean {
			t.Errorf("no range: %+v", o.Ready)
		}
	}
	quick, slow := all[1], all[1]
	quick.Pace.Speed, slow.Pace.Speed = 0.7, -0.7
	if paces := LookAhead([]Ahead{quick, slow}, noTick); paces[0].Ready.Mean <= paces[1].Ready.Mean {
		t.Errorf("who learns faster has no more ready: %+v", paces)
	}
	if empty := LookAhead(ahead(30, 0, 45), noTick)[0]; empty.Ready.Mean != 0 || empty.Hold != 0 {
		t.Errorf("of nothing: %+v", empty)
	}
}

func BenchmarkOutlook(b *testing.B) {
	const pieces, days = 500, 365
	b.Run(fmt.Sprint(pieces, " pieces ", days, " days, four budgets"), func(b *testing.B) {
		for b.Loop() {
			LookAhead(ahead(days, pieces, 20, 30, 45, 60), noTick)
		}
	})
	b.Run("and a concert", func(b *testing.B) {
		c := Concert{Name: "Gala", Day: today + days/2, Minutes: 30}
		for _, piece := range repertoireOf(12) {
			c.Set = append(c.Set, Place{Piece: piece.ID, Tempo: piece.Goal})
		}
		all := ahead(days, pieces, 20, 30, 45, 60)
		for i := range all {
			all[i].Concerts = []Concert{c}
		}
		for b.Loop() {
			LookAhead(all, noTick)
		}
	})
}

func TestRegularity(t *testing.T) {
	var everyThird []Play
	for day := today - 30; day < today; day += 3 {
		everyThird = append(everyThird, Play{Day: day}, Play{Day: day})
	}
	holiday := everyDay(30)
	holiday.Absences = []Absence{{today - 29, today - 15}}
	for _, test := range []struct {
		name  string
		c     Calendar
		plays []Play
		want  float64
	}{
		{"no plays", everyDay(30), nil, 1},
		{"every third day", everyDay(30), everyThird, 10.0 / 30},
		{"too few days", everyDay(30), everyThird[16:], 1},
		{"absences count for nothing", holiday, everyThird, 5.0 / 15},
	} {
		if got := Regularity(today, test.c, test.plays); got != test.want {
			t.Errorf("%s: %v, not %v", test.name, got, test.want)
		}
	}
}

// The new pieces a month are as many as become ready where there are always more.
func TestTakenIsWhatBecomesReady(t *testing.T) {
	var all []Candidate
	for id := range int64(100) {
		all = append(all, piece(id+1, "gat", 120))
	}
	const months = 10
	o := LookAhead([]Ahead{{Future{From: today, Calendar: everyDay(30), Pace: Pace{Shows: 1}, Pieces: all}, 30 * months}}, noTick)[0]
	ready := (o.Ready.Mean + o.Slipped.Mean) / months
	t.Logf("%.1f a month taken on, %.1f made ready", o.Taken, ready)
	if o.Taken < 0.8*ready || o.Taken > 1.4*ready {
		t.Errorf("%.1f a month taken on, %.1f made ready", o.Taken, ready)
	}
}

// Twice the minutes of the upkeep hold nearly all; a quarter of them does not.
func TestUpkeepHolds(t *testing.T) {
	var all []Candidate
	for id := range int64(60) {
		all = append(all, kept(id+1, "rela", 100+int(id), int(id)-50))
	}
	upkeep := Upkeep(all)
	var futures []Ahead
	for _, minutes := range []float64{upkeep / 4, 2 * upkeep} {
		futures = append(futures, Ahead{Future{From: today, Calendar: everyDay(int(minutes)), Pace: Pace{Shows: 1}, Pieces: all}, 180})
	}
	o := LookAhead(futures, noTick)
	if o[1].Slipped.Mean > 6 || o[0].Slipped.Mean < 12 {
		t.Errorf("an upkeep of %.1f minutes: with a quarter %.1f slip, with twice %.1f", upkeep, o[0].Slipped.Mean, o[1].Slipped.Mean)
	}
}

// What is new and comes after a resting piece that does not carry it is begun in
// no future, as it is on no day; nor after one that many others keep out of sight.
func TestNothingBeginsBeforeWhatItWaitsFor(t *testing.T) {
	rests, late, second := building(1, "kaida", 90), building(1, "kaida", 90), piece(2, "palta", 120)
	rests.Resting, late.Due, second.After = today, today+1000, 1
	o := LookAhead([]Ahead{{Future{From: today, Calendar: everyDay(30), Pace: Pace{Shows: 1}, Pieces: []Candidate{second, rests}}, 200}}, noTick)[0]
	if o.Ready != (Range{}) || o.Slipped != (Range{}) || o.Hold != 0 {
		t.Errorf("%+v", o)
	}
	for _, first := range []Candidate{rests, late} {
		all := []Candidate{second, first}
		for id := range int64(bystanders) {
			all = append(all, kept(id+3, "gat", 120, 1))
		}
		p := Prospect{Future{From: today, Calendar: everyDay(600), Pace: Pace{Shows: 1}, Pieces: all}, Concert{Day: today + 4}}
		for _, plan := range p.Days() {
			if slices.Contains(titles(plan.Turns), 2) {
				t.Error("the plan begins it")
			}
		}
		l := p.draw(func() float64 { return 0 }, p.nearest())
		for day := today; day < p.Concert.Day; day++ {
			l.day(p.Rehearsal(day), 600, 0)
		}
		if l.sittings[l.at[2]] > 0 {
			t.Error("it was begun")
		}
	}
}
