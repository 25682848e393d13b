package repertoire

import (
	"math/big"
	"slices"
)

// A tihai is a phrase played three times with equal gaps between, so that the
// last stroke falls on sam. With a phrase of P matras, gaps of G, and a last
// stroke of D, all in matras, the way from the first stroke to sam is
// 3P + 2G - D (common practice, arithmetic). With D = 0 the phrase is over when
// sam comes, and sam is a stroke of its own.

// A Tihai is the measure of one.
type Tihai struct{ Phrase, Gap, Last *big.Rat }

// Total returns the matras from the first stroke to the end of the last phrase.
func (t Tihai) Total() *big.Rat { return plus(product(3, t.Phrase), product(2, t.Gap)) }

// ToSam returns the matras from the first stroke to sam.
func (t Tihai) ToSam() *big.Rat { return minus(t.Total(), t.Last) }

// StartsAfter returns how many matras after a sam the tihai starts, in a tala
// of that many, to land on a later one.
func (t Tihai) StartsAfter(tala int) *big.Rat { return modulo(new(big.Rat).Neg(t.ToSam()), tala) }

// Mend returns the gap nearest to the present one with which the tihai, begun
// on sam, lands on sam in a tala of that many matras.
func (t Tihai) Mend(tala int) *big.Rat {
	var best *big.Rat
	off := func(gap *big.Rat) *big.Rat { return new(big.Rat).Abs(minus(gap, t.Gap)) }
	for cycles := 1; ; cycles++ {
		gap := over(minus(plus(whole(cycles*tala), t.Last), product(3, t.Phrase)), whole(2))
		if gap.Sign() < 0 {
			continue
		}
		if best != nil && !less(off(gap), off(best)) {
			return best
		}
		best = gap
	}
}

// A Solution is a tihai that lands on sam after some whole cycles.
type Solution struct {
	Tihai
	Cycles int
}

// finest is the smallest part of a matra in which phrases and gaps are tried.
var finest = big.NewRat(1, 4)

// SolveFrom returns every tihai, with phrase and gap in quarters of a matra and
// that last stroke, that starts on a matra of the tala and lands on the sam of
// one of the next cycles; gapless and long phrases first.
func SolveFrom(tala, matra int, last *big.Rat, cycles int) []Solution {
	var all []Solution
	for c := 1; c <= cycles; c++ {
		toSam := plus(whole(c*tala-(matra-1)), last)
		for gap := new(big.Rat); ; gap = plus(gap, finest) {
			phrase := over(minus(toSam, product(2, gap)), whole(3))
			if phrase.Sign() <= 0 || less(phrase, last) {
				break
			}
			if over(phrase, finest).IsInt() {
				all = append(all, Solution{Tihai{phrase, gap, last}, c})
			}
		}
	}
	return all
}

// A Form says what a composition was found to be made of.
type Form int

const (
	NoTihai    Form = iota
	PlainTihai      // a phrase three times
	Chakradar       // three times a phrase that ends in a tihai
	NineFold        // a tihai of tihais
)

var forms = [...]string{"", "tihai", "chakradar", "nine-fold tihai"}

// String returns the word for f.
func (f Form) String() string { return forms[f] }

// FindTihai looks whether the composition is, from its first stroke to its
// last, a phrase played three times with equal gaps, and of which form.
func FindTihai(n Notation) (Tihai, Form) {
	events := n.Events()
	tihai, ok := thrice(events)
	if !ok {
		return Tihai{}, NoTihai
	}
	phrase := events[:len(events)/3]
	if _, ok := thrice(phrase); ok {
		return tihai, NineFold
	}
	for from := 1; from <= len(phrase)-3; from++ {
		if _, ok := thrice(phrase[from:]); ok {
			return tihai, Chakradar
		}
	}
	return tihai, PlainTihai
}

// thrice looks whether events are one phrase three times at equal distances.
func thrice(events []Event) (Tihai, bool) {
	n := len(events) / 3
	if n == 0 || len(events)%3 != 0 {
		return Tihai{}, false
	}
	period := minus(events[n].At, events[0].At)
	for i, e := range events[:2*n] {
		next := events[i+n]
		if e.Stroke != next.Stroke || !same(minus(next.At, e.At), period) {
			return Tihai{}, false
		}
	}
	end := events[n-1]
	phrase := minus(plus(end.At, end.Share), events[0].At)
	return Tihai{Phrase: phrase, Gap: minus(period, phrase), Last: end.Share}, true
}

// Landing returns the matras from the start of the composition to its last
// stroke, which is the one that lands on sam.
func (n Notation) Landing() *big.Rat {
	events := n.Events()
	return events[len(events)-1].At
}

// Lands reports whether pieces of the kind are measured to their landing on sam
// and not in whole cycles (common practice, no source).
func (k Kind) Lands() bool {
	return slices.Contains([]Kind{"tihai", "chakradar", "tukda", "mukhda", "mohra", "uthan", "paran"}, k)
}
