package repertoire

import (
	"strings"
	"testing"
)

func TestFold(t *testing.T) {
	for _, same := range [][2]string{
		{"Lantern Kaida", "  lantern \t kaida"}, {"Kāyadā", "kayada"}, {"Ṭheka", "theka"}, {"ＫＡＩＤＡ", "kaida"},
	} {
		if Fold(same[0]) != Fold(same[1]) {
			t.Errorf("%q and %q are two titles", same[0], same[1])
		}
	}
	for _, two := range [][2]string{
		{"Lantern kaida", "Lanternkaida"}, {"धा", "धि"}, {"तिरकिट", "तरकट"},
	} {
		if Fold(two[0]) == Fold(two[1]) {
			t.Errorf("%q and %q are one title", two[0], two[1])
		}
	}
}

func TestCleanTitle(t *testing.T) {
	if got, err := CleanTitle("  Lantern   kaida "); err != nil || got != "Lantern kaida" {
		t.Errorf("%q, %v", got, err)
	}
	for _, bad := range []string{
		"", "  ", "a\x1b[31mred", "bell\a", "two\nlines", "right\u202eleft", "\xff\xfe", "c1\u009b31m", "\u0301",
		strings.Repeat("a", MaxTitle+1),
	} {
		if got, err := CleanTitle(bad); err == nil {
			t.Errorf("%q became the title %q", bad, got)
		}
	}
}

func TestCheckBols(t *testing.T) {
	if err := CheckBols("dha dhin\tdhin dha |\r\nधा धिं धिं धा |\n"); err != nil {
		t.Error(err)
	}
	for _, bad := range []string{"dha \x1b[2J", "dha\x00", strings.Repeat("d", MaxBols+1)} {
		if CheckBols(bad) == nil {
			t.Errorf("bols that begin %.10q were let in", bad)
		}
	}
}

func FuzzCleanTitle(f *testing.F) {
	for _, seed := range []string{"Lantern kaida", "a\x1bb", "तिरकिट", "Kāyadā", "\u202e"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		title, err := CleanTitle(text)
		if err != nil {
			return
		}
		if again, err := CleanTitle(title); err != nil || again != title {
			t.Errorf("%q is kept as %q, and that as %q, %v", text, title, again, err)
		}
		if strings.ContainsFunc(title, Unprintable) {
			t.Errorf("%q is kept as %q", text, title)
		}
		if Fold(Fold(title)) != Fold(title) {
			t.Errorf("%q folds to %q and that to %q", title, Fold(title), Fold(Fold(title)))
		}
	})
}
