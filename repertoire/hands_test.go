package repertoire

import (
	"slices"
	"strings"
	"testing"
)

func TestLoad(t *testing.T) {
	l := read(t, "dha dhinna kitataka --").Load()
	if l.Matras != 4 || Count(l.Mean) != "1 3/4" || l.Densest != 4 || l.Dayan != 5 || l.DayanOpen != 4 || l.Bayan != 4 || l.BayanOpen != 2 {
		t.Errorf("%+v, mean %s", l, l.Mean)
	}
	// A roll of four strokes a matra at 180 is 12 strokes a second (common
	// practice, no source).
	if got := Count(l.PerSecond(180)); got != "12" {
		t.Errorf("four strokes a matra at 180 are %s a second, want 12", got)
	}
	if got := Count(l.Seconds(120)); got != "2" {
		t.Errorf("four matras at 120 take %s seconds, want 2", got)
	}
}

func TestKhali(t *testing.T) {
	for bols, want := range map[string]string{
		"dha dhin ge dhage":  "ta tin ke take",
		"dhati tirakita kat": "tati tirakita kat",
		"dhere धागे":         "tere ताके",
		"dha- dhet kra":      "ta- tet kra",
		"धा धिं गे तिरकिट धेत": "ता तिं के तिरकिट तेत्",
	} {
		got := names(read(t, bols).Khali())
		if got != names(read(t, want)) {
			t.Errorf("the khali of %q is %q, want %q", bols, got, want)
		}
		var texts []string
		for _, m := range read(t, bols).Khali().Matras() {
			texts = append(texts, m.Text)
		}
		if printed := strings.Join(texts, " "); names(read(t, printed)) != got {
			t.Errorf("the khali of %q is printed as %q", bols, printed)
		}
	}
}

func TestCompareKhali(t *testing.T) {
	differences, ok := read(t, "dhati dhage nadha tina\ntati take nata dhina").CompareKhali()
	if want := []string{"line 2, matra 4: dhina is written, khali would be tina"}; !ok || !slices.Equal(differences, want) {
		t.Errorf("%v, %v", differences, ok)
	}
	if differences, ok := read(t, "dha dhin dhin dha ta tin tin ta").CompareKhali(); !ok || len(differences) != 0 {
		t.Errorf("%v, %v", differences, ok)
	}
	differences, ok = read(t, "dhati dhage dhage dhina\ntati take dhage dhina").CompareKhali()
	if want := []string{"line 2, matras 3 to 4: dhage dhina is written, khali would be take tina"}; !ok || !slices.Equal(differences, want) {
		t.Errorf("%v, %v", differences, ok)
	}
	if differences, ok := read(t, tala(t, "chautal").Theka).CompareKhali(); ok {
		t.Errorf("chautal was found to write a khali half: %v", differences)
	}
	differences, ok = read(t, tala(t, "jhaptal").Theka).CompareKhali()
	if want := []string{"matras 8 to 9: dhi dhi is written, khali would be tin tin"}; !ok || !slices.Equal(differences, want) {
		t.Errorf("jhaptal: %v, %v", differences, ok)
	}
	if differences, ok := read(t, "dha dhin\ndha dhin").CompareKhali(); ok {
		t.Errorf("a khali half was found where none is written: %v", differences)
	}
	differences, ok = read(t, "dha dhin dhin dha ta tin ge ta").CompareKhali()
	if want := []string{"matra 7: ge is written, khali would be tin"}; !ok || !slices.Equal(differences, want) {
		t.Errorf("%v, %v", differences, ok)
	}
}

func TestShared(t *testing.T) {
	kaida := read(t, "dhati dhage nadha tite dhage tina")
	for bols, want := range map[string]int{
		"dhati dhage nadha tite dhage tina": 12, // the whole
		"dhati dhage":                       4,
		"dhati dha":                         0, // three strokes are no phrase
		"kat kat dhagenadha kat":            4,
		"धाती धागे":                         4,
	} {
		piece := read(t, bols)
		if shared, of := Shared(piece.Strokes(), kaida.Strokes()); shared != want || of != len(piece.Strokes()) {
			t.Errorf("%q shares %d of %d strokes, want %d", bols, shared, of, want)
		}
	}
}

func TestTechniques(t *testing.T) {
	for bols, want := range map[string]string{
		"tirakita tirakita dha":                 "tirakita",
		"dheredhere kitataka":                   "dhere-dhere kitataka",
		"dhatite dhatite":                       "titi",
		"dhinagina dhinagina":                   "dhinagina",
		"kata gadigana":                         "gadigana",
		"dha dhin dhin dha":                     "",
		strings.Repeat("dha ", 30) + "tirakita": "tirakita",
		strings.Repeat("dha ", 60) + "tirakita": "",
		"तिरकिट तिरकिट":                         "tirakita",
	} {
		if got := strings.Join(read(t, bols).Techniques(), " "); got != want {
			t.Errorf("%q exercises %q, want %q", bols, got, want)
		}
	}
}
