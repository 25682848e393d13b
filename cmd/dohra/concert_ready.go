package main

import (
	"fmt"
	"math"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// An outcome is how a concert is foreseen, and what would help.
type outcome struct {
	schedule.Readiness
	concert schedule.Concert
	pieces  map[int64]schedule.Candidate
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
	o = outcome{concert: c, pieces: map[int64]schedule.Candidate{}, more: map[int64]bool{}}
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

func (k *call) sayReadiness(c schedule.Concert) error {
	if c.Day < k.day {
		if c.Note != "" {
			k.say("%s", c.Note)
		}
		return nil
	}
	o, err := k.foresee(c)
	if err != nil {
		return err
	}
	k.say("")
	if err := k.page.print(o.table(k.day)); err != nil {
		return err
	}
	k.say("\nThe whole set is ready %s in 100 times, as the plan goes with your minutes.", percent(o.Chance))
	for _, line := range o.advice(k.day) {
		k.say("%s", line)
	}
	return nil
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

// data is the table for machines.
func (o outcome) data(day repertoire.Day) table {
	t := table{}
	for _, key := range []string{"id", "title", "clean_tempo", "low", "high", "needed", "sittings", "chance", "verdict"} {
		t.columns = append(t.columns, column{key: key})
	}
	for _, f := range o.Set {
		c := o.pieces[f.Piece]
		t.add(c.ID, c.Title, tempo(cleanOn(c, day)), f.Low, f.High, f.Need, f.Sittings, math.Round(1000*f.Chance)/1000, f.Verdict(day, c))
	}
	return t
}

// advice says what would make the pieces that cannot be ready.
func (o outcome) advice(day repertoire.Day) (lines []string) {
	for _, f := range o.Set {
		c := o.pieces[f.Piece]
		if f.Verdict(day, c) != "cannot" {
			continue
		}
		ways := []string{fmt.Sprintf("at %d it is safe", f.Low), "or leave it out"}
		if o.more[f.Piece] {
			ways = append([]string{"half as many minutes a day again would do"}, ways...)
		}
		lines = append(lines, fmt.Sprintf("%s cannot be ready at %d: %s.", c.Title, f.Need, strings.Join(ways, ", ")))
	}
	return lines
}

// concertDocument writes a concert in the other formats: as JSON all of it, or
// else the running order.
func (k *call) concertDocument(c schedule.Concert, items []schedule.Item) error {
	if k.page.format != "json" || c.Day < k.day {
		return k.page.print(orderTable(items))
	}
	o, err := k.foresee(c)
	if err != nil {
		return err
	}
	return k.page.json(struct {
		Name      string  `json:"name"`
		Day       string  `json:"day"`
		Minutes   int     `json:"minutes"`
		Order     table   `json:"order"`
		Readiness table   `json:"readiness"`
		Chance    float64 `json:"chance"`
	}{c.Name, c.Day.String(), c.Minutes, orderTable(items), o.data(k.day), math.Round(1000*o.Chance) / 1000})
}
