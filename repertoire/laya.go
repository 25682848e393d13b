package repertoire

import (
	"fmt"
	"math/big"
	"strings"
)

// Layakari: a composition played at a ratio to the pulse. Once through N matras
// at k-fold speed takes N/k matras; to end on sam it starts after N - N/k of
// them, or that much after a later cycle has begun. Source of the rule and the
// ratios: P. Parihar, "How to make Layakari", lesson page, 2016.

// A Laya is a ratio with its name.
type Laya struct {
	Name  string
	Speed *big.Rat // how many times as fast
}

// Layas are the ratios that are known.
var Layas = []Laya{
	{"dugun", big.NewRat(2, 1)},
	{"tigun", big.NewRat(3, 1)},
	{"chaugun", big.NewRat(4, 1)},
	{"aad", big.NewRat(3, 2)},
	{"kuaad", big.NewRat(5, 4)},
	{"biaad", big.NewRat(7, 4)},
}

// layaSpellings are other common spellings (common practice, no source).
var layaSpellings = map[string]string{
	"ad": "aad", "aada": "aad", "ada": "aad", "kuad": "kuaad", "kuaada": "kuaad", "biad": "biaad", "biaada": "biaad",
	"duguna": "dugun", "tiguna": "tigun", "chauguna": "chaugun", "आड": "aad", "कुआड": "kuaad", "बिआड": "biaad",
	"दुगुन": "dugun", "तिगुन": "tigun", "चौगुन": "chaugun",
}

// FindLaya returns the laya of that name. The error lists the names.
func FindLaya(name string) (Laya, error) {
	var names []string
	for _, l := range Layas {
		if l.Name == Fold(name) || l.Name == layaSpellings[Fold(name)] {
			return l, nil
		}
		names = append(names, l.Name)
	}
	return Laya{}, fmt.Errorf("%q is no laya known here; known are %s", name, strings.Join(names, ", "))
}

// Takes returns how many matras n of them take at this laya.
func (l Laya) Takes(n int) *big.Rat { return over(whole(n), l.Speed) }
