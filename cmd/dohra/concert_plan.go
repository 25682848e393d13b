package main

import (
	"fmt"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// planConcert shows the days until a concert: what each would hold if all came as
// it is to be expected of the player.
func planConcert(k *call) error {
	c, err := k.concert(words(k.Context))
	if err != nil {
		return err
	}
	if c.Day < k.day {
		return refuse("%s is over since %s", c.Name, c.Day.Short())
	}
	if c.Day > k.day+farthest {
		return refuse("%s is on %s; its days are planned from two years before it", c.Name, c.Day.Short())
	}
	prospect, err := k.prospect(c)
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
	short, awake := 0, prospect.Awake()
	for day, plan := range prospect.Days() {
		r := prospect.Rehearsal(day)
		minutes, set := planned(plan, awake, r)
		what := whatDay(c, prospect.Calendar, r, day)
		if what == runThrough && !hasRun(plan.Turns) {
			what, short = nil, short+1
		}
		t.add(planDayCell(k, day), plan.Minutes(), minutes, what, set)
	}
	remarks := []string{"So it goes if " + howOften(prospect.Pace) + ". You are taken to stand, and to learn, as your plays say. What you log changes it."}
	if len(c.Set) == 0 {
		remarks = []string{shownConcert{Concert: c}.nothingIn()}
	}
	if short > 0 {
		remarks = append(remarks, fmt.Sprintf("On %s a run-through would be due, but the whole set needs more minutes than there are.", plural(short, "day")))
	}
	switch k.page.format {
	case "csv", "json":
		return k.page.print(t)
	case "table":
		k.say("%s, %s\n", c.Name, c.Day.Short())
	default:
		k.page.heading(fmt.Sprintf("%s, %s", c.Name, c.Day.Short()))
	}
	if err := k.page.print(t); err != nil {
		return err
	}
	if k.page.format == "table" {
		k.say("")
	}
	for _, remark := range remarks {
		if k.page.format == "table" {
			k.say("%s", remark)
		} else {
			k.page.paragraph(remark)
		}
	}
	return nil
}

// planDayCell is a day: short for a person, whole for a machine.
func planDayCell(k *call, day repertoire.Day) string {
	if k.page.format == "csv" || k.page.format == "json" {
		return day.String()
	}
	return shortDay(day)
}

const runThrough = "run-through"

// planned returns the minutes of a plan that are the set's, and its pieces with
// their targets.
func planned(plan schedule.Plan, c schedule.Concert, r schedule.Rehearsal) (minutes int, set string) {
	var pieces []string
	inOrder, there := 0, 0 // in the order of the set, and of these at their performance tempos
	for _, t := range plan.Turns {
		i := c.At(t.ID)
		if i < 0 {
			continue
		}
		minutes += t.Minutes
		if i == len(pieces) {
			inOrder++
			if t.Target == c.Set[i].Tempo {
				there++
			}
		}
		pieces = append(pieces, fmt.Sprintf("%s %d", t.Title, t.Target))
	}
	switch {
	case inOrder == 0 || inOrder < len(c.Set) || r.Next.Name != c.Name:
		return minutes, strings.Join(pieces, ", ")
	case r.Day == c.Day:
		return minutes, "the whole set, to warm up"
	case r.Light():
		return minutes, "the whole set, lightly"
	case there == len(c.Set):
		return minutes, "the whole set, at its tempos"
	case r.Runs:
		return minutes, fmt.Sprintf("the whole set, %d of %d at their tempos", there, len(c.Set))
	}
	return minutes, strings.Join(pieces, ", ")
}

// whatDay returns what a day is besides a day of practice.
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
		return runThrough
	}
	return nil
}

// shortDay writes a day as a narrow column has it: Wed 25 Nov.
func shortDay(day repertoire.Day) string { return day.Short()[:len("Wed 25 Nov")] }

// howOften says on which days the plan counts, and on how many the player plays.
func howOften(p schedule.Pace) string {
	if p.Shows >= 0.95 {
		return "you play on every day"
	}
	return fmt.Sprintf("you play on every day; of late it was %.0f in 10", 10*p.Shows)
}
