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

var sheetPage = template.Must(template.New("sheet").
	Funcs(template.FuncMap{"inc": func(i int) int { return i + 1 }}).Parse(sheetText))

// A sheet is what the page shows.
type sheet struct {
	Day, Headline, Nothing string
	Turns                  []sheetTurn
	Left                   []schedule.LeftOut
	More                   int // that were left out
	Remarks                []string
	Clarities              []string
}

type sheetTurn struct {
	Title  string
	Length string
	About  string
	Done   bool
	Cycles [][][]repertoire.Slot // by cycle and vibhag
	Wide   bool                  // a vibhag takes the whole line, not half of it
	Raw    string                // bols that do not read
	Notes  []string
}

// sheet writes the plan as a page.
func (p dayPlan) sheet(k *call) error {
	s := sheet{Day: k.day.Long(), Headline: p.headline(k)}
	if len(p.turns) == 0 {
		s.Nothing = p.nothing()
	}
	for _, turn := range p.turns {
		t, err := sheetTurnOf(k, turn.Candidate)
		if err != nil {
			return err
		}
		t.Length, t.Done = fmt.Sprintf("%d min", turn.Minutes), p.turnDone(turn)
		t.About = fmt.Sprintf("%s in %s: begin at %d, reach %d, goal %d matras/min; %s.",
			turn.Kind, turn.Tala, turn.Begin, turn.Target, turn.Goal, turn.Why)
		s.Turns = append(s.Turns, t)
	}
	off, err := p.offLine()
	if err != nil {
		return err
	}
	for _, remark := range []string{off, p.spared, p.caution()} {
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

// concertSheet writes the set of a concert as a page.
func concertSheet(k *call, c schedule.Concert, items []schedule.Item, seconds int) error {
	s := sheet{Day: c.Day.Long(), Headline: fmt.Sprintf("%s, %s: %s of %d minutes", c.Name, c.Day.Short(), clock(seconds), c.Minutes)}
	if len(items) == 0 {
		s.Nothing = "Nothing is in the set yet."
	}
	for _, i := range items {
		found, err := k.store.Candidates([]int64{i.Of.ID})
		if err != nil {
			return err
		}
		for _, piece := range found {
			t, err := sheetTurnOf(k, piece)
			if err != nil {
				return err
			}
			t.Length = clock(i.Seconds)
			t.About = fmt.Sprintf("%s in %s: %d matras/min, from %s", piece.Kind, piece.Tala, i.Tempo, clock(i.Starts))
			if i.Rounds > 0 {
				t.About += ", " + plural(i.Rounds, "round")
			}
			s.Turns = append(s.Turns, t)
		}
	}
	return s.write(k)
}

// sheetTurnOf returns the bols of a piece as the page lays them out.
func sheetTurnOf(k *call, c schedule.Candidate) (t sheetTurn, err error) {
	v, err := viewOf(k, c)
	if err != nil {
		return t, err
	}
	t = sheetTurn{Title: c.Title, Raw: v.raw, Notes: v.notes}
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
	const halfLine, leastMatra = 27, 5
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
