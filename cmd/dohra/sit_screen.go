package main

import (
	"fmt"
	"math/big"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// What a player reads at the instrument: one turn, on a screen of 80 columns and
// 24 lines, from a metre away.

// screenLines is how many lines a turn may take. Above it stands what was saved
// last, below it the prompt, and what is saved next.
const screenLines = 20

// clear empties a terminal, and tells what was saved last.
func (s *sitting) clear() {
	if s.keys.lines != nil {
		s.say("")
		return
	}
	fmt.Fprint(s.out, "\x1b[H\x1b[2J")
	s.say("%s", s.saved)
}

// show prints a step.
func (s *sitting) show(i int, t turn) {
	s.clear()
	text := s.turnText(i, t)
	s.say("%s\n", text)
}

// turnText is the screen of a step.
func (s *sitting) turnText(i int, t turn) string {
	step := s.plan.steps[i]
	at, of := 0, 0
	for j, other := range s.plan.steps {
		if !other.Rest {
			of++
			if j <= i {
				at++
			}
		}
	}
	progress := fmt.Sprintf("Turn %d of %d, %d of %d minutes", at, of, s.minutes, s.plan.planned())
	title := fmt.Sprintf("%s, %s in %s", t.Title, t.Kind, t.Tala)
	if step.Of > 1 && t.ID == s.plan.turns[step.Turn].ID {
		title += fmt.Sprintf(" (round %d of %d)", step.Round, step.Of)
	}
	above := progress + "\n\n" + wrap(title, leastWidth) + "\n"
	v, err := viewOf(s.call, t.Candidate)
	below := s.ladderText(v, t, step.Minutes) + "\n\n" + wrap("Why: "+t.Why+".", leastWidth)
	if err != nil {
		return above + "\n" + below
	}
	if start := startText(v); start != "" {
		below = start + "\n" + below
	}
	room := screenLines - strings.Count(above+"\n\n"+below, "\n") - 1
	bols := bolText(v, room)
	if bols == "" {
		return above + "\n" + below
	}
	return above + "\n" + bols + "\n\n" + below
}

// startText says where a composition that does not begin on sam begins.
func startText(v view) string {
	if v.score == nil || v.slots[0].Text != "" {
		return ""
	}
	after := repertoire.StartsAfter(v.score.piece.Kind, v.score.tala, v.score.Notation, big.NewRat(1, 1))
	return "Start on " + repertoire.Place(after) + "."
}

// ladderText is the tempos of a turn, each with its rounds and strokes a second.
func (s *sitting) ladderText(v view, t turn, minutes int) string {
	rows := [3][]string{{"matras/min"}, {"rounds"}, {"strokes/s"}}
	for _, rung := range t.Ladder(minutes) {
		rounds, speed := "-", "-"
		if rung.Rounds > 0 {
			rounds = fmt.Sprint(rung.Rounds)
		}
		if v.score != nil {
			speed = decimal(v.score.Load().PerSecond(rung.Tempo))
		}
		for i, cell := range []string{fmt.Sprint(rung.Tempo), rounds, speed} {
			rows[i] = append(rows[i], cell)
		}
	}
	var lines []string
	for _, row := range rows {
		line := fmt.Sprintf("%-10s", row[0])
		for _, cell := range row[1:] {
			line += fmt.Sprintf("%8s", cell)
		}
		lines = append(lines, line)
	}
	lines[0] += fmt.Sprintf("    goal %d", t.Goal)
	lines[1] += fmt.Sprintf("    %s", plural(minutes, "minute"))
	return strings.Join(lines, "\n")
}

// bolText lays bols out on the tala in at most that many lines: as few vibhags
// a line as fit. What fits in no way is cut, and says so.
func bolText(v view, room int) string {
	if v.score == nil {
		return wrap(v.raw, leastWidth)
	}
	var lines []string
	for n := 1; n <= len(v.score.tala.Vibhags); n++ {
		lines = bolLines(v.slots, n)
		if len(lines) <= room {
			return strings.Join(lines, "\n")
		}
	}
	lines = append(lines[:max(0, room-1)], fmt.Sprintf("... %d lines more: dohra show %d", len(lines)-room+1, v.score.piece.ID))
	return strings.Join(lines, "\n")
}

// bolLines writes a layout with n vibhags a line, each line with the matra and
// the sign that it begins with. A line too long goes on in the next.
func bolLines(slots []repertoire.Slot, n int) []string {
	widest := 0
	for _, slot := range slots {
		widest = max(widest, columns(slot.Text))
	}
	var lines []string
	for _, cycle := range runs(slots, sameCycle) {
		vibhags := runs(cycle, sameVibhag)
		for len(vibhags) > 0 {
			row := vibhags[:min(n, len(vibhags))]
			vibhags = vibhags[len(row):]
			text := rowText(row, widest)
			if text == "" {
				continue
			}
			if columns(text) > leastWidth-5 {
				text = wrap(rowText(row, 0), leastWidth-5)
			}
			first := row[0][0]
			text = fmt.Sprintf("%2d %1s %s", first.Matra, first.Sign, strings.ReplaceAll(text, "\n", "\n     "))
			lines = append(lines, strings.Split(text, "\n")...)
		}
	}
	return lines
}

// rowText writes vibhags side by side, each matra at least that wide; nothing
// where nothing is played.
func rowText(vibhags [][]repertoire.Slot, widest int) string {
	var b strings.Builder
	empty := true
	for i, vibhag := range vibhags {
		if i > 0 {
			b.WriteString("| ")
		}
		for _, slot := range vibhag {
			text := slot.Text
			if text == "" {
				text = "."
			} else {
				empty = false
			}
			b.WriteString(text + strings.Repeat(" ", max(0, widest-columns(text))+1))
		}
	}
	if empty {
		return ""
	}
	return strings.TrimRight(b.String(), " ")
}

// summary tells what the sitting did.
func (s *sitting) summary() {
	s.clear()
	var begun, climbed, held, fell []string
	for _, after := range s.after {
		before := s.before[after.ID]
		was, now := cleanOn(before, s.day), cleanOn(after, s.day)
		name := fmt.Sprintf("%s (%d to %d)", after.Title, was, now)
		switch {
		case was == 0:
			begun = append(begun, fmt.Sprintf("%s (clean at %d)", after.Title, now))
		case before.StageOn(s.day, before.Goal) == schedule.Kept && after.Stage != schedule.Kept || now < was:
			fell = append(fell, name)
		case now > was:
			climbed = append(climbed, name)
		default:
			held = append(held, name)
		}
	}
	for _, part := range []struct {
		what   string
		pieces []string
	}{{"Begun", begun}, {"Climbed", climbed}, {"Held", held}, {"Slipped", fell}} {
		if len(part.pieces) > 0 {
			s.say("%s", wrap(part.what+": "+strings.Join(part.pieces, ", ")+".", leastWidth))
		}
	}
	left := 0
	for _, step := range s.plan.steps {
		if !step.Rest && !s.plan.done(step) {
			left++
		}
	}
	line := fmt.Sprintf("%d of %d minutes logged today", s.minutes, s.plan.planned())
	if left > 0 {
		line += fmt.Sprintf(", %s left: dohra sit goes on", plural(left, "turn"))
	}
	s.say("%s.", line)
}
