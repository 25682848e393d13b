package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func concertCommand(d *desk) *cli.Command {
	day := &cli.StringFlag{Name: "day", Usage: "the `DAY` it is on, YYYY-MM-DD"}
	minutes := &cli.StringFlag{Name: "minutes", Usage: "the `MINUTES` of its slot, 1-480"}
	tala := &cli.StringSliceFlag{Name: "tala", Usage: "a `TALA` it is in, or several with commas between; may be given more than once"}
	return &cli.Command{
		Name:   "concert",
		Usage:  "performances: their sets, and whether they will be ready",
		Action: d.with(reads, listConcerts),
		Subcommands: []*cli.Command{
			{Name: "add", Usage: "take in a concert", ArgsUsage: "NAME",
				Flags: []cli.Flag{day, minutes, tala}, Action: d.with(begins, addConcert)},
			{Name: "edit", Usage: "change its day, slot or talas, or take the order that show --arrange proposes", ArgsUsage: "NAME",
				Flags:  []cli.Flag{day, minutes, tala, &cli.BoolFlag{Name: "arrange", Usage: "take the proposed order", DisableDefaultText: true}},
				Action: d.with(writes, editConcert)},
			{Name: "put", Usage: "put a piece into the set; NAME is the whole name, or one word or quoted part of it", ArgsUsage: "NAME PIECE",
				Flags: []cli.Flag{
					&cli.StringFlag{Name: "tempo", Usage: "its performance `TEMPO`, matras/min (the goal if not given)"},
					&cli.StringFlag{Name: "rounds", Usage: "play that many `ROUNDS`, 1-200"},
					&cli.StringFlag{Name: "minutes", Usage: "play it for so many `MINUTES`"},
					&cli.StringFlag{Name: "place", Usage: "its `PLACE` in the order, 1 for the first (the last if not given)"},
				}, Action: d.with(writes, putPiece)},
			{Name: "take", Usage: "take a piece out of the set", ArgsUsage: "NAME PIECE", Action: d.with(writes, takePiece)},
			{Name: "list", Usage: "all concerts, and how they went", Action: d.with(reads, listConcerts)},
			{Name: "show", Usage: "the running order, how it flows, and whether it will be ready; afterwards, what came of it", ArgsUsage: "[NAME]",
				Flags: []cli.Flag{
					&cli.BoolFlag{Name: "arrange", Usage: "propose an order", DisableDefaultText: true},
					&cli.BoolFlag{Name: "fill", Usage: "propose kept pieces for the minutes left", DisableDefaultText: true},
				}, Action: d.with(reads, showConcert)},
			{Name: "plan", Usage: "the days until it: minutes, run-throughs, pieces and targets", ArgsUsage: "[NAME]", Action: d.with(reads, planConcert)},
			{Name: "calendar", Usage: "write its days as iCalendar", ArgsUsage: "[NAME]", Action: d.with(reads, calendarOf)},
			{Name: "played", Usage: "log the whole set: all clear, but for the exceptions", ArgsUsage: "NAME",
				Flags: []cli.Flag{
					&cli.StringSliceFlag{Name: "but", Usage: "`PIECE=CLARITY` of one that was not clear; may be given more than once"},
					&cli.StringFlag{Name: "note", Usage: "what happened, one line, kept with the concert"},
				}, Action: d.with(writes, concertPlayed)},
			{Name: "drop", Usage: "forget a concert; its pieces and plays stay", ArgsUsage: "NAME", Action: d.with(writes, dropConcert)},
		},
	}
}

// farthest is how many days ahead a concert may be, and is foreseen: a year that
// was mistyped would be centuries of simulated days (our choice).
const farthest = 731

const concertExample = `dohra concert add "Spring recital" --day 2027-03-20 --minutes 30`

// concert returns the concert that text means: its name, or a part of it that no
// other has. Without text it is the next to come.
func (k *call) concert(text string) (c schedule.Concert, err error) {
	all, err := k.store.Concerts()
	if err != nil {
		return c, err
	}
	var names []string
	var found []schedule.Concert
	for _, one := range all {
		switch name := repertoire.Fold(one.Name); {
		case text == "" && one.Day >= k.day:
			return one, nil
		case text != "" && name == repertoire.Fold(text):
			return one, nil
		case text != "" && strings.Contains(name, repertoire.Fold(text)):
			found = append(found, one)
		}
		names = append(names, one.Name)
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		names = names[:0]
		for _, one := range found {
			names = append(names, one.Name)
		}
		return c, refuse("%q may be any of %s", text, some(names)).trying("more of the name")
	case text == "" && len(all) > 0:
		return c, refuse("no concert is to come; the last was %s", names[len(names)-1]).trying("dohra concert show %q", names[len(names)-1])
	case text == "":
		return c, refuse("no concert is to come").trying("%s", concertExample)
	case len(all) == 0:
		return c, refuse("there is no concert %q, and no other", text).trying("%s", concertExample)
	}
	slices.Reverse(names) // the latest first
	return c, refuse("there is no concert %q; known: %s", text, some(names)).trying("dohra concert list")
}

func words(c *cli.Context) string { return strings.Join(c.Args().Slice(), " ") }

// namedConcert returns the concert that the words name, which must be there.
func (k *call) namedConcert() (schedule.Concert, error) {
	if words(k.Context) == "" {
		return schedule.Concert{}, misuse("which concert?").trying("dohra concert list")
	}
	return k.concert(words(k.Context))
}

func addConcert(k *call) error {
	if strings.TrimSpace(words(k.Context)) == "" {
		return misuse("a concert has a name").trying("%s", concertExample)
	}
	name, err := repertoire.CleanTitle(words(k.Context))
	if err != nil {
		return refuse("%q is no name of a concert: %v", words(k.Context), err)
	}
	if !k.IsSet("day") || !k.IsSet("minutes") {
		return misuse("a concert has a day and a slot in minutes").trying("%s", concertExample)
	}
	kept := schedule.Concert{Name: name, Edited: k.edited(0)}
	if err := k.concertFlags(&kept); err != nil {
		return err
	}
	err = k.store.ChangeConcert(name, func(c *schedule.Concert) error {
		if c.Minutes > 0 {
			return refuse("there is a concert %s already, on %s", c.Name, c.Day.Short()).trying("dohra concert edit %q --day DAY", c.Name)
		}
		*c = kept
		return nil
	})
	if err == nil {
		k.say("%s: %s, %s. To put pieces in: dohra concert put %q PIECE", name, kept.Day.Short(), plural(kept.Minutes, "minute"), name)
		err = k.sayAway(kept)
	}
	return err
}

func (k *call) sayAway(c schedule.Concert) error {
	line, err := k.awayLine(c)
	if line != "" {
		k.say("%s", line)
	}
	return err
}

func editConcert(k *call) error {
	c, err := k.namedConcert()
	if err != nil {
		return err
	}
	pieces, err := k.piecesByID()
	if err != nil {
		return err
	}
	h, err := k.happened(c)
	if err != nil {
		return err
	}
	if h.logged && k.IsSet("day") {
		return refuse("%s was played on %s, and that stays", c.Name, c.Day.Short()).trying("%s", concertExample)
	}
	if err := k.concertFlags(&c); err != nil {
		return err
	}
	err = k.store.ChangeConcert(c.Name, func(now *schedule.Concert) error {
		now.Day, now.Minutes, now.Talas, now.Edited = c.Day, c.Minutes, c.Talas, k.edited(now.Edited)
		if k.Bool("arrange") {
			now.Set = now.Proposed(pieces)
		}
		c = *now
		return nil
	})
	if err != nil {
		return err
	}
	items := c.Running(pieces)
	if k.Bool("arrange") && k.page.format != "table" {
		return k.page.print(orderTable(items))
	}
	k.say("%s: %s, %s, %s.", c.Name, c.Day.Short(), plural(c.Minutes, "minute"), plural(len(c.Set), "piece"))
	if k.Bool("arrange") && len(items) > 0 {
		k.say("")
		if err := k.page.print(orderTable(items)); err != nil {
			return err
		}
		k.say("")
	}
	for _, line := range k.concerns(c, items) {
		k.say("%s", line)
	}
	return k.sayAway(c)
}

// concertFlags changes the concert as the flags say.
func (k *call) concertFlags(c *schedule.Concert) (err error) {
	if k.IsSet("day") {
		if c.Day, err = repertoire.ParseDay(k.String("day")); err != nil {
			return refuse("%v", err)
		}
		if c.Day < k.day {
			return refuse("%s is past; a concert is planned for today or later", c.Day)
		}
		if c.Day > k.day+farthest {
			return refuse("%s is more than two years ahead; a concert is planned for less", c.Day)
		}
	}
	if k.IsSet("minutes") {
		if c.Minutes, err = minutesFlag(k.Context, 0, schedule.MaxSlot); err != nil {
			return err
		}
	}
	if k.IsSet("tala") {
		c.Talas = nil
		for name := range strings.SplitSeq(strings.Join(k.StringSlice("tala"), ","), ",") {
			tala, err := k.findTala(strings.TrimSpace(name))
			if err != nil {
				return err
			}
			if !slices.Contains(c.Talas, tala.Name) {
				c.Talas = append(c.Talas, tala.Name)
			}
		}
	}
	return nil
}

func dropConcert(k *call) error {
	c, err := k.namedConcert()
	if err != nil {
		return err
	}
	if err := k.store.DropConcert(c.Name); err != nil {
		return err
	}
	k.say("%s, on %s, is dropped. Its pieces stay.", c.Name, c.Day.Short())
	return nil
}

func listConcerts(k *call) error {
	all, err := k.store.Concerts()
	if err != nil {
		return err
	}
	if len(all) == 0 && k.page.format == "table" {
		k.say("No concert is planned. To plan one: %s", concertExample)
		return nil
	}
	pieces, err := k.piecesByID()
	if err != nil {
		return err
	}
	screen := k.page.format == "table"
	var notes []string
	t := table{columns: []column{
		{key: "name", head: "\nconcert", grow: true},
		{key: "day", head: "\nday"},
		{key: "days_left", head: "days\nleft", right: true},
		{key: "minutes", head: "slot,\nmin", right: true},
		{key: "length", head: "set,\nmin:s", right: true},
		{key: "pieces", head: "\npieces", right: true},
		{key: "went", head: "\nhow it went"},
	}}
	if !screen {
		t.columns = append(t.columns, column{key: "note", head: "note"})
	}
	for _, c := range all {
		h, err := k.happened(c)
		if err != nil {
			return err
		}
		left, went := daysLeft(c, k.day), any(nil)
		if k.over(h) {
			left, went = nil, h.String()
		}
		row := []any{c.Name, c.Day.String(), left, c.Minutes, setLength(c.Running(pieces)), len(c.Set), went}
		if !screen {
			row = append(row, known(c.Note))
		} else if c.Note != "" {
			notes = append(notes, c.Name+": "+c.Note)
		}
		t.add(row...)
	}
	if err := k.page.print(t); err != nil {
		return err
	}
	for i, note := range notes {
		if i == 0 {
			k.say("")
		}
		k.say("%s", note)
	}
	return nil
}

// setLength is a cell: how long a set takes, nothing where that is not known of
// each piece.
func setLength(items []schedule.Item) any {
	seconds, unknown := schedule.Length(items)
	if unknown > 0 {
		return nil
	}
	return lengthCell(seconds)
}

// daysLeft returns the days until a concert, nothing where it is past.
func daysLeft(c schedule.Concert, today repertoire.Day) any {
	if c.Day < today {
		return nil
	}
	return int(c.Day - today)
}

// clock writes seconds as minutes and seconds.
func clock(seconds int) string { return fmt.Sprintf("%d:%02d", seconds/60, seconds%60) }

// piecesByID returns every piece, as evening does.
func (k *call) piecesByID() (map[int64]schedule.Candidate, error) {
	all, err := k.evening()
	pieces := make(map[int64]schedule.Candidate, len(all))
	for _, c := range all {
		pieces[c.ID] = c
	}
	return pieces, err
}
