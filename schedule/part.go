package schedule

import (
	"fmt"
	"strconv"
	"strings"
)

// A Part is the lines of a piece from one to another, counted from 1; of no line
// for the whole.
type Part struct{ From, To int }

// MaxLine is the last line that a play can be of.
const MaxLine = 999

// ParsePart reads one line, 2, or several, 1-2.
func ParsePart(text string) (Part, error) {
	first, last, several := strings.Cut(text, "-")
	from, err := strconv.Atoi(first)
	to := from
	if several && err == nil {
		to, err = strconv.Atoi(last)
	}
	switch {
	case err != nil || from < 1 || to > MaxLine || len(text) > len("999-999"):
		return Part{}, fmt.Errorf("%q is no line; lines are counted from 1: say 2, or 1-2 for two together", text)
	case several && to == from:
		return Part{}, fmt.Errorf("%q is one line: say %d", text, from)
	case to < from:
		return Part{}, fmt.Errorf("%q goes backwards: say %d-%d", text, to, from)
	}
	return Part{from, to}, nil
}

// Lines returns the part as it is typed: 2, or 1-2; "" for the whole.
func (p Part) Lines() string {
	switch {
	case p == Part{}:
		return ""
	case p.From == p.To:
		return strconv.Itoa(p.From)
	}
	return fmt.Sprintf("%d-%d", p.From, p.To)
}

// String says the part in words: whole, line 2, lines 1-2.
func (p Part) String() string {
	switch {
	case p == Part{}:
		return "whole"
	case p.From == p.To:
		return "line " + p.Lines()
	}
	return "lines " + p.Lines()
}
