package schedule_test

import (
	"fmt"

	"dohra/repertoire"
	"dohra/schedule"
)

// A standing begins with the start tempo, and each play moves it.
func ExampleStanding_Add() {
	const start, goal = 60, 72
	s := schedule.New(start)
	for day, tempo := range []int{60, 66, 72} {
		s = s.Add(goal, schedule.Play{Day: repertoire.Day(day), Tempo: tempo, Clarity: schedule.Effortless})
	}
	fmt.Printf("%s, due on day %d\n", s.StageOn(3, goal), s.DueOn(goal))
	// Output: kept, due on day 3
}

// What is believed of a piece, today and for a day to come.
func ExampleStanding_CleanOn() {
	s := schedule.Replay(60, 120, []schedule.Play{
		{Day: 0, Tempo: 112, Clarity: schedule.Clear},
		{Day: 1, Tempo: 116, Clarity: schedule.Clear},
		{Day: 2, Tempo: 120, Clarity: schedule.Strained},
	})
	clean, doubt := s.CleanOn(2)
	later, _ := s.CleanOn(32)
	fmt.Printf("clean %d +- %d today; about %d in a month untouched\n", clean, doubt, later)
	// Output: clean 119 +- 6 today; about 107 in a month untouched
}

// A day is planned from candidates, which are pieces with their standings.
func ExamplePlanDay() {
	const today = 100
	pieces := []repertoire.Piece{
		{ID: 1, Title: "Mill kaida", Kind: "kaida", Start: 60, Goal: 120},
		{ID: 2, Title: "Kite gat", Kind: "gat", Start: 60, Goal: 120},
	}
	plays := [][]schedule.Play{
		{{Day: 98, Tempo: 96, Clarity: schedule.Clear}},
		{{Day: 60, Tempo: 120, Clarity: schedule.Clear}, {Day: 61, Tempo: 120, Clarity: schedule.Clear}},
	}
	var all []schedule.Candidate
	for i, p := range pieces {
		all = append(all, schedule.Candidate{Piece: p, Standing: schedule.Replay(p.Start, p.Goal, plays[i])})
	}
	for _, turn := range schedule.PlanDay(today, 20, all).Turns {
		fmt.Printf("%s: %d to %d, %d minutes (%s)\n", turn.Title, turn.Begin, turn.Target, turn.Minutes, turn.Why)
	}
	// Output:
	// Mill kaida: 80 to 96, 10 minutes (clean at 98, six steps to go)
	// Kite gat: 100 to 116, 4 minutes (to end: kept, clean at 114 +- 11 by now, due 33 days ago)
}
