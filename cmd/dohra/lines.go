package main

import (
	"fmt"
	"math/big"
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

// matrasOf returns the matras of some lines of a piece, 0 where they are not known.
func matrasOf(p repertoire.Piece, part schedule.Part) (matras int) {
	n, err := repertoire.ReadBols(p.Bols)
	if err != nil {
		return 0
	}
	for _, line := range lengths(n)[part.From-1 : part.To] {
		matras += line
	}
	return matras
}

// partOf reads lines of the piece, such as 2 or 1-2; the whole is no part.
func partOf(p repertoire.Piece, text string) (schedule.Part, error) {
	part, err := schedule.ParsePart(text)
	n := linesOf(p)
	switch {
	case n == 0:
		err = refuse("%s has no bols, and so no lines", p.Title).trying("dohra edit %d --bols FILE", p.ID)
	case err != nil:
		err = refuse("%v", err)
	case part.To > n:
		err = refuse("%s has %s", p.Title, plural(n, "line"))
	case n == 1:
		return schedule.Part{}, nil // the only line is the whole
	}
	return part, err
}

// only returns the view of some lines, which lie on the tala where they lie in
// the whole.
func (v view) only(part schedule.Part) view {
	if v.score == nil || part == (schedule.Part{}) {
		return v
	}
	s := *v.score
	before := repertoire.Notation{Lines: s.Lines[:part.From-1]}
	s.Lines = s.Lines[part.From-1 : part.To]
	v.start = new(big.Rat).Add(v.start, big.NewRat(int64(len(before.Matras())), 1))
	for cycle := big.NewRat(int64(s.tala.Matras()), 1); v.start.Cmp(cycle) >= 0; {
		v.start.Sub(v.start, cycle)
	}
	v.slots = repertoire.LayOut(s.tala, s.Notation, v.start, big.NewRat(1, 1), repertoire.Bhatkhande)
	v.score = &s
	return v
}

// passes reports whether a turn is of a day's way through a set, in which each
// piece is played whole.
func (p dayPlan) passes(t schedule.Turn) bool {
	return t.Run || p.morning.Light() && p.morning.Next.At(t.ID) >= 0
}

// takeApart gives the turns of new and troubled pieces their walks.
func (p *dayPlan) takeApart(k *call) error {
	p.walks = map[int][]schedule.Leg{}
	for i, t := range p.turns {
		n, err := repertoire.ReadBols(t.Bols)
		if err != nil || len(n.Lines) < 2 || p.passes(t) {
			continue
		}
		plays, err := k.store.PlaysBefore(t.ID, k.day)
		if err != nil {
			return err
		}
		if legs := t.Walk(schedule.TakeApart(lengths(n), plays)); legs != nil {
			p.walks[i] = legs
		}
	}
	return nil
}

// lengths returns the matras of each line.
func lengths(n repertoire.Notation) (matras []int) {
	for _, line := range n.Lines {
		matras = append(matras, len(line.Matras))
	}
	return matras
}

// tellLegs tells at the turns that are taken apart how they are walked. What is
// spoken is spoken whole.
func (p *dayPlan) tellLegs() {
	for i, legs := range p.walks {
		if p.turns[i].Spoken {
			delete(p.walks, i)
		} else {
			p.turns[i].Why += "; " + schedule.LegsLine(legs)
		}
	}
}

// addLines adds to the facts of a piece what its lines and phrases say.
func (s score) addLines(t *table, plays []schedule.Play) {
	if r, ok := repertoire.FindRepeat(s.Notation); ok {
		t.add("drill first", fmt.Sprintf("%s (%s, %d times)", r.Text, plural(r.Matras, "matra"), r.Times))
	}
	apart := schedule.TakeApart(lengths(s.Notation), plays)
	var known []string
	for _, p := range apart.Known() {
		known = append(known, fmt.Sprintf("%s %s at %d", p.Part().Lines(), p.Clarity, p.Tempo))
	}
	if len(known) > 0 {
		t.add("lines", strings.Join(known, "; "))
	}
	if held, ok := apart.HeldBackBy(); ok {
		text := held.String()
		if held.From == held.To {
			text += ": " + s.Lines[held.From-1].Text()
		}
		t.add("held back by", text)
	}
}
