package main

import (
	"fmt"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// Lines of a composition, played alone.

// linesOf returns how many lines a piece has, 0 where its bols do not read.
func linesOf(p repertoire.Piece) int {
	n, err := repertoire.ReadBols(p.Bols)
	if err != nil {
		return 0
	}
	return len(n.Lines)
}

// checkLine refuses a line that the piece does not have.
func checkLine(p repertoire.Piece, line int) error {
	switch n := linesOf(p); {
	case n == 0:
		return refuse("%s has no bols, and so no lines", p.Title).trying("dohra edit %d --bols FILE", p.ID)
	case line < 1 || line > n:
		return refuse("%s has %s", p.Title, plural(n, "line"))
	}
	return nil
}

// onlyLine returns the piece with one line of its bols.
func onlyLine(p repertoire.Piece, line int) repertoire.Piece {
	n, _ := repertoire.ReadBols(p.Bols)
	p.Bols = n.Lines[line-1].Text()
	p.Title = fmt.Sprintf("%s, line %d", p.Title, line)
	p.Matras = repertoire.Length(p.Bols)
	return p
}

// breakDown tells at the turns of new and troubled pieces in which parts to play
// them.
func (p *dayPlan) breakDown(k *call) error {
	for i, t := range p.turns {
		n := linesOf(t.Piece)
		if n < 2 || t.Spoken {
			continue
		}
		plays, err := k.store.PlaysBefore(t.ID, k.day)
		if err != nil {
			return err
		}
		if parts := t.Parts(schedule.Lines(n, t.Start, t.Goal, plays)); len(parts) > 0 {
			p.turns[i].Why += "; " + schedule.PartsLine(parts)
		}
	}
	return nil
}

// addLines adds to the facts of a piece what its lines and phrases say.
func (s score) addLines(t *table, k *call, c schedule.Candidate, plays []schedule.Play) {
	if r, ok := repertoire.FindRepeat(s.Notation); ok {
		t.add("drill first", fmt.Sprintf("%s (%s, %d times)", r.Text, plural(r.Matras, "matra"), r.Times))
	}
	lines := schedule.Lines(len(s.Lines), c.Start, c.Goal, plays)
	var known []string
	for i, l := range lines {
		if l.Stage != schedule.Untouched {
			clean, _ := l.CleanOn(k.day)
			known = append(known, fmt.Sprintf("%d clean at %d, last %d %s", i+1, clean, l.LastTempo, l.LastClarity))
		}
	}
	if len(known) > 0 {
		t.add("lines", strings.Join(known, "; "))
	}
	if held := schedule.HeldBackBy(k.day, c.Standing, lines); held > 0 {
		t.add("held back by", fmt.Sprintf("line %d: %s", held, s.Lines[held-1].Text()))
	}
}
