package main

import (
	"slices"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func awayCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "away",
		Usage:     "the absences that are planned; or plan one, its first and last day included",
		ArgsUsage: "[FROM TO]",
		Action: d.unlessAlone(func(k *call) error {
			if k.NArg() == 0 {
				return showAway(k)
			}
			return planAway(k)
		}),
		Subcommands: []*cli.Command{{
			Name:      "remove",
			Usage:     "take back days of absence",
			ArgsUsage: "FROM TO",
			Action:    d.with(writes, removeAway),
		}},
	}
}

// longestAbsence is how many days one may plan to be away at once: a year that
// was mistyped would leave no plan for centuries (our choice).
const longestAbsence = 366

// planAway adds the days that the words name to the absences.
func planAway(k *call) error {
	a, err := readAbsence(k)
	if err != nil {
		return err
	}
	if a.Days() > longestAbsence {
		return refuse("from %s to %s are %d days; an absence has at most %d", a.From, a.To, a.Days(), longestAbsence)
	}
	joined := a
	err = k.store.ChangeAbsences(func(before []schedule.Absence) ([]schedule.Absence, error) {
		now := schedule.Leave(before, a)
		joined = now[slices.IndexFunc(now, func(b schedule.Absence) bool { return b.Holds(a.From) })]
		if joined.Days() > longestAbsence {
			return nil, refuse("with what is planned already you would be away from %s to %s, %d days; an absence has at most %d",
				joined.From, joined.To, joined.Days(), longestAbsence)
		}
		return now, nil
	})
	if err != nil {
		return err
	}
	if err := showAway(k); err != nil || k.page.format != "table" {
		return err
	}
	if joined != a {
		k.say("\nJoined with what was planned already: away from %s to %s.", joined.From.Short(), joined.To.Short())
	}
	if a.To < k.day {
		k.say("\nThese days are past: they count as days off when dohra looks back.")
	}
	concerts, err := k.store.Concerts()
	for _, c := range concerts {
		if err == nil && c.Day >= k.day && a.Holds(c.Day) {
			err = k.sayAway(c)
		}
	}
	return err
}

// removeAway takes the days that the words name from the absences.
func removeAway(k *call) error {
	a, err := readAbsence(k)
	if err != nil {
		return err
	}
	err = k.store.ChangeAbsences(func(before []schedule.Absence) ([]schedule.Absence, error) {
		now := schedule.Return(before, a)
		if slices.Equal(now, before) {
			return nil, refuse("no absence is planned between %s and %s, so there is nothing to take back", a.From, a.To).trying("dohra away")
		}
		return now, nil
	})
	if err != nil {
		return err
	}
	return showAway(k)
}

func readAbsence(k *call) (a schedule.Absence, err error) {
	if k.NArg() != 2 {
		return a, misuse("an absence has a first and a last day").trying("%s 2026-12-20 2027-01-03", k.Command.HelpName)
	}
	if a.From, err = repertoire.ParseDay(k.Args().Get(0)); err != nil {
		return a, refuse("%v", err)
	}
	if a.To, err = repertoire.ParseDay(k.Args().Get(1)); err != nil {
		return a, refuse("%v", err)
	}
	if a.To < a.From {
		return a, refuse("%s is before %s", a.To, a.From).trying("%s %s %s", k.Command.HelpName, a.To, a.From)
	}
	return a, nil
}

// showAway lists the absences, those that are over too.
func showAway(k *call) error {
	c, _, err := k.store.Calendar(k.settings.Minutes)
	if err != nil {
		return err
	}
	if len(c.Absences) == 0 && k.page.format == "table" {
		k.say("No absence is planned. To plan one: dohra away 2026-12-20 2027-01-03")
		return nil
	}
	t := table{columns: []column{
		{key: "from", head: "away from"},
		{key: "to", head: "to"},
		{key: "days", head: "days", right: true},
	}}
	for _, a := range c.Absences {
		t.add(a.From.String(), a.To.String(), a.Days())
	}
	return k.page.print(t)
}
