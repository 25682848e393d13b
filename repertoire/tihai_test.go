package repertoire

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func TestTihaiArithmetic(t *testing.T) {
	for _, c := range []struct {
		source           string
		tala             int
		phrase, gap, d   int64
		total, to, start string
	}{
		{"common practice: teental, sam to sam", 16, 5, 1, 1, "17", "16", "matra 1"},
		{"common practice: one and a half cycles", 16, 7, 2, 1, "25", "24", "matra 9"},
		{"lesson blog Tabla Theka, 2025: 7 matras, gapless 3 x 2", 7, 2, 0, 0, "6", "6", "matra 2"},
		{"the same: 8 matras, phrase 2 and gap 1", 8, 2, 1, 0, "8", "8", "matra 1"},
		{"the same: 8 matras, gapless 3 x 2", 8, 2, 0, 0, "6", "6", "matra 3"},
	} {
		tihai := Tihai{big.NewRat(c.phrase, 1), big.NewRat(c.gap, 1), big.NewRat(c.d, 1)}
		if got := Count(tihai.Total()); got != c.total {
			t.Errorf("%s: %s matras in all, want %s", c.source, got, c.total)
		}
		if got := Count(tihai.ToSam()); got != c.to {
			t.Errorf("%s: %s matras to sam, want %s", c.source, got, c.to)
		}
		if got := Place(tihai.StartsAfter(c.tala)); got != c.start {
			t.Errorf("%s: starts on %s, want %s", c.source, got, c.start)
		}
	}
}

// Every solution lands, and solutions that are known are found.
func TestSolutionsLand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cycle := rapid.IntRange(2, 16).Draw(t, "tala")
		from := rapid.IntRange(1, cycle).Draw(t, "from")
		last := big.NewRat(rapid.Int64Range(0, 8).Draw(t, "last"), 4)
		for _, s := range SolveFrom(cycle, from, last, rapid.IntRange(1, 3).Draw(t, "cycles")) {
			if at := plus(whole(from-1), s.ToSam()); !same(at, whole(cycle*s.Cycles)) {
				t.Fatalf("%+v begun on matra %d lands after %s matras of %d", s, from, at, cycle)
			}
			if s.Gap.Sign() < 0 || s.Phrase.Sign() <= 0 {
				t.Fatalf("%+v", s)
			}
		}
	})
	found := false
	for _, s := range SolveFrom(16, 9, whole(1), 2) {
		found = found || s.Cycles == 2 && Count(s.Phrase) == "7" && Count(s.Gap) == "2"
	}
	if !found {
		t.Error("teental from matra 9: phrase 7 and gap 2 is not found")
	}
}

func TestMend(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tihai := Tihai{
			big.NewRat(rapid.Int64Range(1, 60).Draw(t, "phrase"), 4), big.NewRat(rapid.Int64Range(0, 20).Draw(t, "gap"), 4), big.NewRat(1, 4),
		}
		cycle := rapid.IntRange(2, 16).Draw(t, "tala")
		tihai.Gap = tihai.Mend(cycle)
		if tihai.Gap.Sign() < 0 || modulo(tihai.ToSam(), cycle).Sign() != 0 {
			t.Fatalf("with a gap of %s it lands %s matras after sam", tihai.Gap, modulo(tihai.ToSam(), cycle))
		}
	})
}

// A chakradar is a phrase ending in a tihai, played three times; a nine-fold
// tihai is a tihai of tihais (common practice, no source).
func TestForms(t *testing.T) {
	for bols, want := range map[string]Form{
		"dha tite dha - dha tite dha - dha tite dha":                                        PlainTihai,
		"dha - - dha - - dha":                                                               PlainTihai,
		"dhatite dhatite dhatite dha":                                                       NoTihai,
		"dha tite dha - dha tite dha dha tite dha":                                          NoTihai,
		"(dhage tite dha - dha - dha -)x2 dhage tite dha - dha - dha":                       Chakradar,
		"(dhage tite dhage na dhage na dhage na -)x2 dhage tite dhage na dhage na dhage na": Chakradar,
		"((dha ge na -)x2 dha ge na - - )x2 (dha ge na -)x2 dha ge na":                      NineFold,
		"(dhati dhage tite dha dha dha)x3":                                                  Chakradar,
		"dha dha dha dha":                                                                   NoTihai,
		"dha":                                                                               NoTihai,
	} {
		if _, got := FindTihai(read(t, bols)); got != want {
			t.Errorf("%q is %q, want %q", bols, got, want)
		}
	}
	tihai, _ := FindTihai(read(t, "dhati dhage nadha tite dha - dhati dhage nadha tite dha - dhati dhage nadha tite dha"))
	if Count(tihai.Phrase) != "5" || Count(tihai.Gap) != "1" || Count(tihai.Last) != "1" || Count(tihai.ToSam()) != "16" {
		t.Errorf("phrase %s, gap %s, last %s, to sam %s; want 5, 1, 1, 16", tihai.Phrase, tihai.Gap, tihai.Last, tihai.ToSam())
	}
	tihai, _ = FindTihai(read(t, "dhati dhadha tidha dhati dha-"))
	if Count(tihai.Phrase) != "1 1/2" || Count(tihai.Gap) != "0" || Count(tihai.Last) != "1/2" || Count(tihai.ToSam()) != "4" {
		t.Errorf("phrase %s, gap %s, last %s, to sam %s; want 1 1/2, 0, 1/2, 4", tihai.Phrase, tihai.Gap, tihai.Last, tihai.ToSam())
	}
}
