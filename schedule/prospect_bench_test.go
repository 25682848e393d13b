package schedule

import (
	"testing"

	"dohra/repertoire"
)

// farBehind is a player with a set of twelve, eight of them begun, at half their
// tempos, among 60 pieces, at half an hour a day.
func farBehind() Prospect {
	p := Prospect{Future{From: today, Pace: Pace{Doubt: 0.3, Shows: 0.7}}, Concert{Name: "Gala", Day: today + 25, Minutes: 30}}
	for i := range p.Calendar.Week {
		p.Calendar.Week[i] = 30
	}
	for id := int64(1); id <= 60; id++ {
		c := Candidate{Standing: New(60)}
		c.ID, c.Kind, c.Start, c.Goal, c.Matras, c.Resting = id, "kaida", 60, 100+int(id), 32, repertoire.Never
		tempo := c.Goal
		if id <= 12 {
			tempo = c.Goal / 2
			p.Concert.Set = append(p.Concert.Set, Place{Piece: id, Tempo: c.Goal + 10})
		}
		if id > 4 {
			c.Standing = c.Add(c.Goal, Play{Day: today - repertoire.Day(1+id%20), Tempo: tempo, Clarity: Clear})
		}
		p.Pieces = append(p.Pieces, c)
	}
	p.Concerts = []Concert{p.Concert}
	return p
}

func BenchmarkReadiness(b *testing.B) {
	p := farBehind()
	for b.Loop() {
		p.Readiness()
	}
}

func BenchmarkRemedies(b *testing.B) {
	p := farBehind()
	r := p.Readiness()
	for b.Loop() {
		p.Remedies(r)
	}
}
