package repertoire

import (
	"slices"
	"testing"
)

// The structure of teental, ektal, jhaptal and rupak was seen in the CompMusic
// Hindustani Rhythm Dataset (Srinivasamurthy et al., ICASSP 2016). The others
// are from memory of handbooks in Bhatkhande's notation.
func TestTalas(t *testing.T) {
	for _, want := range []struct {
		name                 string
		matras               int
		vibhags, tali, khali []int
	}{
		{"teental", 16, []int{4, 4, 4, 4}, []int{1, 5, 13}, []int{9}},
		{"ektal", 12, []int{2, 2, 2, 2, 2, 2}, []int{1, 5, 9, 11}, []int{3, 7}},
		{"jhaptal", 10, []int{2, 3, 2, 3}, []int{1, 3, 8}, []int{6}},
		{"rupak", 7, []int{3, 2, 2}, []int{4, 6}, []int{1}},
		{"keherwa", 8, []int{4, 4}, []int{1}, []int{5}},
		{"dadra", 6, []int{3, 3}, []int{1}, []int{4}},
		{"chautal", 12, []int{2, 2, 2, 2, 2, 2}, []int{1, 5, 9, 11}, []int{3, 7}},
		{"sultal", 10, []int{2, 2, 2, 2, 2}, []int{1, 5, 7}, []int{3, 9}},
		{"tivra", 7, []int{3, 2, 2}, []int{1, 4, 6}, nil},
		{"dhamar", 14, []int{5, 2, 3, 4}, []int{1, 6, 11}, []int{8}},
		{"jhumra", 14, []int{3, 4, 3, 4}, []int{1, 4, 11}, []int{8}},
		{"deepchandi", 14, []int{3, 4, 3, 4}, []int{1, 4, 11}, []int{8}},
		{"ada chautal", 14, []int{2, 2, 2, 2, 2, 2, 2}, []int{1, 3, 7, 11}, []int{5, 9, 13}},
		{"tilwada", 16, []int{4, 4, 4, 4}, []int{1, 5, 13}, []int{9}},
		{"pancham sawari", 15, []int{3, 4, 4, 4}, []int{1, 4, 12}, []int{8}},
	} {
		got, err := FindTala(want.name, Talas)
		if err != nil {
			t.Error(err)
			continue
		}
		if got.Matras() != want.matras || !slices.Equal(got.Vibhags, want.vibhags) ||
			!slices.Equal(got.Tali, want.tali) || !slices.Equal(got.Khali, want.khali) {
			t.Errorf("%s is %+v with %d matras, want %+v", want.name, got, got.Matras(), want)
		}
	}
}

// Every vibhag begins with a clap or a wave, and nothing else does.
func TestSignsStandOnVibhags(t *testing.T) {
	for _, tala := range Talas {
		signs := slices.Concat(tala.Tali, tala.Khali)
		slices.Sort(signs)
		var begins []int
		at := 1
		for _, v := range tala.Vibhags {
			begins = append(begins, at)
			at += v
		}
		if !slices.Equal(signs, begins) {
			t.Errorf("%s: vibhags begin at %v, signs stand at %v", tala.Name, begins, signs)
		}
	}
}

func TestFindTala(t *testing.T) {
	for spelling, name := range talaSpellings {
		if tala, err := FindTala(spelling, Talas); err != nil || tala.Name != name {
			t.Errorf("%s is %s, %v", spelling, tala.Name, err)
		}
	}
	if tala, err := FindTala("waltz", Talas); err == nil {
		t.Errorf("waltz is %s", tala.Name)
	}
}
