package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

// How far ahead one may look, and how many pieces one may try to add.
const (
	outlookDays, mostOutlookDays = 180, 730
	mostAdded                    = 500
)

func outlookCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "outlook",
		Usage:     "what so many minutes a day will carry: the plans of the days to come, tried on simulated players",
		ArgsUsage: "[--rest PIECE ...]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "minutes", Usage: "try that many `MINUTES` on each day that is not off, or several: 20,30,45 (the week if not given)"},
			&cli.StringFlag{Name: "days", Usage: "look that many `DAYS` ahead", Value: strconv.Itoa(outlookDays), DefaultText: strconv.Itoa(outlookDays)},
			&cli.StringFlag{Name: "add", Usage: "try it with `N` more pieces"},
			&cli.StringFlag{Name: "kind", Usage: "of that `KIND`, with --add"},
			&cli.StringSliceFlag{Name: "rest", Usage: "try it without that `PIECE`, or several: with commas between, or one after the other, in quotes where a title is several words"},
		},
		Action: d.with(reads, runOutlook),
	}
}

func runOutlook(k *call) error {
	labels, futures, err := k.futures()
	if err != nil {
		return err
	}
	f := futures[0]
	pieces := len(schedule.Awake(f.From, f.Pieces))
	if pieces == 0 && k.page.format == "table" {
		if empty, err := k.store.Empty(); empty || err != nil {
			k.sayEmpty()
			return err
		}
		k.say("No piece is left to look ahead with: all are set aside, or were added later.")
		return nil
	}
	tick, wipe := k.progress("Looking")
	began := time.Now()
	outlooks := schedule.LookAhead(futures, func(done, total int) {
		if time.Since(began) > time.Second/2 {
			tick(done, total)
		}
	})
	wipe()
	if k.page.format != "table" {
		return k.page.print(outlookTable(labels, futures, outlooks))
	}
	k.say("%s to %s, %s:\n", f.From.Short(), (f.From + repertoire.Day(f.Days)).Short(), plural(pieces, "piece"))
	if err := k.page.print(outlookScreen(labels, futures, outlooks)); err != nil {
		return err
	}
	k.say("\n%s", wrap(outlookLine(f), k.page.width))
	if f.Calendar.Week == (schedule.Week{}) {
		k.say("Every day of the week is off. To give it minutes: %s", weekExample)
	}
	return nil
}

// toCome returns the first day of which nothing is known yet: this one, or the
// next once anything was played, so that what was logged tells at once.
func (k *call) toCome() (repertoire.Day, error) {
	plays, err := k.store.PlaysOn(k.day)
	if len(plays) > 0 {
		return k.day + 1, err
	}
	return k.day, err
}

// future returns the days from that one on with those pieces, and all on which it
// depends how they go: how fast the player learns, and on which part of the days
// with minutes they have played of late, too.
func (k *call) future(from repertoire.Day, pieces []schedule.Candidate) (f schedule.Future, err error) {
	f = schedule.Future{From: from, Pieces: pieces, OldPiece: k.settings.OldPiece > 0}
	if f.Calendar, _, err = k.store.Calendar(k.settings.Minutes); err != nil {
		return f, err
	}
	if f.Concerts, err = k.store.Concerts(); err != nil {
		return f, err
	}
	late, err := k.store.PlaysBetween(schedule.RegularSince(k.day), k.day-1)
	if err != nil {
		return f, err
	}
	begun, err := k.store.Begun(k.day)
	f.Pace = schedule.PaceOf(pieces, begun, schedule.Regularity(k.day, f.Calendar, late))
	return f, err
}

// futures returns what is looked into, one for each of the minutes, and their
// names.
func (k *call) futures() (labels []any, all []schedule.Ahead, err error) {
	one := schedule.Ahead{}
	if one.Days, err = number(k.Context, "days"); err != nil {
		return nil, nil, err
	}
	if one.Days < 1 || one.Days > mostOutlookDays {
		return nil, nil, refuse("days %d are outside 1 to %d", one.Days, mostOutlookDays)
	}
	from, err := k.toCome()
	if err != nil {
		return nil, nil, err
	}
	pieces, err := k.tried(from)
	if err != nil {
		return nil, nil, err
	}
	if one.Future, err = k.future(from, pieces); err != nil {
		return nil, nil, err
	}
	if !k.IsSet("minutes") {
		return []any{"week"}, []schedule.Ahead{one}, nil
	}
	for _, word := range strings.Split(k.String("minutes"), ",") {
		minutes, err := strconv.Atoi(strings.TrimSpace(word))
		if err != nil {
			return nil, nil, refuse("--minutes takes whole numbers with commas between, not %q", word).trying("dohra outlook --minutes 20,30,45")
		}
		if minutes < 1 || minutes > db.MaxMinutes {
			return nil, nil, refuse("minutes %d are outside 1 to %d", minutes, db.MaxMinutes)
		}
		f := one
		for i, before := range f.Calendar.Week {
			if before > 0 {
				f.Calendar.Week[i] = minutes
			}
		}
		labels, all = append(labels, minutes), append(all, f)
	}
	return labels, all, nil
}

// tried returns the pieces, those of --rest set aside, and those of --add.
func (k *call) tried(from repertoire.Day) ([]schedule.Candidate, error) {
	pieces, err := k.morningOf(from)
	if err != nil {
		return nil, err
	}
	if k.NArg() > 0 && !k.IsSet("rest") {
		return nil, misuse("outlook takes words after --rest alone, not %q", k.Args().First()).trying("dohra outlook --help")
	}
	for _, text := range append(k.StringSlice("rest"), k.Args().Slice()...) {
		found, err := k.findSeveral(text)
		if err != nil {
			return nil, err
		}
		for _, c := range found {
			i := slices.IndexFunc(pieces, func(p schedule.Candidate) bool { return p.ID == c.ID })
			pieces[i].Resting = k.day
		}
	}
	added, err := k.added(pieces)
	return append(pieces, added...), err
}

// usualGoal is the goal of a new piece where no other of its kind tells one,
// matras/min (our choice).
const usualGoal = 120

// added returns the new pieces of --add, each with the middle goal of its kind.
func (k *call) added(pieces []schedule.Candidate) (added []schedule.Candidate, err error) {
	if !k.IsSet("add") {
		if k.IsSet("kind") {
			return nil, misuse("--kind says what --add adds").trying("dohra outlook --add 5 --kind %s", k.String("kind"))
		}
		return nil, nil
	}
	n, err := number(k.Context, "add")
	if err != nil {
		return nil, err
	}
	if n < 1 || n > mostAdded {
		return nil, refuse("pieces %d are outside 1 to %d", n, mostAdded)
	}
	kind := repertoire.Kind("kaida")
	if k.IsSet("kind") {
		if kind, err = repertoire.ParseKind(k.String("kind")); err != nil {
			return nil, refuse("%v", err)
		}
	}
	var goals []int
	last := int64(0)
	for _, c := range pieces {
		last = max(last, c.ID)
		if c.Kind == kind {
			goals = append(goals, c.Goal)
		}
	}
	slices.Sort(goals)
	goal := usualGoal
	if len(goals) > 0 {
		goal = goals[len(goals)/2]
	}
	for i := range n {
		p := repertoire.Piece{ID: last + int64(i) + 1, Kind: kind, Start: schedule.StartFor(goal), Goal: goal, Resting: repertoire.Never}
		added = append(added, schedule.Candidate{Piece: p, Standing: schedule.New(p.Start)})
	}
	return added, nil
}

// outlookTable is the outlook for machines and documents.
func outlookTable(labels []any, futures []schedule.Ahead, outlooks []schedule.Outlook) table {
	t := table{columns: []column{
		{key: "minutes", head: "minutes a day", right: true},
		{key: "days", head: "days", right: true},
		{key: "pieces", head: "pieces", right: true},
		{key: "ready", head: "ready at the end", right: true},
		{key: "ready_low", head: "at least, 8 of 10 times", right: true},
		{key: "ready_high", head: "at most", right: true},
		{key: "slipped", head: "slipped", right: true},
		{key: "hold_minutes", head: "minutes a day to hold all then", right: true},
		{key: "new_a_month", head: "new pieces a month", right: true},
		{key: "next_new", head: "next new piece"},
	}}
	for i, o := range outlooks {
		t.add(labels[i], futures[i].Days, len(schedule.Awake(futures[i].From, futures[i].Pieces)), math.Round(o.Ready.Mean), math.Round(o.Ready.Low), highest(o, futures[i]),
			math.Round(o.Slipped.Mean), int(math.Ceil(o.Hold)), math.Round(10*o.Taken)/10, nextNew(o))
	}
	return t
}

// outlookScreen is the outlook for a terminal.
func outlookScreen(labels []any, futures []schedule.Ahead, outlooks []schedule.Outlook) table {
	t := table{columns: []column{
		{head: "min\na day", right: true},
		{head: "ready at\nthe end", right: true},
		{head: "8 of 10\ntimes", right: true},
		{head: "\nslipped", right: true},
		{head: "min a day\nto hold then", right: true},
		{head: "new pieces\na month", right: true},
		{head: "next new\npiece"},
	}}
	for i, o := range outlooks {
		t.add(labels[i], math.Round(o.Ready.Mean), fmt.Sprintf("%.0f-%.0f", o.Ready.Low, highest(o, futures[i])), math.Round(o.Slipped.Mean),
			int(math.Ceil(o.Hold)), fmt.Sprintf("%.1f", o.Taken), nextNew(o))
	}
	return t
}

// highest returns the high end of the range, of no more pieces than there are.
func highest(o schedule.Outlook, f schedule.Ahead) float64 {
	return math.Round(min(o.Ready.High, float64(len(schedule.Awake(f.From, f.Pieces)))))
}

func nextNew(o schedule.Outlook) any {
	if o.Next == repertoire.Never {
		return nil
	}
	return o.Next.String()
}

// outlookLine says what it goes by.
func outlookLine(f schedule.Ahead) string {
	line := ""
	if upkeep := int(math.Ceil(schedule.Upkeep(schedule.Awake(f.From, f.Pieces)))); upkeep > 0 {
		line = fmt.Sprintf("To hold all that was kept takes about %s a day now. ", plural(upkeep, "minute"))
	}
	line += "Ready is within 3 % of the goal. The plans are tried on ten simulated players, made from what is believed of you; " +
		"concerts, days off and absences are kept."
	if f.Pace.Shows < 1 {
		line += fmt.Sprintf(" You played on %.0f of 100 days with minutes, and so do they.", 100*f.Pace.Shows)
	}
	return line
}
