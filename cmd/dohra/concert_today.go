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
		k.say("\n%s is %s: a light day.", c.Name, map[bool]string{true: "today", false: "tomorrow"}[c.Day == k.day])
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
	k.say("\n%s", wrap(fmt.Sprintf("Let slide for %s in %s: %s.", c.Name, schedule.Days(int(c.Day-k.day)), line), k.page.width))
	return err
}

func whys(turns []schedule.Turn) string {
	text := ""
	for _, t := range turns {
		text += t.Why + "\n"
	}
	return text
}
