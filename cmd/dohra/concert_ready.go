package main

import (
	"fmt"
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// An outcome is how a concert is foreseen, and what would help.
type outcome struct {
	schedule.Readiness
	concert  schedule.Concert
	pieces   map[int64]schedule.Candidate
	shows    float64                   // the part of the days with minutes on which the player plays
	remedies map[int64]schedule.Remedy // of the pieces that cannot be ready
}

// foresee asks the scheduler whether the set of those pieces will be ready.
func (k *call) foresee(c schedule.Concert, pieces map[int64]schedule.Candidate) (o outcome, err error) {
	p, err := k.prospect(c)
	if err != nil {
		return o, err
	}
	o = outcome{concert: c, pieces: pieces, Readiness: p.Readiness(), shows: p.Pace.Shows}
	o.remedies = p.Remedies(o.Readiness)
	return o, nil
}

// prospect returns all on which it depends how the set comes to a concert, which
// may be on the first day to come.
func (k *call) prospect(c schedule.Concert) (p schedule.Prospect, err error) {
	from, err := k.toCome()
	if err != nil {
		return p, err
	}
	from = min(from, c.Day)
	pieces, err := k.morningOf(from)
	if err != nil {
		return p, err
	}
	p.Concert = c
	p.Future, err = k.future(from, pieces)
	return p, err
}

func percent(chance float64) string { return fmt.Sprintf("%.0f", 100*chance) }

// of returns the forecast of a piece; there is none of one that rests, nor where
// nothing is foreseen.
func (o *outcome) of(piece int64) (f schedule.Forecast, foreseen bool) {
	if o == nil {
		return f, false
	}
	i := slices.IndexFunc(o.Set, func(f schedule.Forecast) bool { return f.Piece == piece })
	if i < 0 {
		return f, false
	}
	return o.Set[i], true
}

// chance is that of the set for machines, nil where all of it rests.
func (o outcome) chance() any {
	if len(o.Set) == 0 {
		return nil
	}
	return thousandths(o.Chance)
}

// whole is what the chance is of.
func (o outcome) whole() string {
	if len(o.Set) < len(o.concert.Set) {
		return "The set without what is set aside"
	}
	return "The whole set"
}

// table says of each piece where it stands and what is to be expected.
func (o outcome) table(day repertoire.Day) table {
	t := table{columns: []column{
		{head: "\npiece", grow: true},
		{head: "\nclean now", right: true},
		{head: "matras/min\non the day", right: true},
		{head: "\nneeded", right: true},
		{head: "sittings\nleft", right: true},
		{head: "of 100\nready", right: true},
		{head: "\nverdict"},
	}}
	for _, place := range o.concert.Set {
		c := o.pieces[place.Piece]
		if f, foreseen := o.of(place.Piece); foreseen {
			t.add(c.Title, known(cleanOn(c, day)), fmt.Sprintf("%d-%d", f.Low, f.High), f.Need, f.Sittings, percent(f.Chance), f.Verdict(day, c))
		} else {
			t.add(c.Title, known(cleanOn(c, day)), nil, place.Tempo, nil, nil, nil)
		}
	}
	return t
}

// screen is the table for a terminal, whose verdicts leave room for the titles.
func (o outcome) screen(day repertoire.Day) table {
	const width = 13
	t := o.table(day)
	for _, row := range t.rows {
		row[len(row)-1] = wrap(cellText(row[len(row)-1]), width)
	}
	return t
}

// data is the table for machines.
func (o outcome) data(day repertoire.Day) table {
	t := table{}
	for _, key := range []string{"id", "title", "clean_tempo", "low", "high", "needed", "sittings", "chance", "verdict", "short", "more_minutes", "slower_tempo"} {
		t.columns = append(t.columns, column{key: key})
	}
	for _, place := range o.concert.Set {
		c := o.pieces[place.Piece]
		if f, foreseen := o.of(place.Piece); foreseen {
			t.add(c.ID, c.Title, known(cleanOn(c, day)), f.Low, f.High, f.Need, f.Sittings, thousandths(f.Chance), f.Verdict(day, c),
				known(f.Short()), known(o.remedies[f.Piece].Minutes), known(o.remedies[f.Piece].Tempo))
		} else {
			t.add(c.ID, c.Title, known(cleanOn(c, day)), nil, nil, place.Tempo, nil, nil, nil, nil, nil, nil)
		}
	}
	return t
}

// seldom is the part of the days below which it is worth a word (our choice).
const seldom = 0.75

// remarks say how likely the whole set is, and what would make the pieces that
// cannot be ready.
func (o outcome) remarks() []string {
	if len(o.Set) == 0 {
		return nil
	}
	lines := []string{fmt.Sprintf("%s is ready %s in 100 times, as the plan goes with your minutes.", o.whole(), percent(o.Chance))}
	if o.shows < seldom {
		lines = append(lines, fmt.Sprintf("Of late you played on %s of 100 days; the forecast counts on no more.", percent(o.shows)))
	}
	for _, f := range o.Set {
		if !f.Cannot() {
			continue
		}
		line := fmt.Sprintf("%s cannot be ready at %d", o.pieces[f.Piece].Title, f.Need)
		remedy := o.remedies[f.Piece]
		var ways []string
		if remedy.Minutes > 0 {
			ways = append(ways, fmt.Sprintf("%d minutes a day more would do", remedy.Minutes))
		} else {
			line += fmt.Sprintf(", not even with %d minutes a day", schedule.MostAdvised)
		}
		if remedy.Tempo > 0 {
			ways = append(ways, fmt.Sprintf("at %d it is on course", remedy.Tempo))
		}
		if ways == nil {
			lines = append(lines, line+", nor at its start tempo: leave it out.")
		} else {
			lines = append(lines, line+": "+strings.Join(ways, ", ")+", or leave it out.")
		}
	}
	return lines
}
