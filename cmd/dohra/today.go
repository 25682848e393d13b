package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/schedule"
)

func todayCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:  "today",
		Usage: "what to play today: pieces, tempos, minutes, and why",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "minutes", Usage: "plan that many `MINUTES`, 1-720 (a setting if not given)"},
			&cli.BoolFlag{Name: "bols", Usage: "print the bols of each turn", DisableDefaultText: true},
		},
		Action: d.with(reads, runToday),
	}
}

const maxDayMinutes = 720

func runToday(k *call) error {
	minutes, err := minutesFlag(k.Context, k.settings.Minutes, maxDayMinutes)
	if err != nil {
		return err
	}
	p, err := planDay(k, minutes)
	if err != nil {
		return err
	}
	switch k.page.format {
	case "json":
		return p.json(k)
	case "csv":
		return k.page.print(p.turnTable())
	case "markdown", "html":
		return p.document(k)
	}
	return p.screen(k)
}

// A dayPlan is a day's turns with what was played of them.
type dayPlan struct {
	minutes int
	empty   bool // there is no piece at all, not even a resting one
	turns   []schedule.Turn
	denied  []schedule.Denied
	morning morning
	plays   map[int64][]schedule.Play // of the day, by piece
	off     []int64                   // pieces played on the day without a turn
}

// morning gives the pieces as they stood when the day began.
type morning interface {
	Candidates(ids []int64) ([]schedule.Candidate, error)
}

// planDay makes the plan of the day, the same at any hour.
func planDay(k *call, minutes int) (p dayPlan, err error) {
	began, err := k.store.Morning(k.day)
	if err != nil {
		return p, err
	}
	claims, err := began.Claims()
	if err != nil {
		return p, err
	}
	taken, denied := schedule.Choose(k.day, minutes, claims)
	chosen, err := began.Candidates(ids(taken))
	if err != nil {
		return p, err
	}
	p = dayPlan{
		minutes: minutes, morning: began,
		turns: schedule.Arrange(k.day, minutes, chosen), plays: map[int64][]schedule.Play{},
	}
	if p.empty, err = k.store.Empty(); err != nil {
		return p, err
	}
	plays, err := k.store.PlaysOn(k.day)
	for _, play := range plays {
		hasTurn := slices.ContainsFunc(p.turns, func(t schedule.Turn) bool { return t.ID == play.Piece })
		if !hasTurn && p.plays[play.Piece] == nil {
			p.off = append(p.off, play.Piece)
		}
		p.plays[play.Piece] = append(p.plays[play.Piece], play)
	}
	p.denied = slices.DeleteFunc(denied, func(d schedule.Denied) bool { return p.plays[d.Piece] != nil })
	return p, err
}

func ids(claims []schedule.Claim) []int64 {
	list := make([]int64, len(claims))
	for i, c := range claims {
		list[i] = c.Piece
	}
	return list
}

// left returns the first n of the pieces that have no turn, and why.
func (p dayPlan) left(k *call, n int) ([]schedule.LeftOut, error) {
	list := make([]int64, min(n, len(p.denied)))
	why := map[int64]schedule.Denial{}
	for i := range list {
		list[i] = p.denied[i].Piece
		why[list[i]] = p.denied[i].Denial
	}
	found, err := p.morning.Candidates(list)
	left := make([]schedule.LeftOut, len(found))
	for i, c := range found {
		left[i] = schedule.LeftOut{Candidate: c, Why: schedule.WhyLeft(k.day, c, why[c.ID])}
	}
	return left, err
}

// planned returns the sum of the turns' minutes.
func (p dayPlan) planned() int { return schedule.Plan{Turns: p.turns}.Minutes() }

// cautionFrom is how many planned minutes call for a word of caution.
const cautionFrom = 20

// caution is the usual advice: a break of ten minutes in the hour, a day off in
// the week, and less after time away (J. Horvath, "Playing (Less) Hurt", as
// quoted in newspapers, 2009).
func (p dayPlan) caution() string {
	if p.planned() < cautionFrom {
		return ""
	}
	return "Rest your hands ten minutes in the hour, and stop when it hurts. This is no " +
		"medical advice: for pain that stays, see a teacher or a clinician."
}

// turnTable is the plan for machines and documents.
func (p dayPlan) turnTable() table {
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
	}}
	for _, turn := range p.turns {
		t.add(turn.ID, turn.Title, string(turn.Kind), turn.Tala, turn.Stage.String(),
			turn.Begin, turn.Target, turn.Goal, turn.Minutes, turn.Why, len(p.plays[turn.ID]) > 0)
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
		Caution string `json:"caution"`
	}{k.day.String(), p.minutes, p.planned(), p.turnTable(), leftTable(left), p.caution()})
}

// document writes the plan as Markdown or HTML.
func (p dayPlan) document(k *call) error {
	left, err := p.left(k, len(p.denied))
	if err != nil {
		return err
	}
	k.page.heading(p.headline(k))
	if err := k.page.print(p.turnTable()); err != nil {
		return err
	}
	if len(left) > 0 {
		k.page.block("")
		if err := k.page.print(leftTable(left)); err != nil {
			return err
		}
	}
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
	k.page.paragraph(p.caution())
	return nil
}

// headline is the day and its minutes.
func (p dayPlan) headline(k *call) string {
	line := fmt.Sprintf("%s: %d of %d minutes planned", k.day.Long(), p.planned(), p.minutes)
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

// manyFree is how many minutes without a turn are worth a word.
const manyFree = 10

// leftShown is how many of the pieces left out a screen names.
const leftShown = 6

func (p dayPlan) screen(k *call) error {
	if p.empty {
		k.sayEmpty()
		return nil
	}
	k.say("%s\n", p.headline(k))
	if len(p.turns) == 0 {
		k.say("%s", p.nothing())
	} else if err := k.page.print(p.screenTable()); err != nil {
		return err
	}
	if k.Bool("bols") {
		for _, t := range p.turns {
			if t.Bols != "" {
				k.say("\n%s\n%s", t.Title, indentLines(t.Bols))
			}
		}
	}
	off, err := p.offLine()
	if err != nil {
		return err
	}
	if off != "" {
		k.say("\n%s", wrap(off, k.page.width))
	}
	if err := p.screenLeft(k); err != nil {
		return err
	}
	if c := p.caution(); c != "" {
		k.say("\n%s", wrap(c, leastWidth))
	}
	return nil
}

// nothing says what to do on a day without turns.
func (p dayPlan) nothing() string {
	if len(p.denied) > 0 && p.denied[0].Denial == schedule.NoTime {
		return fmt.Sprintf("Too few minutes: the first turn of the day takes %d.", p.denied[0].Least)
	}
	return "Nothing is due. Play what you like, and log it with: dohra played PIECE"
}

// screenTable is the plan for a terminal: two lines a turn, the reason under
// the title and the tala under the kind.
func (p dayPlan) screenTable() table {
	t := table{columns: []column{
		{head: "", right: true},
		{head: "\npiece", grow: true},
		{head: "\nkind"},
		{head: "\nstart", right: true},
		{head: "matras/min\ntarget", right: true},
		{head: "\ngoal", right: true},
		{head: "\nmin", right: true},
	}}
	for i, turn := range p.turns {
		minutes := fmt.Sprint(turn.Minutes)
		if len(p.plays[turn.ID]) > 0 {
			minutes += "\ndone"
		}
		t.add(i+1, turn.Title+"\n"+turn.Why, string(turn.Kind)+"\n"+turn.Tala, turn.Begin, turn.Target, turn.Goal, minutes)
	}
	return t
}

// offLine names what was played off the plan, "" for nothing.
func (p dayPlan) offLine() (string, error) {
	pieces, err := p.morning.Candidates(p.off)
	var names []string
	for _, c := range pieces {
		plays := p.plays[c.ID]
		last := plays[len(plays)-1]
		names = append(names, fmt.Sprintf("%s (%d %s)", c.Title, last.Tempo, last.Clarity))
	}
	if len(names) == 0 || err != nil {
		return "", err
	}
	return "Also played: " + strings.Join(names, ", ") + ".", nil
}

// screenLeft names what was due but left out, and counts the new pieces that
// have to wait.
func (p dayPlan) screenLeft(k *call) error {
	crowded, tooEarly := 0, 0
	due := p
	due.denied = nil
	for _, d := range p.denied {
		switch d.Denial {
		case schedule.NoTime:
			due.denied = append(due.denied, d)
		case schedule.Crowded:
			crowded++
		case schedule.TooEarly:
			tooEarly++
		}
	}
	left, err := due.left(k, leftShown)
	if err != nil {
		return err
	}
	if len(left) > 0 {
		k.say("")
		if err := k.page.print(leftTable(left)); err != nil {
			return err
		}
		if more := len(due.denied) - len(left); more > 0 {
			k.say("and %d more, for which the minutes ran out too.", more)
		}
	}
	if free := p.minutes - p.planned(); len(p.turns) > 0 && len(due.denied) == 0 && free >= manyFree {
		k.say("\nNothing more is due: the other %d minutes are yours.", free)
	}
	if line := waitingLine(crowded, tooEarly); line != "" {
		k.say("\n%s", wrap(line, k.page.width))
	}
	return nil
}

// waitingLine counts the new pieces that have to wait, by what they wait for.
func waitingLine(crowded, tooEarly int) string {
	var reasons []string
	if tooEarly > 0 {
		reasons = append(reasons, fmt.Sprintf("%d for what must come first", tooEarly))
	}
	if crowded > 0 {
		reasons = append(reasons, fmt.Sprintf("%d until fewer are building", crowded))
	}
	if len(reasons) == 0 {
		return ""
	}
	return fmt.Sprintf("New pieces that wait: %s.", strings.Join(reasons, ", "))
}
