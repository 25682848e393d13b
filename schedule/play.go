package schedule

import (
	"fmt"
	"strconv"
	"strings"

	"dohra/repertoire"
)

// Clarity is how a play sounded. It is SM-2's quality of a repetition, 0 to 5.
type Clarity int

const (
	Lost Clarity = iota
	Broken
	Smudged
	Strained
	Clear
	Effortless
)

var clarities = []string{"lost", "broken", "smudged", "strained", "clear", "effortless"}

// String returns the word for c, which must be within 0 to 5.
func (c Clarity) String() string { return clarities[c] }

// ParseClarity reads a clarity by its word, in any case, or its number.
func ParseClarity(text string) (Clarity, error) {
	for i, word := range clarities {
		if strings.EqualFold(text, word) || text == strconv.Itoa(i) {
			return Clarity(i), nil
		}
	}
	return 0, fmt.Errorf("%q is no clarity; say %s (0 to 5)", text, strings.Join(clarities, ", "))
}

// A Play is one logged repetition. Minutes is 0 where it was not given.
type Play struct {
	ID      int64
	Piece   int64
	Day     repertoire.Day
	Tempo   int // matras/min
	Clarity Clarity
	Minutes int
	Note    string
	Sore    bool // it hurt
	Spoken  bool // and not played
	Line    int  // the line that was played, or the first of several, from 1; 0 for the whole
	Through int  // the last of several lines, 0 otherwise
	Share   int  // per cent, of an Echo; 0 of a play of the piece itself
}

// MaxMinutes is the longest play that can be logged.
const MaxMinutes = 240

// Check refuses a play out of range: tempo outside 20 to 400 matras/min, or
// minutes, where given, outside 1 to MaxMinutes, or clarity outside 0 to 5, or
// lines outside 1 to MaxLine or that do not go on from the first.
func (p Play) Check() error {
	if p.Clarity < Lost || p.Clarity > Effortless {
		return fmt.Errorf("clarity %d is outside 0 to 5", int(p.Clarity))
	}
	if p.Minutes < 0 || p.Minutes > MaxMinutes {
		return fmt.Errorf("minutes %d are outside 1 to %d", p.Minutes, MaxMinutes)
	}
	if err := p.checkLines(); err != nil {
		return err
	}
	return repertoire.CheckTempo("tempo", p.Tempo)
}

// How says in words how it was not played as most are, or "played".
func (p Play) How() string {
	var how []string
	if p.Spoken {
		how = append(how, "spoken")
	}
	if p.Line > 0 {
		how = append(how, p.Part().String())
	}
	if p.Sore {
		how = append(how, "sore")
	}
	if how == nil {
		return "played"
	}
	return strings.Join(how, ", ")
}

func (p Play) checkLines() error {
	if p.Line < 0 || max(p.Line, p.Through) > MaxLine {
		return fmt.Errorf("line %d is outside 1 to %d", max(p.Line, p.Through), MaxLine)
	}
	if p.Through != 0 && (p.Line == 0 || p.Through <= p.Line) {
		return fmt.Errorf("lines %d-%d do not go on from the first", p.Line, p.Through)
	}
	return nil
}

// Part returns the lines that were played, of no line for the whole.
func (p Play) Part() Part {
	if p.Line == 0 {
		return Part{}
	}
	return Part{p.Line, max(p.Line, p.Through)}
}

// Of returns the play as one of that part.
func (p Play) Of(part Part) Play {
	p.Line, p.Through = part.From, 0
	if part.To > part.From {
		p.Through = part.To
	}
	return p
}
