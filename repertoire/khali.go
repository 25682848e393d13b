package repertoire

import (
	"fmt"
	"slices"
	"strings"
)

// Khali returns the composition with the bayan closed throughout: dha becomes
// ta, dhin tin, ge ke, and so on, in the script in which it was written.
func (n Notation) Khali() Notation {
	var closed Notation
	for _, line := range n.Lines {
		shut := Line{Bars: line.Bars}
		for _, m := range line.Matras {
			shut.Matras = append(shut.Matras, m.khali())
		}
		closed.Lines = append(closed.Lines, shut)
	}
	return closed
}

// closing turns the consonants in which the bayan rings into those in which it
// does not, and leaves the player's vowels.
var closing = strings.NewReplacer("dh", "t", "gh", "k", "g", "k", "ध", "त", "घ", "क", "ग", "क")

// khali returns the matra with the bayan closed. It is written as the player
// wrote it, with other consonants, where that reads as the closed strokes, and
// else stroke by stroke.
func (m Matra) khali() Matra {
	lex := theLexicon()
	k := Matra{Text: m.Text}
	changed := false
	spelled := ""
	for _, c := range m.Cells {
		if c.Stroke != nil && c.Stroke.Khali != c.Stroke.Name {
			stroke := lex.byName[c.Stroke.Khali]
			text := closing.Replace(strings.ToLower(c.Text))
			if read := lex.sounds[plainBols(text)]; len(read.strokes) != 1 || read.strokes[0] != stroke {
				text = stroke.printed(c.Text)
			}
			c, changed = Cell{stroke, text}, true
		}
		k.Cells = append(k.Cells, c)
		spelled += c.Text
	}
	if !changed {
		return k
	}
	k.Text = closing.Replace(strings.ToLower(m.Text))
	if read, ok := lex.group(k.Text); !ok || !slices.EqualFunc(read, k.Cells, sameStroke) {
		k.Text = spelled
	}
	return k
}

// CompareKhali says where the khali half that the composition writes differs
// from the one derived from the half before it, a line each. ok is false when
// it writes none. Halves are pairs of equally long lines, or the halves of a
// single line; the second is a khali half when at least half of it is what is
// derived and the bayan rings less in it.
func (n Notation) CompareKhali() (differences []string, ok bool) {
	lines := n.Lines
	if len(lines) == 1 {
		lines = halves(lines[0])
	}
	for i := 0; i+1 < len(lines); i += 2 {
		bhari, khali := lines[i], lines[i+1]
		if len(bhari.Matras) != len(khali.Matras) || openBayan(khali) >= openBayan(bhari) {
			continue
		}
		derived := Notation{[]Line{bhari}}.Khali().Lines[0]
		var differ []int
		for j, m := range khali.Matras {
			if !sameStrokes(derived.Matras[j], m) {
				differ = append(differ, j)
			}
		}
		if 2*len(differ) > len(khali.Matras) {
			continue
		}
		ok = true
		named, offset := fmt.Sprintf("line %d, ", i+2), 0
		if len(n.Lines) == 1 {
			named, offset = "", len(bhari.Matras)
		}
		differences = append(differences, tellApart(named, offset, derived, khali, differ)...)
	}
	return differences, ok
}

// tellApart writes a line for each run of matras that differ.
func tellApart(named string, offset int, derived, written Line, differ []int) []string {
	var told []string
	for len(differ) > 0 {
		n := 1
		for n < len(differ) && differ[n] == differ[n-1]+1 {
			n++
		}
		from, to := differ[0], differ[n-1]
		differ = differ[n:]
		where := fmt.Sprintf("%smatra %d", named, from+1+offset)
		if to > from {
			where = fmt.Sprintf("%smatras %d to %d", named, from+1+offset, to+1+offset)
		}
		told = append(told, fmt.Sprintf("%s: %s is written, khali would be %s",
			where, texts(written.Matras[from:to+1]), texts(derived.Matras[from:to+1])))
	}
	return told
}

func texts(matras []Matra) string {
	all := make([]string, len(matras))
	for i, m := range matras {
		all[i] = m.Text
	}
	return strings.Join(all, " ")
}

func halves(line Line) []Line {
	half := len(line.Matras) / 2
	if len(line.Matras)%2 != 0 {
		return nil
	}
	return []Line{{Matras: line.Matras[:half]}, {Matras: line.Matras[half:]}}
}

// openBayan counts the strokes in which the left drum rings.
func openBayan(line Line) int {
	open := 0
	for _, m := range line.Matras {
		for _, c := range m.Cells {
			if c.Stroke != nil && c.Stroke.Bayan == Open {
				open++
			}
		}
	}
	return open
}

func sameStrokes(a, b Matra) bool {
	return slices.EqualFunc(a.Cells, b.Cells, sameStroke)
}
