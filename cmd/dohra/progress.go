package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func progressCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "progress",
		Usage:     "how it went: minutes, pieces won and lost, techniques; or one piece, as a chart",
		ArgsUsage: "[PIECE]",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "since", Usage: "look back to that `DAY` (twelve weeks if not given, or all plays of a piece)"},
		}, pictureFlags()...),
		Action: d.with(reads, runProgress),
	}
}

func runProgress(k *call) error {
	since, err := k.since()
	if err != nil {
		return err
	}
	if k.NArg() > 0 {
		return pieceProgress(k, since)
	}
	return allProgress(k, since)
}

// since reads --since; Never without it.
func (k *call) since() (repertoire.Day, error) {
	if !k.IsSet("since") {
		return repertoire.Never, nil
	}
	since, err := repertoire.ParseDay(k.String("since"))
	if err != nil {
		return 0, refuse("%v", err)
	}
	if since > k.day {
		return 0, refuse("%s is after %s", since, k.day)
	}
	return since, nil
}

// A road is how one piece went.
type road struct {
	schedule.Candidate
	plays    []schedule.Play
	whole    []schedule.Play // those of the whole piece that were played
	setbacks []schedule.Passage
}

// pieceProgress tells of one piece since that day.
func pieceProgress(k *call, since repertoire.Day) error {
	c, err := k.piece()
	if err != nil {
		return err
	}
	plays, err := k.store.Heard(c.Piece)
	if err != nil {
		return err
	}
	r := road{Candidate: c}
	r.Standing = schedule.New(c.Start)
	for p := range schedule.Passages(c.Start, c.Goal, plays) {
		if p.Day > k.day {
			break
		}
		r.Standing = p.After
		if p.Day < since || p.Share > 0 {
			continue // an echo moves the standing and is no play of the piece
		}
		r.plays = append(r.plays, p.Play)
		if p.Spoken || p.Line > 0 {
			continue // which says nothing of the tempo of the whole
		}
		r.whole = append(r.whole, p.Play)
		if p.SetBack() {
			r.setbacks = append(r.setbacks, p)
		}
	}
	switch {
	case k.wantsPicture() && len(r.whole) == 0:
		return refuse("there is no play of %s to draw", c.Title)
	case k.wantsPicture():
		title := drawable(r.headline(k.day), fmt.Sprintf("Piece %d: %s", c.ID, r.state(k.day)))
		return k.drawPictures(tempoPicture(title, r.whole, c.Goal, k.day))
	}
	switch k.page.format {
	case "json":
		return r.json(k)
	case "csv":
		return k.page.print(playTable(r.plays))
	case "table":
		return r.screen(k)
	}
	return r.document(k)
}

func (r road) headline(day repertoire.Day) string { return r.Title + ": " + r.state(day) }

func (r road) state(day repertoire.Day) string {
	return fmt.Sprintf("%s, clean at %s, goal %d matras/min", stageOf(r.Candidate, day), orDash(cleanOn(r.Candidate, day)), r.Goal)
}

// setbackTable says what set the piece back.
func (r road) setbackTable() table {
	t := table{columns: []column{
		{key: "day", head: "set back on"},
		{key: "tempo", head: "matras/min", right: true},
		{key: "clarity", head: "clarity"},
		{key: "clean_before", head: "clean before", right: true},
		{key: "clean_after", head: "after", right: true},
		{key: "slipped", head: "slipped"},
		{key: "days_without", head: "days since", right: true},
	}}
	for _, p := range r.setbacks {
		var without any
		if days, ok := p.Without(); ok {
			without = days
		}
		before, after := p.Clean()
		t.add(p.Day.String(), p.Tempo, p.Clarity.String(), known(before), known(after), p.Slipped(), without)
	}
	return t
}

// rowsShown is how many plays, and how many setbacks, a screen shows.
const rowsShown = 12

func (r road) screen(k *call) error {
	k.say("%s\n", r.headline(k.day))
	if len(r.plays) == 0 {
		k.say("%s", r.nothing())
		return nil
	}
	if len(r.whole) > 0 {
		k.say("%s\n", tempoChart(r.whole, r.Goal, k.day, leastWidth))
	}
	if hidden := len(r.setbacks) - rowsShown; hidden > 0 {
		k.say("The last %d of %d times it was set back:", rowsShown, len(r.setbacks))
		r.setbacks = r.setbacks[hidden:]
	}
	if len(r.setbacks) == 0 {
		k.say("Nothing has set it back.")
	} else if err := k.page.print(r.setbackTable()); err != nil {
		return err
	}
	k.say("")
	if hidden := len(r.plays) - rowsShown; hidden > 0 {
		k.say("The last %d of %d plays:", rowsShown, len(r.plays))
		r.plays = r.plays[hidden:]
	}
	return k.page.print(playTable(r.plays))
}

// nothing says what to do where there is no play to tell of.
func (r road) nothing() string {
	if r.Stage != schedule.Untouched {
		return "No play of it is logged since then."
	}
	return fmt.Sprintf("No play of it is logged. Log one: dohra played %d --tempo %d --clarity clear", r.ID, r.Start)
}

// document writes the piece as Markdown or HTML.
func (r road) document(k *call) error {
	k.page.heading(r.headline(k.day))
	if len(r.plays) == 0 {
		k.page.paragraph(r.nothing())
		return nil
	}
	if len(r.whole) > 0 {
		k.page.block(tempoChart(r.whole, r.Goal, k.day, leastWidth))
	}
	if len(r.setbacks) > 0 {
		if err := k.page.print(r.setbackTable()); err != nil {
			return err
		}
		k.page.block("")
	}
	return k.page.print(playTable(r.plays))
}

func (r road) json(k *call) error {
	return k.page.json(struct {
		ID       int64  `json:"id"`
		Title    string `json:"title"`
		Stage    string `json:"stage"`
		Clean    any    `json:"clean_tempo"`
		Goal     int    `json:"goal_tempo"`
		Plays    table  `json:"plays"`
		Setbacks table  `json:"set_back"`
	}{r.ID, r.Title, stageOf(r.Candidate, k.day), known(cleanOn(r.Candidate, k.day)), r.Goal, playTable(r.plays), r.setbackTable()})
}
