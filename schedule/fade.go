package schedule

import "math"

// How a tempo fades while a piece is left alone, on the scale of the ladder: the
// natural logarithm of the tempo, on which equal steps are equal parts.
//
//	lost after t days = 0.15 · ln(1 + t / hold)
//
// What is kept falls fast at first and ever more slowly, near to the logarithm
// of the time (H. Ebbinghaus, "Über das Gedächtnis", 1885; J. T. Wixted and
// E. B. Ebbesen, "On the form of forgetting", Psychological Science 2, 1991;
// both from memory). hold is the piece's own: the days in which a tenth of its
// tempo goes, for 0.15 · ln 2 = -ln 0.9.
const bend = 0.15

// lost returns what days without a play take away, in ln tempo.
func lost(days, hold float64) float64 { return bend * math.Log1p(days/hold) }

// lasts returns the days until that much, in ln tempo, is lost.
func lasts(reserve, hold float64) float64 { return hold * math.Expm1(reserve/bend) }

// pull returns how strongly what is lost hangs on ln hold.
func pull(days, hold float64) float64 { return bend * days / (hold + days) }
