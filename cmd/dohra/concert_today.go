package main

import (
	"fmt"
	"strings"

	"dohra/schedule"
)

// screenConcert says what the nearest concert makes of the day, and what it lets
// slide.
func (p dayPlan) screenConcert(k *call) error {
	c := p.morning.Next
	if c.Name == "" {
		return nil
	}
	if p.morning.Light() {
		k.say("\n%s is %s: a light day.", c.Name, when(int(c.Day-k.day)))
	}
	if p.morning.Runs && !strings.Contains(whys(p.turns), "run-through of ") {
		k.say("\nThe run-through of %s that would be today needs more minutes.", c.Name)
	}
	if len(p.slid) == 0 {
		return nil
	}
	pieces, err := p.morning.Candidates(ids(p.slid[:min(len(p.slid), 3)]))
	var names []string
	for _, one := range pieces {
		names = append(names, one.Title)
	}
	line := strings.Join(names, ", ")
	if more := len(p.slid) - len(names); more > 0 {
		line += fmt.Sprintf(" and %d more", more)
	}
	k.say("\n%s", wrap(fmt.Sprintf("Let slide for %s, %s: %s.", c.Name, when(int(c.Day-k.day)), line), k.page.width))
	return err
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

func whys(turns []schedule.Turn) string {
	text := ""
	for _, t := range turns {
		text += t.Why + "\n"
	}
	return text
}
