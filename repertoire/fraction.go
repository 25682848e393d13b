package repertoire

import (
	"fmt"
	"math/big"
	"strings"
)

// Musical time is counted in matras, as exact fractions. A *big.Rat that was
// handed out is never changed.

func whole(n int) *big.Rat               { return big.NewRat(int64(n), 1) }
func plus(a, b *big.Rat) *big.Rat        { return new(big.Rat).Add(a, b) }
func minus(a, b *big.Rat) *big.Rat       { return new(big.Rat).Sub(a, b) }
func times(a, b *big.Rat) *big.Rat       { return new(big.Rat).Mul(a, b) }
func over(a, b *big.Rat) *big.Rat        { return new(big.Rat).Quo(a, b) }
func less(a, b *big.Rat) bool            { return a.Cmp(b) < 0 }
func same(a, b *big.Rat) bool            { return a.Cmp(b) == 0 }
func product(n int, a *big.Rat) *big.Rat { return times(whole(n), a) }

// floor returns the whole part of a, and what is above it.
func floor(a *big.Rat) (int, *big.Rat) {
	n := int(new(big.Int).Div(a.Num(), a.Denom()).Int64())
	return n, minus(a, whole(n))
}

// ceil returns the least whole number not below a.
func ceil(a *big.Rat) int {
	n, rest := floor(a)
	if rest.Sign() > 0 {
		n++
	}
	return n
}

// modulo returns what is left of a after whole cycles of n matras: 0 or more,
// less than n.
func modulo(a *big.Rat, n int) *big.Rat {
	cycles, _ := floor(over(a, whole(n)))
	return minus(a, whole(cycles*n))
}

// Count writes a number of matras: 3 1/3.
func Count(a *big.Rat) string {
	if a.Sign() < 0 {
		return "-" + Count(new(big.Rat).Neg(a))
	}
	n, rest := floor(a)
	switch {
	case rest.Sign() == 0:
		return fmt.Sprint(n)
	case n == 0:
		return rest.RatString()
	}
	return fmt.Sprintf("%d %s", n, rest.RatString())
}

// ParseCount reads a number of matras: 5, 2 1/2, 5/2 or 2.5, not below zero and
// at most most.
func ParseCount(text string, most int) (*big.Rat, error) {
	bad := fmt.Errorf("%q is no number of matras from 0 to %d, such as 5 or 5/2", text, most)
	if len(text) > 16 || strings.ContainsAny(text, "eEpPxX_+-") {
		return nil, bad
	}
	sum := new(big.Rat)
	fields := strings.Fields(text)
	if len(fields) == 0 || len(fields) > 2 {
		return nil, bad
	}
	for i, field := range fields {
		part, ok := new(big.Rat).SetString(field)
		if !ok || i == 0 && len(fields) == 2 && !part.IsInt() {
			return nil, bad
		}
		sum = plus(sum, part)
	}
	if sum.Sign() < 0 || less(whole(most), sum) {
		return nil, bad
	}
	return sum, nil
}

// Place writes a moment, counted in matras after sam, as a player says it:
// matra 8, or 2/3 into matra 7.
func Place(after *big.Rat) string {
	n, rest := floor(after)
	if rest.Sign() == 0 {
		return fmt.Sprintf("matra %d", n+1)
	}
	return fmt.Sprintf("%s into matra %d", rest.RatString(), n+1)
}
