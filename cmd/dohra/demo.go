package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"

	"github.com/pelletier/go-toml/v2"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
	"dohra/testdata"
)

// openDemo returns a copy of the demonstration repertoire, in memory, whose
// last plays lie just before day.
func openDemo(day repertoire.Day) (*db.Store, error) {
	s, err := db.OpenMemory()
	if err != nil {
		return nil, err
	}
	byTitle, err := addDemoPieces(s, day)
	if err == nil {
		err = addDemoPlays(s, day, byTitle)
	}
	if err == nil {
		err = addDemoConcert(s, day)
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("the demonstration is broken: %w", err), s.Close())
	}
	return s, nil
}

func addDemoPieces(s *db.Store, day repertoire.Day) (map[string]int64, error) {
	var demo struct {
		Piece []struct {
			Title, Kind, Tala, After, Teacher, Bols, Note string
			Start, Goal, Added, Resting                   int
		}
	}
	if err := toml.Unmarshal(testdata.DemoPieces, &demo); err != nil {
		return nil, err
	}
	byTitle := map[string]int64{}
	for _, d := range demo.Piece {
		p := repertoire.Piece{
			Title: d.Title, Kind: repertoire.Kind(d.Kind), Tala: d.Tala, Start: d.Start, Goal: d.Goal,
			After: byTitle[d.After], Teacher: d.Teacher, Bols: d.Bols, Note: d.Note,
			Added: day - repertoire.Day(d.Added), Resting: repertoire.Never,
		}
		if d.Resting > 0 {
			p.Resting = day - repertoire.Day(d.Resting)
		}
		id, err := s.AddPiece(p)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.Title, err)
		}
		byTitle[d.Title] = id
	}
	return byTitle, nil
}

func addDemoPlays(s *db.Store, day repertoire.Day, byTitle map[string]int64) error {
	rows, err := csv.NewReader(bytes.NewReader(testdata.DemoPlays)).ReadAll()
	if err != nil {
		return err
	}
	var plays []schedule.Play
	for _, row := range rows[1:] {
		ago, err1 := strconv.Atoi(row[0])
		tempo, err2 := strconv.Atoi(row[2])
		clarity, err3 := schedule.ParseClarity(row[3])
		minutes, err4 := strconv.Atoi(row[4])
		if err := errors.Join(err1, err2, err3, err4); err != nil {
			return err
		}
		plays = append(plays, schedule.Play{
			Piece: byTitle[row[1]], Day: day - repertoire.Day(ago),
			Tempo: tempo, Clarity: clarity, Minutes: minutes, Note: row[5],
		})
	}
	return s.LogAll(plays)
}

// demoSet is what the recital brings, in its order, and for how many minutes; 0
// for as long as it commonly takes.
var demoSet = []struct {
	title   string
	minutes int
}{
	{"Slow river peshkar", 3}, {"Lantern kaida", 2}, {"Lantern palta 2", 1}, {"Lantern tihai", 0}, {"Ferry kaida", 2},
	{"Ferry palta 3", 1}, {"Ferry tihai", 0}, {"Monsoon rela", 3}, {"Anvil gat", 0}, {"Firefly tukda", 0}, {"Whirlwind chakradar", 0},
}

// addDemoConcert plans the made-up player's recital in six weeks.
func addDemoConcert(s *db.Store, day repertoire.Day) error {
	all, err := s.All()
	if err != nil {
		return err
	}
	ids := map[string]schedule.Candidate{}
	for _, c := range all {
		ids[c.Title] = c
	}
	return s.ChangeConcert("Winter recital", func(c *schedule.Concert) error {
		c.Day, c.Minutes, c.Talas = day+42, 15, []string{"teental"}
		for _, place := range demoSet {
			piece := ids[place.title]
			c.Set = append(c.Set, schedule.Place{Piece: piece.ID, Tempo: piece.Goal, Minutes: place.minutes})
		}
		return nil
	})
}
