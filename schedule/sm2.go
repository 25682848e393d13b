package schedule

// The interval algorithm SM-2, as published and nothing more:
//
//	I(1) = 1, I(2) = 6, I(n) = I(n-1)·EF days, a fraction rounded up,
//	EF' = EF + (0.1 - (5-q)·(0.08 + (5-q)·0.02)), never below 1.3, at first 2.5,
//	q < 3: begin again at I(1), EF unchanged.
//
// q is the quality of the n-th repetition, 0 to 5, and the EF in I(n) is the
// one after that repetition's change. Source: P. A. Woźniak, "Optimization of
// learning", master's thesis, University of Technology in Poznań, 1990,
// section 3.2.
//
// EF is held in hundredths and intervals in whole days, so every product is
// exact and rounding up never catches the dust of a float.

// An SM2 is the state of one piece under the algorithm. The zero value has
// seen no repetition.
type SM2 struct {
	N        int // repetitions since it last began at I(1)
	Interval int // I(N), days
	Ease     int // EF in hundredths, 130 or more; 0 before the first repetition
}

const (
	firstEase  = 250
	lowestEase = 130
	passing    = Strained // q = 3
)

// easeChange returns the change of EF after quality q, in hundredths:
// +10, 0, -14, -32, -54, -80 for q = 5 down to 0.
func easeChange(q Clarity) int {
	miss := 5 - int(q)
	return 10 - miss*(8+2*miss)
}

// Next returns the state after a repetition of quality q, 0 to 5.
func (s SM2) Next(q Clarity) SM2 {
	if s.Ease == 0 {
		s.Ease = firstEase
	}
	if q < passing {
		return SM2{N: 1, Interval: 1, Ease: s.Ease}
	}
	s.Ease = max(lowestEase, s.Ease+easeChange(q))
	s.N++
	switch s.N {
	case 1:
		s.Interval = 1
	case 2:
		s.Interval = 6
	default:
		s.Interval = (s.Interval*s.Ease + 99) / 100
	}
	return s
}
