package repertoire

import (
	"fmt"
	"slices"
	"strings"
)

// A Tala is a cycle of matras in vibhags, each begun by a clap (tali) or a
// wave (khali). Sam is matra 1.
type Tala struct {
	Name    string
	Vibhags []int // matras of each
	Tali    []int // the matras that are clapped
	Khali   []int // the matras that are waved
}

// Matras returns the length of one cycle.
func (t Tala) Matras() int {
	n := 0
	for _, v := range t.Vibhags {
		n += v
	}
	return n
}

// Talas are the cycles that are known.
//
// The structure of the first four was seen in the CompMusic Hindustani Rhythm
// Dataset (Srinivasamurthy et al., ICASSP 2016); the others are from memory of
// handbooks in Bhatkhande's notation.
var Talas = []Tala{
	{"teental", []int{4, 4, 4, 4}, []int{1, 5, 13}, []int{9}},
	{"ektal", []int{2, 2, 2, 2, 2, 2}, []int{1, 5, 9, 11}, []int{3, 7}},
	{"jhaptal", []int{2, 3, 2, 3}, []int{1, 3, 8}, []int{6}},
	{"rupak", []int{3, 2, 2}, []int{4, 6}, []int{1}},
	{"keherwa", []int{4, 4}, []int{1}, []int{5}},
	{"dadra", []int{3, 3}, []int{1}, []int{4}},
	{"chautal", []int{2, 2, 2, 2, 2, 2}, []int{1, 5, 9, 11}, []int{3, 7}},
	{"sultal", []int{2, 2, 2, 2, 2}, []int{1, 5, 7}, []int{3, 9}},
	{"tivra", []int{3, 2, 2}, []int{1, 4, 6}, nil},
	{"dhamar", []int{5, 2, 3, 4}, []int{1, 6, 11}, []int{8}},
	{"jhumra", []int{3, 4, 3, 4}, []int{1, 4, 11}, []int{8}},
	{"deepchandi", []int{3, 4, 3, 4}, []int{1, 4, 11}, []int{8}},
	{"ada chautal", []int{2, 2, 2, 2, 2, 2, 2}, []int{1, 3, 7, 11}, []int{5, 9, 13}},
	{"tilwada", []int{4, 4, 4, 4}, []int{1, 5, 13}, []int{9}},
	{"pancham sawari", []int{3, 4, 4, 4}, []int{1, 4, 12}, []int{8}},
}

// talaSpellings are other common Latin spellings (common practice, no source).
var talaSpellings = map[string]string{
	"tintal": "teental", "tritaal": "teental", "trital": "teental", "teentaal": "teental",
	"ektaal": "ektal", "jhaptaal": "jhaptal", "rupak tal": "rupak", "roopak": "rupak",
	"kaharwa": "keherwa", "kaherva": "keherwa", "keharwa": "keherwa", "chowtal": "chautal",
	"chautaal": "chautal", "sool tal": "sultal", "sooltal": "sultal", "teevra": "tivra",
	"dipchandi": "deepchandi", "ada chowtal": "ada chautal", "tilvada": "tilwada",
	"panchamsawari": "pancham sawari", "adachautal": "ada chautal",
}

// FindTala returns the tala of that name, in any case and common spelling. The
// error lists the names.
func FindTala(name string) (Tala, error) {
	folded := Fold(name)
	if s, ok := talaSpellings[folded]; ok {
		folded = s
	}
	if i := slices.IndexFunc(Talas, func(t Tala) bool { return t.Name == folded }); i >= 0 {
		return Talas[i], nil
	}
	names := make([]string, len(Talas))
	for i, t := range Talas {
		names[i] = t.Name
	}
	return Tala{}, fmt.Errorf("%q is no tala known here; known are %s", name, strings.Join(names, ", "))
}
