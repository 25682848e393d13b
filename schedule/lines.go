package schedule

import (
	"fmt"
	"slices"
	"strings"

	"dohra/repertoire"
)

// A composition of several lines is taken apart when it is new, or when a line of
// it is the trouble: line by line and slower, then in pairs, then whole (common
// practice, no source). A line's plays make a standing of its own; that of the
// piece follows from whole plays alone.

// Lines returns the standing of each of n lines of a piece with that start and
// goal tempo, from the plays of the piece.
func Lines(n, start, goal int, plays []Play) []Standing {
	lines := slices.Repeat([]Standing{New(start)}, n)
	for _, p := range plays {
		if line := p.Line; 0 < line && line <= n {
			p.Line = 0
			lines[line-1] = lines[line-1].Add(goal, p)
		}
	}
	return lines
}

// troubled reports whether a line's last play was not clear.
func (s Standing) troubled() bool { return s.Stage != Untouched && s.LastClarity < Clear }

// HeldBackBy returns which line holds a piece back on that day, counted from 1:
// the slowest of those that are the trouble, or were played alone and are slower
// than the whole; 0 for none.
func HeldBackBy(day repertoire.Day, whole Standing, lines []Standing) (line int) {
	limit, _ := whole.CleanOn(day)
	slowest := 0
	for i, l := range lines {
		clean, _ := l.CleanOn(day)
		if (l.troubled() || clean < limit) && clean > 0 && (line == 0 || clean < slowest) {
			line, slowest = i+1, clean
		}
	}
	return line
}

// A Part is lines of a piece to play together, from 1, and how fast, matras/min.
type Part struct{ From, To, Tempo int }

// Parts returns in which parts the turn is played before it is played whole,
// given the standings of its lines; none for a piece that is neither new nor in
// trouble. The tempos are our choice.
func (t Turn) Parts(lines []Standing) (parts []Part) {
	fresh := t.Stage == Untouched
	alone := func(l Standing) bool { return l.troubled() || fresh && l.Stage == Untouched }
	if len(lines) < 2 || !fresh && !slices.ContainsFunc(lines, alone) {
		return nil
	}
	for i, l := range lines {
		if alone(l) {
			parts = append(parts, Part{i + 1, i + 1, slower(t.Target, 2)})
		}
	}
	for i := range lines[1:] {
		if len(lines) > 2 && (fresh || alone(lines[i]) || alone(lines[i+1])) {
			parts = append(parts, Part{i + 1, i + 2, slower(t.Target, 1)})
		}
	}
	return parts
}

// PartsLine says parts in one clause, "" when there are none: lines 1, 2, 3 at
// 52, then 1-2, 2-3 at 56, then whole.
func PartsLine(parts []Part) string {
	var alone, pairs []string
	tempos := map[bool]int{}
	for _, p := range parts {
		tempos[p.From < p.To] = p.Tempo
		if p.From < p.To {
			pairs = append(pairs, fmt.Sprintf("%d-%d", p.From, p.To))
		} else {
			alone = append(alone, fmt.Sprint(p.From))
		}
	}
	var all []string
	if len(alone) > 0 {
		line := "line"
		if len(alone) > 1 {
			line = "lines"
		}
		all = append(all, fmt.Sprintf("%s %s alone at %d", line, strings.Join(alone, ", "), tempos[false]))
	}
	if len(pairs) > 0 {
		all = append(all, fmt.Sprintf("%s at %d", strings.Join(pairs, ", "), tempos[true]))
	}
	if len(all) == 0 {
		return ""
	}
	return strings.Join(append(all, "whole"), ", then ")
}
