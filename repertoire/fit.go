package repertoire

import (
	"fmt"
	"math/big"
)

// Does a composition fit its cycle? Most kinds fill whole cycles; those that
// land are measured from their first stroke to the last, which falls on sam.

// Fit says in one line what a player should know about the composition on its
// tala, or "" when it simply fits.
func Fit(kind Kind, t Tala, n Notation) string {
	if kind.Lands() {
		return landing(kind, t, n)
	}
	matras := len(n.Matras())
	spot := misplacedBar(t, n)
	rest := matras % t.Matras()
	switch {
	case rest == 0 && spot == "":
		return ""
	case rest == 0:
		return fmt.Sprintf("It fills %s of %s, but %s.", cycles(matras/t.Matras()), t.Name, spot)
	case spot == "":
		spot = fmt.Sprintf("it ends after matra %d of %d", rest, t.Matras())
	}
	off := fmt.Sprintf("%d short of %s", t.Matras()-rest, cycles(matras/t.Matras()+1))
	if matras > t.Matras() && 2*rest <= t.Matras() {
		off = fmt.Sprintf("%d over %s", rest, cycles(matras/t.Matras()))
	}
	return fmt.Sprintf("It does not fill whole cycles of %s: %s (%s, %s).", t.Name, spot, matrasOf(matras), off)
}

func cycles(n int) string {
	if n == 1 {
		return "one cycle"
	}
	return fmt.Sprintf("%d cycles", n)
}

// misplacedBar finds the first vibhag that its bars make too long or too short.
func misplacedBar(t Tala, n Notation) string {
	vibhag := 0 // in the cycle, from 0
	begun := 0  // matras of it before this line
	for i, line := range n.Lines {
		last, inLine := 0, 0
		for _, bar := range line.Bars {
			inLine++
			size := t.Vibhags[vibhag]
			if got := begun + bar - last; got != size {
				return fmt.Sprintf("vibhag %d of line %d has %s, not %d", inLine, i+1, matrasOf(got), size)
			}
			last, begun = bar, 0
			vibhag = (vibhag + 1) % len(t.Vibhags)
		}
		begun += len(line.Matras) - last
		if begun == t.Vibhags[vibhag] { // the end of a line needs no bar
			begun = 0
			vibhag = (vibhag + 1) % len(t.Vibhags)
		} else if len(line.Bars) == 0 { // a line without bars says nothing of vibhags
			for begun >= t.Vibhags[vibhag] {
				begun -= t.Vibhags[vibhag]
				vibhag = (vibhag + 1) % len(t.Vibhags)
			}
		}
	}
	return ""
}

func matrasOf(n int) string {
	if n == 1 {
		return "1 matra"
	}
	return fmt.Sprintf("%d matras", n)
}

// StartsAfter returns how many matras after a sam the composition starts when it
// is played at speed: 0 for one that fills cycles, and for one that lands as
// many as bring its last stroke onto sam.
func StartsAfter(kind Kind, t Tala, n Notation, speed *big.Rat) *big.Rat {
	if kind.Lands() {
		return modulo(new(big.Rat).Neg(over(n.Landing(), speed)), t.Matras())
	}
	return modulo(new(big.Rat).Neg(over(whole(len(n.Matras())), speed)), t.Matras())
}

// landing says where a composition that lands must begin, and, of a tihai or a
// chakradar that misses sam when begun on sam, what gap would mend it.
func landing(kind Kind, t Tala, n Notation) string {
	start := StartsAfter(kind, t, n, whole(1))
	matras := len(n.Matras())
	tihai, form := FindTihai(n)
	called := kind == "tihai" || kind == "chakradar"
	switch {
	case called && form == NoTihai:
		return fmt.Sprintf("No phrase stands three times in it at equal distances; to land on sam it starts %s.", onPlace(start))
	case start.Sign() == 0:
		return ""
	case !called && matras%t.Matras() == 0:
		return ""
	case !called:
		return fmt.Sprintf("To land on sam it starts %s.", onPlace(start))
	}
	missed := modulo(n.Landing(), t.Matras())
	text := "late"
	if half := big.NewRat(int64(t.Matras()), 2); less(half, missed) {
		missed, text = minus(whole(t.Matras()), missed), "early"
	}
	return fmt.Sprintf("Begun on sam it lands %s %s; gaps of %s instead of %s would mend it, or a start %s.",
		Matras(missed), text, Matras(tihai.Mend(t.Matras())), Count(tihai.Gap), onPlace(start))
}

func onPlace(after *big.Rat) string {
	if after.IsInt() {
		return "on " + Place(after)
	}
	return Place(after)
}

// Matras writes a number of matras with its noun.
func Matras(a *big.Rat) string {
	if same(a, whole(1)) || a.Sign() > 0 && less(a, whole(1)) {
		return Count(a) + " matra"
	}
	return Count(a) + " matras"
}
