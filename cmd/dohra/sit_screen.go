package main

import (
	"fmt"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// What a player reads at the instrument: one turn, on a screen of 80 columns and
// 24 lines, from a metre away.

// screenLines is how many lines a turn may take. Above it stands what was saved
// last, below it the prompt, and what is saved next.
const screenLines = 19

// clear empties a terminal, and tells what was saved last.
func (s *sitting) clear() {
	if s.keys.lines != nil {
		s.say("")
		return
	}
	fmt.Fprint(s.out, "\x1b[H\x1b[2J")
	s.say("%s", wrap(s.saved, leastWidth))
}

// show shows a screen, under which a prompt comes to stand.
func (s *sitting) show(text string) {
	s.screen = text
	s.clear()
	s.say("%s\n", text)
}

// redraw shows on a terminal what is on it, which a key or another program may
// have spoilt, or has become untrue.
func (s *sitting) redraw() {
	if s.keys.lines == nil {
		s.show(s.screen)
	}
}

// turnText is the screen of a step.
func (s *sitting) turnText(step schedule.Step, t turn) string {
	at, of := 0, 0
	for _, other := range s.plan.rows() {
		if !other.Rest {
			of++
			if other.Turn == step.Turn && other.Round == step.Round {
				at = of
			}
		}
	}
	progress := fmt.Sprintf("Turn %d of %d, %d of %d minutes", at, of, s.minutes, s.plan.planned())
	above := progress + "\n\n" + wrap(s.titleText(step, t), leastWidth) + "\n"
	v, err := viewOf(s.call, t.Candidate)
	v = v.only(t.part)
	below := s.ladderText(v, t) + "\n\n" + wrap("Why: "+t.Why+".", leastWidth)
	if err != nil {
		return above + "\n" + below
	}
	if start := startText(v); start != "" {
		below = start + "\n" + below
	}
	room := screenLines - strings.Count(wrap(s.saved, leastWidth)+above+"\n\n"+below, "\n") - 1
	bols := bolText(v, room)
	if bols == "" {
		return above + "\n" + below
	}
	return above + "\n" + bols + "\n\n" + below
}

// titleText says what is played.
func (s *sitting) titleText(step schedule.Step, t turn) string {
	ours := t.ID == s.plan.turns[step.Turn].ID
	title := t.Title
	if (t.part != schedule.Part{}) || ours && step.Legs > 1 {
		title += ", " + t.part.String()
	}
	title += fmt.Sprintf(", %s in %s", t.Kind, t.Tala)
	if t.Spoken {
		title += ", spoken"
	}
	var of []string
	if ours && step.Of > 1 {
		of = append(of, fmt.Sprintf("round %d of %d", step.Round, step.Of))
	}
	if ours && t.part == step.Part && step.Legs > 1 {
		of = append(of, fmt.Sprintf("step %d of %d", step.Leg, step.Legs))
	}
	if of != nil {
		title += " (" + strings.Join(of, ", ") + ")"
	}
	return title
}

// startText says where a composition that does not begin on sam begins.
func startText(v view) string {
	if v.score == nil || v.slots[0].Text != "" {
		return ""
	}
	return "Start on " + repertoire.Place(v.start) + "."
}

// ladderText is the tempos of a turn, each with its rounds and strokes a second.
func (s *sitting) ladderText(v view, t turn) string {
	rows := [3][]string{{"matras/min"}, {"rounds"}, {"strokes/s"}}
	for _, rung := range t.Ladder(t.minutes) {
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
	lines[1] += fmt.Sprintf("    %s", plural(t.minutes, "minute"))
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
	var begun, climbed, held, lower, slipped []string
	for _, after := range s.after {
		before := s.before[after.ID]
		was, now := cleanOn(before, s.day), cleanOn(after, s.day)
		name := fmt.Sprintf("%s (%d to %d)", after.Title, was, now)
		switch {
		case was == 0:
			begun = append(begun, fmt.Sprintf("%s (clean at %d)", after.Title, now))
		case before.Stage == schedule.Kept && after.Stage == schedule.Slipped:
			slipped = append(slipped, name)
		case max(was, now)-min(was, now) <= was/50: // half a mark of the metronome
			held = append(held, fmt.Sprintf("%s (%d)", after.Title, now))
		case now > was:
			climbed = append(climbed, name)
		default:
			lower = append(lower, name)
		}
	}
	for _, part := range []struct {
		what   string
		pieces []string
	}{{"In parts", s.apart}, {"Begun", begun}, {"Climbed", climbed}, {"Held", held}, {"Fell back", lower}, {"Slipped", slipped}} {
		if len(part.pieces) > 0 {
			s.say("%s", wrap(part.what+": "+strings.Join(part.pieces, ", ")+".", leastWidth))
		}
	}
	line := fmt.Sprintf("%d of %d minutes logged today", s.minutes, s.plan.planned())
	if left := s.leftLine(); left != "" {
		line += ". " + strings.TrimSuffix(left, ".")
	}
	s.say("%s.", line)
}

// leftLine says how many turns are left, "" for none.
func (s *sitting) leftLine() string {
	left := 0
	for _, row := range s.plan.rows() {
		if !row.Rest && !row.done {
			left++
		}
	}
	if left == 0 {
		return ""
	}
	return plural(left, "turn") + " left: dohra sit goes on."
}
