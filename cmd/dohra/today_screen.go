package main

import (
	"fmt"
	"strings"

	"dohra/schedule"
)

// The day's plan as a terminal shows it.

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
				k.say("\n%s\n%s", t.Title, indentLines(wrapLines(t.Bols, k.page.width-4)))
			}
		}
	}
	if line := p.remark(); line != "" {
		k.say("\n%s", wrap(line, k.page.width))
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
	for _, line := range []string{p.spared, p.caution()} {
		if line != "" {
			k.say("\n%s", wrap(line, leastWidth))
		}
	}
	return nil
}

// nothing says what to do on a day without turns.
func (p dayPlan) nothing() string {
	switch {
	case p.empty:
		return noPieces
	case p.free != "":
		return p.free
	}
	if len(p.denied) > 0 && p.denied[0].Denial == schedule.NoTime {
		return fmt.Sprintf("Too few minutes: a turn takes at least %d.", schedule.ShortestTurn)
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
	n := 0
	for _, step := range p.rows() {
		if step.Rest {
			t.add(" ", restTitle, " ", " ", " ", " ", step.Minutes)
			continue
		}
		n++
		turn, minutes := p.turns[step.Turn], fmt.Sprint(step.Minutes)
		if step.done {
			minutes += "\ndone"
		}
		why := turn.Why
		if step.Round > 1 {
			why = fmt.Sprintf("round %d of %d", step.Round, step.Of)
		}
		t.add(n, turn.Title+"\n"+why, string(turn.Kind)+"\n"+turn.Tala, turn.Begin, turn.Target, turn.Goal, minutes)
	}
	return t
}

// screenLeft names what was due but left out, and counts the new pieces that
// have to wait.
func (p dayPlan) screenLeft(k *call) error {
	crowded, tooEarly, near := 0, 0, 0
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
		case schedule.NearConcert:
			near++
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
	for _, line := range p.concertLines() {
		k.say("\n%s", wrap(line, k.page.width))
	}
	if line := p.behind.String(); line != "" {
		k.say("\n%s", wrap(line, k.page.width))
	}
	if free := p.minutes - p.planned(); len(p.turns) > 0 && len(due.denied) == 0 && free >= manyFree {
		k.say("\nNothing more is due: the other %d minutes are yours.", free)
	}
	if line := waitingLine(crowded, tooEarly, near); line != "" {
		k.say("\n%s", wrap(line, k.page.width))
	}
	return nil
}

// waitingLine counts the new pieces that have to wait, by what they wait for.
func waitingLine(crowded, tooEarly, near int) string {
	var reasons []string
	if tooEarly > 0 {
		reasons = append(reasons, fmt.Sprintf("%d for what must come first", tooEarly))
	}
	if crowded > 0 {
		reasons = append(reasons, fmt.Sprintf("%d until fewer are building", crowded))
	}
	if near > 0 {
		reasons = append(reasons, fmt.Sprintf("%d until the concert is over", near))
	}
	if len(reasons) == 0 {
		return ""
	}
	return fmt.Sprintf("New pieces that wait: %s.", strings.Join(reasons, ", "))
}
