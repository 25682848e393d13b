package main

import (
	"fmt"
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// A chart of tempo over time, in characters. It is drawn here because the chart
// libraries for a pipe join one value a column by a line, while a day may hold
// several plays, clear and not.

const (
	chartHeight = 13 // lines
	tempoWidth  = 6  // columns before the first place for a mark
	labelEvery  = 3  // lines have their tempo written

	clearMark, unclearMark, bothMark = 'o', 'x', '*'
)

// A scale is what a chart shows, from the least to the most.
type scale struct {
	from, to repertoire.Day
	low, top int // matras/min
}

// scaleOf holds all plays, of which there is at least one, the goal tempo, and
// the days until then.
func scaleOf(plays []schedule.Play, goal int, until repertoire.Day) scale {
	s := scale{plays[0].Day, until, goal, goal}
	for _, p := range plays {
		s.low, s.top = min(s.low, p.Tempo), max(s.top, p.Tempo)
	}
	s.low = min(s.low, s.top-(chartHeight-1)) // a line is at least 1 matra/min
	return s
}

// place returns where value stands among n places from low to top.
func place(value, low, top, n int) int {
	if top == low {
		return 0
	}
	return ((value-low)*(n-1)*2 + (top - low)) / (2 * (top - low))
}

// tempoChart draws plays, of which there is at least one, within that many
// columns.
func tempoChart(plays []schedule.Play, goal int, until repertoire.Day, width int) string {
	s := scaleOf(plays, goal, until)
	width = min(width-tempoWidth, max(2*int(s.to-s.from), leastWidth/2))
	lines := make([][]rune, chartHeight)
	goalLine := place(goal, s.low, s.top, chartHeight)
	for i := range lines {
		fill := " "
		if i == goalLine {
			fill = "-"
		}
		lines[i] = []rune(strings.Repeat(fill, width))
	}
	for _, p := range plays {
		mark := &lines[place(p.Tempo, s.low, s.top, chartHeight)][place(int(p.Day), int(s.from), int(s.to), width)]
		*mark = marked(*mark, p.Clarity >= schedule.Clear)
	}
	lines[goalLine] = apart(lines[goalLine])
	var b strings.Builder
	for i := chartHeight - 1; i >= 0; i-- {
		label := ""
		switch {
		case i == goalLine:
			label = fmt.Sprint(goal)
		case i%labelEvery == 0:
			label = fmt.Sprint(s.low + place(i, 0, chartHeight-1, s.top-s.low+1))
		}
		fmt.Fprintf(&b, "%4s |%s\n", label, strings.TrimRight(string(lines[i]), " "))
	}
	fmt.Fprintf(&b, "     +%s\n", strings.Repeat("-", width))
	fmt.Fprintf(&b, "      %s%*s\n", s.from, width-len(s.from.String()), s.to)
	fmt.Fprintf(&b, "matras/min; %c clear, %c not clear, %c both, --- goal %d", clearMark, unclearMark, bothMark, goal)
	return b.String()
}

// apart returns the line of the goal, broken around plays, so that they are seen.
func apart(line []rune) []rune {
	isMark := func(i int) bool { return i >= 0 && i < len(line) && line[i] != '-' }
	broken := slices.Clone(line)
	for i := range line {
		if !isMark(i) && (isMark(i-1) || isMark(i+1)) {
			broken[i] = ' '
		}
	}
	return broken
}

// marked returns what stands in a place after one more play there.
func marked(mark rune, isClear bool) rune {
	here := unclearMark
	if isClear {
		here = clearMark
	}
	if mark == ' ' || mark == '-' || mark == here {
		return here
	}
	return bothMark
}
