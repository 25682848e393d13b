package main

import (
	"fmt"
	"slices"

	"dohra/schedule"
)

// What the nearest concert makes of a day, and what it lets slide.

// concertLines say so, a sentence each.
func (p dayPlan) concertLines() (lines []string) {
	c := p.morning.Next
	if c.Name == "" {
		return nil
	}
	when := when(int(c.Day - p.day))
	if p.morning.Light() {
		line := fmt.Sprintf("%s is %s", c.Name, when)
		if p.minutes > 0 {
			line += ": a light day"
		}
		if line += "."; c.Day == p.day && !p.logged {
			line += fmt.Sprintf(" Afterwards: dohra concert played %q", c.Name)
		}
		lines = append(lines, line)
	}
	if p.morning.Runs && p.minutes > 0 && !p.runs() {
		lines = append(lines, fmt.Sprintf("The run-through of %s that would be today needs more minutes.", c.Name))
	}
	if len(p.slid) == 0 {
		return lines
	}
	var names []string
	for _, one := range p.slid {
		names = append(names, one.Title)
	}
	return append(lines, fmt.Sprintf("Let slide for %s, %s: %s.", c.Name, when, some(names)))
}

// runs reports whether the day's turns hold a run-through.
func (p dayPlan) runs() bool { return hasRun(p.turns) }

func hasRun(turns []schedule.Turn) bool {
	return slices.ContainsFunc(turns, func(t schedule.Turn) bool { return t.Run })
}

// when writes how far off a day to come is.
func when(days int) string {
	switch days {
	case 0:
		return "today"
	case 1:
		return "tomorrow"
	}
	return "in " + schedule.Days(days)
}

// nextConcert is the nearest concert for machines, nil where none is to come.
func (p dayPlan) nextConcert() any {
	c := p.morning.Next
	if c.Name == "" {
		return nil
	}
	return struct {
		Name     string   `json:"name"`
		Day      string   `json:"day"`
		DaysLeft int      `json:"days_left"`
		Light    bool     `json:"light"`
		Run      bool     `json:"run_through"`
		Remarks  []string `json:"remarks"`
	}{c.Name, c.Day.String(), int(c.Day - p.day), p.morning.Light() && p.minutes > 0, p.runs(), append([]string{}, p.concertLines()...)}
}

// slidTable is what is let slide, for machines.
func (p dayPlan) slidTable() table {
	t := table{columns: []column{{key: "id"}, {key: "title"}}}
	for _, c := range p.slid {
		t.add(c.ID, c.Title)
	}
	return t
}

// withConcert adds to the turns, for a spreadsheet, what the nearest concert
// makes of the day and what it lets slide: rows without minutes.
func (p dayPlan) withConcert(t table) table {
	c := p.morning.Next
	if p.morning.Light() {
		t.add(nil, c.Name, nil, nil, nil, nil, nil, nil, nil, p.concertLines()[0], nil, nil)
	}
	for _, s := range p.slid {
		t.add(s.ID, s.Title, string(s.Kind), s.Tala, s.StageOn(p.day, s.Goal).String(), nil, nil, s.Goal, nil,
			fmt.Sprintf("let slide for %s, %s", c.Name, when(int(c.Day-p.day))), nil, nil)
	}
	return t
}
