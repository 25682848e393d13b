package repertoire

import "strings"

// A Repeat is a run of whole matras that stands several times in a composition.
type Repeat struct {
	Text   string
	Matras int
	Times  int
}

// A phrase worth drilling alone is short and yet something to play (our choice).
const (
	longestPhrase  = 4 // matras
	leastOfAPhrase = 4 // strokes
)

// FindRepeat returns the phrase that fills most of a composition, of equals the
// shortest: the smallest thing to drill first. ok is false where none of at
// least four strokes comes twice.
func FindRepeat(n Notation) (best Repeat, ok bool) {
	matras := n.Matras()
	names := make([]string, len(matras))
	for i, m := range matras {
		names[i] = m.plain()
	}
	for size := 1; size <= longestPhrase; size++ {
		counted := map[string]int{}
		free := map[string]int{} // where its last standing ends
		for i := 0; i+size <= len(matras); i++ {
			key := strings.Join(names[i:i+size], " ")
			if i < free[key] || strokesOf(matras[i:i+size]) < leastOfAPhrase {
				continue
			}
			counted[key]++
			free[key] = i + size
			if times := counted[key]; times > 1 && times*size > best.Times*best.Matras {
				best = Repeat{Line{Matras: matras[i : i+size]}.Text(), size, times}
			}
		}
	}
	return best, best.Times > 1
}

func strokesOf(matras []Matra) int {
	n := 0
	for _, m := range matras {
		for _, c := range m.Cells {
			if c.Stroke != nil {
				n++
			}
		}
	}
	return n
}

// Text returns the groups of the line as the player wrote them.
func (l Line) Text() string {
	texts := make([]string, len(l.Matras))
	for i, m := range l.Matras {
		texts[i] = m.Text
	}
	return strings.Join(texts, " ")
}
