package main

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// The day, or the set of a concert, as a sheet for the wall: one page that asks
// nothing of the network, runs nothing, and is printed.

//go:embed sheet.html
var sheetText string

var sheetPage = template.Must(template.New("sheet").Parse(sheetText))

// A sheet is what the page shows.
type sheet struct {
	Day, Headline, Remark string
	Nothing               string
	Steps                 []sheetStep
	Left                  []schedule.LeftOut
	More                  int // that were left out
	Remarks               []string
	Clarities             []string
}

// A sheetStep is a round of a turn, a piece of a set, or a rest.
type sheetStep struct {
	Number int // 0 for a rest
	Title  string
	Length string
	About  string
	Done   bool
	Rungs  []schedule.Rung
	Cycles [][][]repertoire.Slot // by cycle and vibhag
	Wide   bool                  // a vibhag takes the whole line, not half of it
	Raw    string                // bols that do not read
	Notes  []string
}

// sheet writes the plan as a page.
func (p dayPlan) sheet(k *call) error {
	s := sheet{Day: k.day.Long(), Headline: p.headline(k), Remark: p.remark()}
	if len(p.turns) == 0 {
		s.Nothing = p.nothing()
	}
	n := 0
	for _, step := range p.rows() {
		length := fmt.Sprintf("%d min", step.Minutes)
		if step.Rest {
			s.Steps = append(s.Steps, sheetStep{Title: restTitle, Length: length})
			continue
		}
		n++
		t, err := p.sheetStep(k, step)
		if err != nil {
			return err
		}
		t.Number, t.Length = n, length
		s.Steps = append(s.Steps, t)
	}
	off, err := p.offLine()
	if err != nil {
		return err
	}
	for _, remark := range append(p.concertLines(), off, p.spared, p.caution()) {
		if remark != "" {
			s.Remarks = append(s.Remarks, remark)
		}
	}
	if s.Left, err = p.left(k, leftShown); err != nil {
		return err
	}
	s.More = len(p.denied) - len(s.Left)
	return s.write(k)
}

// sheetStep returns a round of a turn. Its bols stand with the first; the legs of
// one that is taken apart stand in its reason.
func (p dayPlan) sheetStep(k *call, step row) (t sheetStep, err error) {
	turn := p.turns[step.Turn]
	t.Title = turn.Title
	if step.Round == 1 {
		if t, err = sheetStepOf(k, turn.Candidate); err != nil {
			return t, err
		}
		t.About = fmt.Sprintf("%s in %s, goal %d matras/min; %s.", turn.Kind, turn.Tala, turn.Goal, turn.Why)
	}
	if step.Of > 1 {
		t.Title += fmt.Sprintf(", round %d of %d", step.Round, step.Of)
	}
	if t.Done = step.done; step.Legs <= 1 {
		t.Rungs = turn.Ladder(step.Minutes)
	}
	return t, nil
}

// concertSheet writes the set of a concert as a page.
func concertSheet(k *call, c shownConcert) error {
	s := sheet{Day: c.Day.Long(), Headline: c.headline(), Remarks: c.remarks(k)}
	if len(c.items) == 0 {
		s.Nothing = c.nothingIn()
	}
	for n, i := range c.items {
		found, err := k.store.Candidates([]int64{i.Of.ID})
		if err != nil {
			return err
		}
		for _, piece := range found {
			t, err := sheetStepOf(k, piece)
			if err != nil {
				return err
			}
			t.Number = n + 1
			t.About = fmt.Sprintf("%s in %s: %d matras/min", piece.Kind, piece.Tala, i.Tempo)
			if i.Seconds > 0 {
				t.Length = clock(i.Seconds)
			}
			if i.Starts != schedule.Unknown {
				t.About += ", from " + clock(i.Starts)
			}
			if i.Rounds > 0 {
				t.About += ", " + plural(i.Rounds, "round")
			}
			if _, _, how := c.happened.cells(i.Place); c.over && how != nil {
				p := c.happened.plays[i.Piece]
				t.Done, t.About = true, fmt.Sprintf("%s; played %s at %d", t.About, p.Clarity, p.Tempo)
			}
			s.Steps = append(s.Steps, t)
		}
	}
	return s.write(k)
}

// sheetStepOf returns the bols of a piece as the page lays them out.
func sheetStepOf(k *call, c schedule.Candidate) (t sheetStep, err error) {
	v, err := viewOf(k, c)
	if err != nil {
		return t, err
	}
	t = sheetStep{Title: c.Title, Raw: v.raw, Notes: v.notes}
	for _, cycle := range runs(v.slots, sameCycle) {
		t.Cycles = append(t.Cycles, runs(cycle, sameVibhag))
	}
	t.Wide = slices.ContainsFunc(runs(v.slots, sameVibhag), isWide)
	return t, nil
}

func (s sheet) write(k *call) error {
	for c := schedule.Lost; c <= schedule.Effortless; c++ {
		s.Clarities = append(s.Clarities, c.String())
	}
	var b strings.Builder
	if err := sheetPage.Execute(&b, s); err != nil {
		return err
	}
	_, err := io.WriteString(k.page.out, harmless(b.String()))
	return err
}

// isWide reports whether a vibhag is too wide for half a line of A4: more than
// halfLine letters, each matra counted as at least leastMatra.
func isWide(vibhag []repertoire.Slot) bool {
	const halfLine, leastMatra = 24, 5
	letters := 0
	for _, s := range vibhag {
		letters += max(leastMatra, columns(s.Text))
	}
	return letters > halfLine
}

func sameCycle(a, b repertoire.Slot) bool { return a.Cycle == b.Cycle }

func sameVibhag(a, b repertoire.Slot) bool { return sameCycle(a, b) && a.Vibhag == b.Vibhag }

// runs parts slots where same no longer holds of neighbours.
func runs(slots []repertoire.Slot, same func(a, b repertoire.Slot) bool) [][]repertoire.Slot {
	var parts [][]repertoire.Slot
	for i, s := range slots {
		if i == 0 || !same(slots[i-1], s) {
			parts = append(parts, nil)
		}
		parts[len(parts)-1] = append(parts[len(parts)-1], s)
	}
	return parts
}
