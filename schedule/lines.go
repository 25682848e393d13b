package schedule

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// A composition of several lines is taken apart when it is new, or when a line of
// it is the trouble: line by line and slower, then in pairs, then whole (common
// practice, no source). What is left to do follows from the plays of its lines, so
// that tomorrow goes on where today ended; where the piece stands follows from
// whole plays alone.

// Apart is what the plays of a piece of several lines tell of its lines and of
// the pairs of neighbours.
type Apart struct {
	matras       []int         // of each line
	lines, pairs []trial       // pairs[i] is of lines i+1 and i+2; none of only two lines
	last         map[Part]Play // how each was played last
	whole        bool          // it was played whole
}

// A trial tells of a part whether it is untried, went well, or is in trouble.
type trial int

const (
	untried trial = iota
	well
	trouble
)

// TakeApart returns what plays tell of a piece with lines of so many matras.
// Spoken plays, and those of lines that it does not have, tell nothing.
func TakeApart(matras []int, plays []Play) Apart {
	a := Apart{matras: matras, lines: make([]trial, len(matras)), last: map[Part]Play{}}
	if len(matras) > 2 {
		a.pairs = make([]trial, len(matras)-1)
	}
	for _, p := range plays {
		if !p.Spoken && p.Part().To <= len(matras) {
			a.take(p.Part(), p)
		}
	}
	return a
}

// take takes in one play. Lines that were clear together were clear each; a line
// that was not is in trouble, and so are its joints.
func (a *Apart) take(of Part, p Play) {
	result := trouble
	if p.Clarity >= Clear {
		result = well
	}
	if of == (Part{}) {
		a.whole = true
		for i, pair := range a.pairs {
			if result == well && pair == trouble && a.lines[i] != trouble && a.lines[i+1] != trouble {
				a.pairs[i] = well
			}
		}
		return
	}
	a.last[of] = p
	for i := of.From - 1; i < of.To; i++ {
		if result == well || of.From == of.To {
			a.lines[i] = result
		}
	}
	first, last := of.From-1, of.To-2
	if of.From == of.To && result == trouble {
		first, last = of.From-2, of.From-1
	}
	for i := max(0, first); i <= min(last, len(a.pairs)-1); i++ {
		a.pairs[i] = result
	}
}

// Known returns the parts that were played alone, in order, each as it was played
// last.
func (a Apart) Known() []Play {
	return slices.SortedFunc(maps.Values(a.last), func(p, q Play) int {
		return cmp.Or(cmp.Compare(p.Part().From, q.Part().From), cmp.Compare(p.Part().To, q.Part().To))
	})
}

// HeldBackBy returns the part that holds the piece back: of the lines that were
// not clear when played last, or else of the pairs, the slowest. There may be none.
func (a Apart) HeldBackBy() (held Part, ok bool) {
	for _, several := range []bool{false, true} {
		for _, p := range a.Known() {
			of := p.Part()
			slower := !ok || p.Tempo < a.last[held].Tempo
			if several == (of.From < of.To) && p.Clarity < Clear && slower && a.troubled(of) {
				held, ok = of, true
			}
		}
		if ok {
			break
		}
	}
	return held, ok
}

// troubled reports whether a line, or a joint within lines, is in trouble still.
func (a Apart) troubled(of Part) bool {
	if of.From == of.To {
		return a.lines[of.From-1] == trouble
	}
	return len(a.pairs) == 0 || slices.Contains(a.pairs[of.From-1:of.To-1], trouble)
}

// A Leg is a part of a turn's piece to play, on the way to the whole.
type Leg struct {
	Part
	Tempo   int // matras/min
	Minutes int
}

// legRounds is how often a part is played on the way, at least, where that takes
// longer than a minute (our choice).
const legRounds = 2

// TempoOf returns the tempo at which to play a part on the way to the whole, in
// matras/min: a line two marks below the target, several one (our choice).
func (t Turn) TempoOf(of Part) int {
	switch {
	case of == Part{}:
		return t.Target
	case of.From == of.To:
		return slower(t.Target, 2)
	}
	return slower(t.Target, 1)
}

// Walk returns the legs of the turn, whose minutes are those of the turn; none
// for a piece that is neither new nor in trouble. A part that was not clear is
// played slower than it was. As many legs are walked as the minutes hold, the
// others on another day. A new piece is played whole when all its parts were
// clear; one that is known is played whole every time.
func (t Turn) Walk(a Apart) []Leg {
	open := func(p trial) bool { return p == trouble || p == untried && !a.whole }
	leg := func(of Part, matras int) Leg {
		tempo := t.TempoOf(of)
		if last, played := a.last[of]; played && last.Clarity < Clear {
			tempo = min(tempo, slower(last.Tempo, 1))
		}
		return Leg{of, tempo, max(1, (legRounds*60*matras/tempo+30)/60)}
	}
	var legs []Leg
	for i, line := range a.lines {
		if len(a.lines) > 1 && open(line) {
			legs = append(legs, leg(Part{i + 1, i + 1}, a.matras[i]))
		}
	}
	for i, pair := range a.pairs {
		if open(pair) {
			legs = append(legs, leg(Part{i + 1, i + 2}, a.matras[i]+a.matras[i+1]))
		}
	}
	if len(legs) == 0 {
		return nil
	}
	whole, kept := leg(Part{}, t.Matras), 0
	if a.whole {
		kept = min(whole.Minutes, max(1, t.Minutes-1))
	}
	left := t.Minutes - kept
	legs[0].Minutes = min(legs[0].Minutes, max(1, left))
	n := 0
	for n < len(legs) && legs[n].Minutes <= left {
		left -= legs[n].Minutes
		n++
	}
	all := n == len(legs)
	legs, left = legs[:n], left+kept
	if a.whole || all && whole.Minutes <= left {
		whole.Minutes = left
		return append(legs, whole)
	}
	legs[n-1].Minutes += left
	return legs
}

// LegsLine says legs in one clause, "" when there are none: lines 1, 2, 3 alone at
// 52, then 1-2, 2-3 at 56, then whole.
func LegsLine(legs []Leg) string {
	if len(legs) == 0 {
		return ""
	}
	var all []string
	end := "whole another day"
	for n := 0; len(legs) > 0; legs = legs[n:] {
		first := legs[0]
		if first.Part == (Part{}) {
			end, n = "whole", 1
			continue
		}
		alike := func(leg Leg) bool {
			return leg.From > 0 && leg.From < leg.To == (first.From < first.To) && leg.Tempo == first.Tempo
		}
		var parts []string
		for n = 0; n < len(legs) && alike(legs[n]); n++ {
			parts = append(parts, legs[n].Lines())
		}
		text := strings.Join(parts, ", ")
		switch {
		case first.From < first.To:
		case n > 1:
			text = "lines " + text + " alone"
		default:
			text = "line " + text + " alone"
		}
		all = append(all, fmt.Sprintf("%s at %d", text, first.Tempo))
	}
	return strings.Join(append(all, end), ", then ")
}
