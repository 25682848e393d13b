package main

import (
	"fmt"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// An outcome is how a concert is foreseen, and what would help.
type outcome struct {
	schedule.Readiness
	concert schedule.Concert
	pieces  map[int64]schedule.Candidate
	shows   float64        // the part of the days with minutes on which the player plays
	more    map[int64]bool // pieces that half as many minutes again would bring
}

// foresee asks the scheduler whether the set will be ready.
func (k *call) foresee(c schedule.Concert) (o outcome, err error) {
	pieces, err := k.store.All()
	if err != nil {
		return o, err
	}
	calendar, _, err := k.store.Calendar(k.settings.Minutes)
	if err != nil {
		return o, err
	}
	concerts, err := k.store.Concerts()
	if err != nil {
		return o, err
	}
	plays, err := k.store.PlaysUntil(k.day)
	if err != nil {
		return o, err
	}
	byPiece := map[int64][]schedule.Play{}
	for _, p := range plays {
		byPiece[p.Piece] = append(byPiece[p.Piece], p)
	}
	regular, err := k.regularity(calendar)
	if err != nil {
		return o, err
	}
	pace := schedule.PaceOf(pieces, byPiece, regular)
	o = outcome{concert: c, shows: regular, pieces: map[int64]schedule.Candidate{}, more: map[int64]bool{}}
	for _, p := range pieces {
		o.pieces[p.ID] = p
	}
	o.Readiness = schedule.Foresee(k.day, c, concerts, calendar, pieces, pace)
	for i := range calendar.Week {
		calendar.Week[i] += (calendar.Week[i] + 1) / 2
	}
	if o.Chance < 0.5 {
		for _, f := range schedule.Foresee(k.day, c, concerts, calendar, pieces, pace).Set {
			o.more[f.Piece] = f.Chance >= 0.5
		}
	}
	return o, nil
}

func percent(chance float64) string { return fmt.Sprintf("%.0f", 100*chance) }

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
	for _, f := range o.Set {
		c := o.pieces[f.Piece]
		t.add(c.Title, tempo(cleanOn(c, day)), fmt.Sprintf("%d-%d", f.Low, f.High), f.Need, f.Sittings, percent(f.Chance), f.Verdict(day, c))
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
	for _, key := range []string{"id", "title", "clean_tempo", "low", "high", "needed", "sittings", "chance", "verdict"} {
		t.columns = append(t.columns, column{key: key})
	}
	for _, f := range o.Set {
		c := o.pieces[f.Piece]
		t.add(c.ID, c.Title, tempo(cleanOn(c, day)), f.Low, f.High, f.Need, f.Sittings, thousandths(f.Chance), f.Verdict(day, c))
	}
	return t
}

// seldom is the part of the days below which it is worth a word (our choice).
const seldom = 0.75

// remarks say how likely the whole set is, and what would make the pieces that
// cannot be ready.
func (o outcome) remarks(day repertoire.Day) []string {
	lines := []string{fmt.Sprintf("The whole set is ready %s in 100 times, as the plan goes with your minutes.", percent(o.Chance))}
	if o.shows < seldom {
		lines = append(lines, fmt.Sprintf("Of late you played on %s of 100 days; the forecast counts on no more.", percent(o.shows)))
	}
	for _, f := range o.Set {
		if c := o.pieces[f.Piece]; f.Verdict(day, c) == "cannot" {
			lines = append(lines, fmt.Sprintf("%s cannot be ready at %d: %s.", c.Title, f.Need, o.ways(f)))
		}
	}
	return lines
}

// fairPart is the part of its tempo, per cent, below which a piece is better left
// out than played (our choice).
const fairPart = 70

// ways says what would make a piece ready that cannot be.
func (o outcome) ways(f schedule.Forecast) string {
	var ways []string
	if o.more[f.Piece] {
		ways = append(ways, "give it half as many minutes a day again")
	}
	if 100*f.Low >= fairPart*f.Need {
		ways = append(ways, fmt.Sprintf("play it at %d", f.Low))
	}
	if ways = append(ways, "leave it out"); len(ways) == 1 {
		return "better " + ways[0]
	}
	return strings.Join(ways[:len(ways)-1], ", ") + " or " + ways[len(ways)-1]
}
