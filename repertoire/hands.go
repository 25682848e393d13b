package repertoire

import "math/big"

// FastHands is how many strokes a second are more than a goal should ask for
// without a second look: a roll of four strokes a matra at 180 is 12 (common
// practice, no source).
const FastHands = 16

// A Load is how much a composition asks of the hands.
type Load struct {
	Matras  int
	Mean    *big.Rat // strokes a matra
	Densest int      // strokes in the fullest matra

	Dayan, DayanOpen int // strokes of the right hand, alone or with the left; those that ring
	Bayan, BayanOpen int // strokes of the left hand, alone or with the right; those that ring
}

// Load measures the composition.
func (n Notation) Load() Load {
	matras := n.Matras()
	l := Load{Matras: len(matras)}
	strokes := 0
	for _, m := range matras {
		inMatra := 0
		for _, c := range m.Cells {
			if c.Stroke == nil {
				continue
			}
			inMatra++
			l.Dayan, l.DayanOpen = l.Dayan+struck(c.Stroke.Dayan), l.DayanOpen+rings(c.Stroke.Dayan)
			l.Bayan, l.BayanOpen = l.Bayan+struck(c.Stroke.Bayan), l.BayanOpen+rings(c.Stroke.Bayan)
		}
		strokes += inMatra
		l.Densest = max(l.Densest, inMatra)
	}
	l.Mean = big.NewRat(int64(strokes), int64(max(1, len(matras))))
	return l
}

// struck counts a hand that plays, and rings one that leaves the drum to ring.
func struck(h Hand) int { return min(int(h), 1) }
func rings(h Hand) int  { return int(h) / int(Open) }

// PerSecond returns the strokes a second of the densest matra at a tempo in
// matras/min.
func (l Load) PerSecond(tempo int) *big.Rat { return big.NewRat(int64(l.Densest*tempo), 60) }

// Seconds returns how long one round takes at a tempo in matras/min.
func (l Load) Seconds(tempo int) *big.Rat { return big.NewRat(int64(l.Matras)*60, int64(tempo)) }
