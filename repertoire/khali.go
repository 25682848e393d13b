package repertoire

import "fmt"

// Khali returns the composition with the bayan closed throughout: dha becomes
// ta, dhin tin, ge ke, and so on, in the script in which it was written.
func (n Notation) Khali() Notation {
	lex := theLexicon()
	var closed Notation
	for _, line := range n.Lines {
		shut := Line{Bars: line.Bars}
		for _, m := range line.Matras {
			k := Matra{Text: m.Text}
			changed := false
			for _, c := range m.Cells {
				if c.Stroke != nil && c.Stroke.Khali != c.Stroke.Name {
					stroke := lex.byName[c.Stroke.Khali]
					c, changed = Cell{stroke, stroke.printed(c.Text)}, true
				}
				k.Cells = append(k.Cells, c)
			}
			if changed {
				k.Text = ""
				for _, c := range k.Cells {
					k.Text += c.Text
				}
			}
			shut.Matras = append(shut.Matras, k)
		}
		closed.Lines = append(closed.Lines, shut)
	}
	return closed
}

// CompareKhali says where the khali half that the composition writes differs
// from the one derived from the half before it, a line each. ok is false when
// it writes none. Halves are pairs of equally long lines, or the halves of a
// single line.
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
		ok = true
		derived := Notation{[]Line{bhari}}.Khali().Lines[0]
		offset, named := 0, fmt.Sprintf("line %d, ", i+2)
		if len(n.Lines) == 1 {
			offset, named = len(bhari.Matras), ""
		}
		for j, m := range khali.Matras {
			if d := derived.Matras[j]; !sameStrokes(d, m) {
				differences = append(differences,
					fmt.Sprintf("%smatra %d: %s is written, the khali of %s is %s", named, j+1+offset, m.Text, bhari.Matras[j].Text, d.Text))
			}
		}
	}
	return differences, ok
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
	if len(a.Cells) != len(b.Cells) {
		return false
	}
	for i := range a.Cells {
		if a.Cells[i].Stroke != b.Cells[i].Stroke {
			return false
		}
	}
	return true
}
