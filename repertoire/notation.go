package repertoire

import (
	"slices"
	"strings"
)

// A Cell is one share of a matra: a stroke, or a pause where Stroke is nil.
// Text is how its syllable is printed.
type Cell struct {
	Stroke *Stroke
	Text   string
}

// A Matra is one beat. Its cells share it evenly. Text is the group as the
// player wrote it.
type Matra struct {
	Cells []Cell
	Text  string
}

// A Line is one line of a composition. Bars holds, for each bar in it, the
// number of matras before it.
type Line struct {
	Matras []Matra
	Bars   []int
}

// A Notation is a composition that has been read.
type Notation struct{ Lines []Line }

// Matras returns the matras of all lines, in order.
func (n Notation) Matras() []Matra {
	var all []Matra
	for _, line := range n.Lines {
		all = append(all, line.Matras...)
	}
	return all
}

// Strokes returns the strokes of all lines, in order, without pauses.
func (n Notation) Strokes() []*Stroke {
	var all []*Stroke
	for _, m := range n.Matras() {
		for _, c := range m.Cells {
			if c.Stroke != nil {
				all = append(all, c.Stroke)
			}
		}
	}
	return all
}

// String writes the notation so that it reads as the same strokes again.
func (n Notation) String() string {
	var b strings.Builder
	for i, line := range n.Lines {
		if i > 0 {
			b.WriteByte('\n')
		}
		for j, m := range line.Matras {
			if j > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(m.plain())
			if slices.Contains(line.Bars, j+1) {
				b.WriteString(" |")
			}
		}
	}
	return b.String()
}

func sameStroke(a, b Cell) bool { return a.Stroke == b.Stroke }

// plain writes the cells of a matra by the names of their strokes, with commas
// where the names, written together, would read as something else.
func (m Matra) plain() string {
	names := make([]string, len(m.Cells))
	for i, c := range m.Cells {
		if names[i] = pause; c.Stroke != nil {
			names[i] = c.Stroke.Name
		}
	}
	joined := strings.Join(names, "")
	read, ok := theLexicon().group(joined)
	if ok && slices.EqualFunc(read, m.Cells, sameStroke) {
		return joined
	}
	return strings.Join(names, ",")
}
