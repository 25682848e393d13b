package repertoire

import "slices"

// A few syllables are another stroke by what stands beside them when each is a
// matra of its own (common practice, no source).

// settle looks once more at the groups that are one syllable.
func (n Notation) settle(lex *lexicon) {
	var matras []*Matra
	for i := range n.Lines {
		for j := range n.Lines[i].Matras {
			matras = append(matras, &n.Lines[i].Matras[j])
		}
	}
	for i, m := range matras {
		before, after := &Matra{}, &Matra{}
		if i > 0 {
			before = matras[i-1]
		}
		if i+1 < len(matras) {
			after = matras[i+1]
		}
		switch plainBols(m.Text) {
		case "ti", "ति", "ती":
			// ti na, and na ti, is the open tin; else it is closed.
			if after.begins("na") || before.is("na") && !after.begins("te", "ta", "re") {
				m.become(lex, "tin")
			}
		case "ta", "ता", "ट":
			// The ta of ti ra ki ta is closed however slowly it is played.
			if text := plainBols(before.Text); slices.Contains([]string{"ki", "कि", "ti", "ति"}, text) && !before.is("tin") {
				m.become(lex, "te")
			}
		case "धिन", "तिन":
			// धिन गिन is dhina gina.
			if (after.begins("ge") || after.begins("ke")) && len(after.Cells) == 2 && after.Cells[1].named("na") {
				m.Cells = lex.sounds[plainBols(m.Text)].cells()
			}
		}
	}
}

func (c Cell) named(name string) bool { return c.Stroke != nil && c.Stroke.Name == name }

// is reports whether the matra is that one stroke.
func (m *Matra) is(name string) bool { return len(m.Cells) == 1 && m.Cells[0].named(name) }

// begins reports whether the first stroke of the matra is one of those.
func (m *Matra) begins(names ...string) bool {
	return len(m.Cells) > 0 && slices.ContainsFunc(names, m.Cells[0].named)
}

// become makes the matra that one stroke, written as it was.
func (m *Matra) become(lex *lexicon, name string) {
	m.Cells = []Cell{{lex.byName[name], m.Cells[0].Text}}
}
