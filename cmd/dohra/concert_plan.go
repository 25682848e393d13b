package main

import (
	"fmt"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// planConcert shows the days until a concert: what each would hold if every turn
// were played clear at its target.
func planConcert(k *call) error {
	c, err := k.concert(words(k.Context))
	if err != nil {
		return err
	}
	if c.Day < k.day {
		return refuse("%s is over since %s", c.Name, c.Day.Short())
	}
	morning, err := k.store.Morning(k.day)
	if err != nil {
		return err
	}
	pieces, err := morning.All()
	if err != nil {
		return err
	}
	calendar, _, err := k.store.Calendar(k.settings.Minutes)
	if err != nil {
		return err
	}
	concerts, err := k.store.Concerts()
	if err != nil {
		return err
	}
	t := table{columns: []column{
		{key: "day", head: "day"},
		{key: "minutes", head: "min", right: true},
		{key: "set_minutes", head: "of these\nset", right: true},
		{key: "what", head: "what"},
		{key: "pieces", head: "pieces of the set, matras/min", grow: true},
	}}
	for day, plan := range schedule.Foreseen(k.day, c.Day, calendar, concerts, pieces) {
		r := schedule.Rehearse(day, calendar, concerts)
		minutes, set := planned(plan, c)
		t.add(shortDay(day), minutes, minutes-rest(plan, c), whatDay(c, calendar, r, day), strings.Join(set, ", "))
	}
	if k.page.format == "table" {
		k.say("%s, %s\n", c.Name, c.Day.Short())
	}
	if err := k.page.print(t); err != nil {
		return err
	}
	if k.page.format == "table" {
		k.say("\nSo it goes if every turn is played clear on its day. What you log changes it.")
	}
	return nil
}

// planned returns the minutes of a plan, and its pieces of the set.
func planned(plan schedule.Plan, c schedule.Concert) (minutes int, set []string) {
	for _, t := range plan.Turns {
		if c.At(t.ID) >= 0 {
			set = append(set, fmt.Sprintf("%s %d", t.Title, t.Target))
		}
	}
	return plan.Minutes(), set
}

// rest returns the minutes of a plan that are not the set's.
func rest(plan schedule.Plan, c schedule.Concert) (minutes int) {
	for _, t := range plan.Turns {
		if c.At(t.ID) < 0 {
			minutes += t.Minutes
		}
	}
	return minutes
}

func whatDay(c schedule.Concert, calendar schedule.Calendar, r schedule.Rehearsal, day repertoire.Day) any {
	_, away := calendar.Away(day)
	switch {
	case day == c.Day:
		return "concert"
	case away:
		return "away"
	case calendar.Minutes(day) == 0:
		return "day off"
	case r.Next.Name == c.Name && r.Light():
		return "light"
	case r.Next.Name == c.Name && r.Runs:
		return "run-through"
	}
	return nil
}

// shortDay writes a day as a narrow column has it: Wed 25 Nov.
func shortDay(day repertoire.Day) string { return day.Short()[:len("Wed 25 Nov")] }
