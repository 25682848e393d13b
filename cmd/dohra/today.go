package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"dohra/schedule"
)

func todayCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:  "today",
		Usage: "what to play today: pieces, tempos, minutes, and why",
		Flags: append(dayFlags(),
			&cli.BoolFlag{Name: "bols", Usage: "print the bols of each turn", DisableDefaultText: true}),
		Action: d.with(reads, runToday),
	}
}

// dayFlags are the flags of what a day holds; today and sit share them.
func dayFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "minutes", Usage: "plan that many `MINUTES`, 1-720 (those of the week if not given)"},
		&cli.BoolFlag{Name: "spoken", Usage: "minutes without drums: the bols are spoken on the tala, not played", DisableDefaultText: true},
		&cli.BoolFlag{Name: "no-rests", Usage: "leave out the rests", DisableDefaultText: true},
	}
}

func runToday(k *call) error {
	p, err := planToday(k)
	if err != nil {
		return err
	}
	switch k.page.format {
	case "json":
		return p.json(k)
	case "csv":
		return k.page.print(p.withConcert(p.turnTable(p.wholes())))
	case "markdown":
		return p.document(k)
	case "html":
		return p.sheet(k)
	}
	return p.screen(k)
}

// turnTable is the plan for machines and documents.
func (p dayPlan) turnTable(rows []row) table {
	t := table{columns: []column{
		{key: "id", head: "id", right: true},
		{key: "title", head: "piece"},
		{key: "kind", head: "kind"},
		{key: "tala", head: "tala"},
		{key: "stage", head: "stage"},
		{key: "start_tempo", head: "start, matras/min", right: true},
		{key: "target_tempo", head: "target, matras/min", right: true},
		{key: "goal_tempo", head: "goal, matras/min", right: true},
		{key: "minutes", head: "minutes", right: true},
		{key: "why", head: "why"},
		{key: "done", head: "done"},
		{key: "spoken", head: "spoken"},
	}}
	for _, step := range rows {
		if step.Rest {
			t.add(nil, restTitle, nil, nil, nil, nil, nil, nil, step.Minutes, nil, nil, nil)
			continue
		}
		turn := p.turns[step.Turn]
		t.add(turn.ID, turn.Title, string(turn.Kind), turn.Tala, turn.StageOn(p.day, turn.Goal).String(),
			turn.Begin, turn.Target, turn.Goal, step.Minutes, turn.Why, step.done, turn.Spoken)
	}
	return t
}

func leftTable(left []schedule.LeftOut) table {
	t := table{columns: []column{
		{key: "id", head: "id", right: true},
		{key: "title", head: "left out", grow: true},
		{key: "why", head: "why"},
	}}
	for _, l := range left {
		t.add(l.ID, l.Title, l.Why)
	}
	return t
}

func (p dayPlan) json(k *call) error {
	left, err := p.left(k, len(p.denied))
	if err != nil {
		return err
	}
	return k.page.json(struct {
		Day     string `json:"day"`
		Minutes int    `json:"minutes"`
		Planned int    `json:"planned_minutes"`
		Turns   table  `json:"turns"`
		Left    table  `json:"left_out"`
		Old     string `json:"old_piece,omitempty"`
		Caution string `json:"caution"`
		Rounds  table  `json:"rounds"`
		Rests   table  `json:"rests"`
		Spared  string `json:"spared"`
		Concert any    `json:"concert"`
		Slid    table  `json:"let_slide"`
	}{k.day.String(), p.minutes, p.planned(), p.turnTable(p.wholes()), leftTable(left), p.old, p.caution(), p.roundTable(), p.restTable(), p.spared, p.nextConcert(), p.slidTable()})
}

// roundTable is the order in which turns and parts of them are played, for
// machines.
func (p dayPlan) roundTable() table {
	t := table{columns: []column{{key: "id"}, {key: "round"}, {key: "of"}, {key: "lines"}, {key: "tempo"}, {key: "minutes"}, {key: "done"}}}
	for _, step := range p.steps {
		if !step.Rest {
			t.add(p.turns[step.Turn].ID, step.Round, step.Of, known(step.Part.Lines()), step.Tempo, step.Minutes, p.done(step))
		}
	}
	return t
}

// restTable is the rests between rounds, for machines.
func (p dayPlan) restTable() table {
	t := table{columns: []column{{key: "after_rounds"}, {key: "minutes"}}}
	rounds := 0
	for _, step := range p.steps {
		if step.Rest {
			t.add(rounds, step.Minutes)
		} else {
			rounds++
		}
	}
	return t
}

// document writes the plan as Markdown.
func (p dayPlan) document(k *call) error {
	left, err := p.left(k, len(p.denied))
	if err != nil {
		return err
	}
	k.page.heading(p.headline(k))
	k.page.paragraph(p.free)
	if err := k.page.print(p.turnTable(p.rows())); err != nil {
		return err
	}
	if len(left) > 0 {
		k.page.block("")
		if err := k.page.print(leftTable(left)); err != nil {
			return err
		}
	}
	for _, line := range p.concertLines() {
		k.page.paragraph(line)
	}
	k.page.paragraph(p.remark())
	off, err := p.offLine()
	if err != nil {
		return err
	}
	k.page.paragraph(off)
	if k.Bool("bols") {
		for _, t := range p.turns {
			if t.Bols != "" {
				k.page.paragraph(t.Title)
				k.page.block(t.Bols)
			}
		}
	}
	k.page.paragraph(p.spared)
	k.page.paragraph(p.caution())
	return nil
}

// headline is the day and its minutes.
func (p dayPlan) headline(k *call) string {
	line := fmt.Sprintf("%s: %d of %d minutes planned", k.day.Long(), p.planned(), p.minutes)
	if rests := p.rests(); rests > 0 {
		line += fmt.Sprintf(" and %d of rest", rests)
	}
	played := 0
	for _, plays := range p.plays {
		for _, play := range plays {
			played += play.Minutes
		}
	}
	if played > 0 {
		line += fmt.Sprintf(", %d logged", played)
	}
	return line
}
