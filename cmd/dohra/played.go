package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func playedCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "played",
		Usage:     "log a play of a piece",
		ArgsUsage: "PIECE",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "tempo", Usage: "the `TEMPO` it was played at, matras/min"},
			&cli.StringFlag{Name: "clarity", Usage: "how it sounded, a `WORD` or 0-5: lost, broken, smudged, strained, clear, effortless"},
			&cli.StringFlag{Name: "minutes", Usage: "how many `MINUTES` it took, 1-240"},
			&cli.StringFlag{Name: "note", Usage: "a `NOTE`, one line"},
			&cli.StringFlag{Name: "line", Usage: "only line `N` of it was played, or lines 1-2"},
			&cli.BoolFlag{Name: "spoken", Usage: "its bols were spoken and not played; --tempo may be left out", DisableDefaultText: true},
			&cli.BoolFlag{Name: "sore", Usage: "playing it hurt: today's plan spares your hands", DisableDefaultText: true},
		},
		Action: d.with(writes, runPlayed),
	}
}

func runPlayed(k *call) error {
	c, err := k.piece()
	if err != nil {
		return err
	}
	play, err := newPlay(k, c)
	if err != nil {
		return err
	}
	before, after, err := k.store.Log(play)
	if err != nil {
		return err
	}
	k.say("%s: %d %s on %s%s.", after.Title, play.Tempo, play.Clarity, play.Day.Short(), unusual(play))
	k.say("Clean tempo %s, next target %s, goal %d matras/min.",
		change(cleanOn(before, play.Day), cleanOn(after, play.Day)),
		change(before.Target(play.Day, before.Goal), after.Target(play.Day, after.Goal)), after.Goal)
	k.say("It is %s.", standingLine(after, k.today))
	if play.Sore {
		k.say("%s", soreLine)
	}
	switch {
	case after.Rests(k.day):
		k.say("To have it in plans again: dohra wake %d", after.ID)
	case play.Clarity < schedule.Clear && play.Day == k.today && !play.Sore && !play.Spoken:
		k.say("Play it once more today, slower, until it is clear.")
	}
	return nil
}

// newPlay reads the play that the flags describe.
func newPlay(k *call, c schedule.Candidate) (p schedule.Play, err error) {
	for _, flag := range []string{"tempo", "clarity"} {
		if !k.IsSet(flag) && (flag != "tempo" || !k.Bool("spoken")) {
			return p, misuse("a play needs --%s", flag).trying("dohra played PIECE --tempo 96 --clarity clear")
		}
	}
	p = schedule.Play{Piece: c.ID, Day: k.day, Tempo: c.Target(k.day, c.Goal), Spoken: k.Bool("spoken"), Sore: k.Bool("sore")}
	if k.day > k.today {
		return p, refuse("%s is still to come; a play is logged when it was played", k.day)
	}
	if k.IsSet("tempo") {
		if p.Tempo, err = number(k.Context, "tempo"); err != nil {
			return p, err
		}
	}
	if p.Clarity, err = schedule.ParseClarity(k.String("clarity")); err != nil {
		return p, refuse("%v", err)
	}
	if p.Minutes, err = minutesFlag(k.Context, 0, schedule.MaxMinutes); err != nil {
		return p, err
	}
	if k.IsSet("line") {
		part, err := partOf(c.Piece, k.String("line"))
		if err != nil {
			return p, err
		}
		p = p.Of(part)
	}
	if p.Note, err = repertoire.CleanNote(k.String("note")); err != nil {
		return p, refuse("%v", err)
	}
	if err := p.Check(); err != nil {
		return p, refuse("%v", err)
	}
	return p, nil
}

// unusual tells how a play was not as most are.
func unusual(p schedule.Play) string {
	if how := p.How(); how != "played" {
		return ", " + how
	}
	return ""
}

// change writes a tempo and what it was, where it moved.
func change(before, after int) string {
	if before == after {
		return orDash(after)
	}
	return fmt.Sprintf("%s (was %s)", orDash(after), orDash(before))
}

// standingLine says where a piece stands and when it is due.
func standingLine(c schedule.Candidate, today repertoire.Day) string {
	switch {
	case c.Rests(today):
		return "resting, and " + c.StageOn(today, c.Goal).String()
	case c.Stage == schedule.Untouched:
		return "untouched"
	case c.StageOn(today, c.Goal) == schedule.Kept:
		line := "kept, at an interval of " + schedule.Days(c.SM2.Interval)
		if c.DueOn(c.Goal) < c.Due {
			line += ", but believed to fade sooner"
		}
		return line + ", due " + dueWhen(c.DueOn(c.Goal), today)
	}
	return fmt.Sprintf("%s, due %s", c.StageOn(today, c.Goal), dueWhen(c.DueOn(c.Goal), today))
}

// dueWhen writes a due day as seen from today.
func dueWhen(due, today repertoire.Day) string {
	switch {
	case due < today:
		return "since " + due.Short()
	case due == today:
		return "today"
	case due == today+1:
		return "tomorrow"
	}
	return "on " + due.Short()
}
