package repertoire

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func read(t testing.TB, text string) Notation {
	t.Helper()
	n, err := ReadBols(text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return n
}

// names writes strokes and pauses, matras parted by spaces.
func names(n Notation) string {
	var matras []string
	for _, m := range n.Matras() {
		var cells []string
		for _, c := range m.Cells {
			name := "-"
			if c.Stroke != nil {
				name = c.Stroke.Name
			}
			cells = append(cells, name)
		}
		matras = append(matras, strings.Join(cells, ","))
	}
	return strings.Join(matras, " ")
}

// A group of syllables is one matra, divided evenly (common practice, no
// source): these are 1, 2, 4 and 8 strokes.
func TestGroupsAreMatras(t *testing.T) {
	n := read(t, "dha dhinna kitataka tetekatagadigana")
	for i, want := range []int{1, 2, 4, 8} {
		if got := len(n.Matras()[i].Cells); got != want {
			t.Errorf("%s is %d strokes, want %d", n.Matras()[i].Text, got, want)
		}
	}
}

func TestReading(t *testing.T) {
	for text, want := range map[string]string{
		"dha":                          "dha",
		"Dhā DHIN ṭī":                  "dha dhin te",
		"dhaa dheen naa too":           "dha dhin na tu",
		"tirakita":                     "te,re,ke,te",
		"ti ra ki":                     "te re ke",
		"dhatirakita":                  "dha,te,re,ke,te",
		"dhagetirakita":                "dha,ge,te,re,ke,te",
		"tete titi tita":               "te,te te,te te,te",
		"dha- -dha S ऽ --":             "dha,- -,dha - - -,-",
		"dha-kra":                      "dha,-,kra",
		"ge ghe gi ga":                 "ge ge ge ge",
		"ke ka ki":                     "ke ke ke",
		"kat ta":                       "kat ta",
		"katta":                        "kat,ta",
		"kata":                         "ke,ta",
		"dhumakita":                    "dhum,te,ke,te",
		"gadigana":                     "ge,di,ge,na",
		"dheredhere":                   "dhe,re,dhe,re",
		"dhet":                         "dhet",
		"tak":                          "ta,ke",
		"kda":                          "kra",
		"dha,ge dha , ge":              "dha,ge dha ge",
		"(dha ge)x3":                   "dha ge dha ge dha ge",
		"((dha)x2 na)×2":               "dha dha na dha dha na",
		"(dha ge) x 2, na":             "dha ge dha ge na",
		"dhin dhin | dhage tirakita |": "dhin dhin dha,ge te,re,ke,te",
		"धा धिं धिं धा":                "dha dhin dhin dha",
		"धागे तिरकिट":                  "dha,ge te,re,ke,te",
		"तिरकिटतक":                     "te,re,ke,te,ta,ke",
		"कतगदिगन":                      "ke,ta,ge,di,ge,na",
		"कत ता":                        "kat ta",
		"धिन गिन":                      "dhin,na ge,na",
		"धिंना":                        "dhin,na",
		"dhage तिरकिट":                 "dha,ge te,re,ke,te",
		"धाऽ ऽक्र":                     "dha,- -,kra",
		"घिड़नग":                       "ge,di,na,ge",
		"dha dhin dhit dhag":           "dha dhin dhe,te dha,ge",
		"dhage nadhin nak":             "dha,ge na,dhin na,ke",
		"kdhatite kra":                 "dhra,te,te kra",
		"gene ghene gadigene":          "ge,na ge,na ge,di,ge,na",
		"trikit trekite":               "te,re,ke,te te,re,ke,te",
		"thumkit digdig lang":          "tu,te,ke,te di,ge,di,ge la,ge",
		"धिन धिन धा":                   "dhin dhin dha",
		"तिन तिन ता":                   "tin tin ta",
		"धिन गिन तिन किन": "dhin,na ge,na tin,na ke,na",
		"ti na dhi":          "tin na dhi"[:6] + " dhin",
		"na ti na":           "na tin na",
		"dha ge na ti na ka": "dha ge na tin na ke",
		"ti ra ki ta ti ta":  "te re ke te te te",
		"dha ti ta ge":       "dha te te ge",
		"धा । धा ॥":          "dha dha",
	} {
		n, err := ReadBols(text)
		if err != nil || names(n) != want {
			t.Errorf("%q reads as %q, want %q (%v)", text, names(n), want, err)
		}
	}
}

// The same composition in both scripts, and in several spellings, gives the
// same strokes.
func TestScriptsAgree(t *testing.T) {
	for _, same := range [][]string{
		{"tirakita", "tirikita", "tirkit", "terekete", "तिरकिट", "तेरेकेटे"},
		{"dha dhin dhin dha | dha tin tin ta", "dhaa dhi dheen dha dha ti- tin taa"[:0] + "dha dhim dhin dhaa dhā tīn tin tā", "धा धिं धिं धा | धा तिं तिं ता"},
		{"dhage natita", "dhaage naatiṭa", "धागे नातिट"},
		{"dhinagina tinakina", "dhinagena tinakena", "धिनगिन तिनकिन"},
		{"kitataka", "kittak", "किटतक"},
		{"gadigana", "gadigina", "गदिगन", "गदिगिन"},
		{"dhumakita", "dhumkit", "धूमकिट", "धुमकिट"},
		{"dheredhere kitataka", "dhiradhira kittak", "धेरेधेरे किटतक", "धिरधिर किटतक"},
		{"takita takadhina", "takit takdhina", "तकिट तकधिन"},
		{"dhatite dhage", "dhatita dhaghe", "धातिट धागे"},
		{"kradha", "kdadha", "क्रधा", "क्डधा"},
		{"tu na kat ta", "tun naa kath taa", "तू ना कत् ता", "तू ना कत ता"},
		{"dhet tet", "dhett tat", "धेत् तेत्"},
		{"dha dhin dhin dha", "धा धिन धिन धा", "धा धीन धिन् धा"},
		{"dhi na dhi dhi na ti na dhi dhi na", "धी ना धी धी ना ती ना धी धी ना"},
		{"dhitdhit dhagetit", "धिटधिट धागेतिट"},
		{"tinnakinna takka", "तिन्नाकिन्ना तक्का"},
		{"gadigene ghidan kidnag", "गदिगेने घिडान किडनग"},
	} {
		want := names(read(t, same[0]))
		for _, text := range same[1:] {
			if got := names(read(t, text)); got != want {
				t.Errorf("%q reads as %q, but %q as %q", text, got, same[0], want)
			}
		}
	}
}

func TestUnreadableBols(t *testing.T) {
	for text, want := range map[string]string{
		"dha dhin\ndha dhap na": `line 2, matra 2: "dhap" is no bol known here; the nearest are dha, dhag, dhah`,
		"dha hello":             `line 1, matra 2: "hello" is no bol known here`,
		"(dha":                  "line 1: a ( is not closed",
		"dha)":                  "line 1: a ) closes nothing",
		"(dha)":                 "line 1: a ) is followed by how often, 1 to 4096 times, as in (dha ge)x3",
		"(dha)x0":               "line 1: a ) is followed by how often, 1 to 4096 times, as in (dha ge)x3",
		"(dha)x999999999999999": "line 1: a ) is followed by how often, 1 to 4096 times, as in (dha ge)x3",
		"":                      "there is no bol in it",
		"- - |":                 "there is no bol in it",
		"(dha)x4096 dha":        "the bols have more than 4096 strokes",
		"धक":                    "",
	} {
		_, err := ReadBols(text)
		if want == "" {
			if err != nil {
				t.Errorf("%q: %v", text, err)
			}
			continue
		}
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	var unread *ReadError
	if _, err := ReadBols("dha\ndha xq"); !errors.As(err, &unread) || unread.Line != 2 || unread.Matra != 2 || unread.Word != "xq" {
		t.Errorf("%+v", unread)
	}
}

// Hostile text is refused quickly and without much memory.
func TestHostileBols(t *testing.T) {
	billion := "dha"
	for range 20 {
		billion = "(" + billion + ")x9"
	}
	for _, text := range []string{
		billion,
		strings.Repeat("(", 10000) + "dha",
		strings.Repeat("(|)x4000 ", 5000) + "dha",
		strings.Repeat("(\n)x4000 ", 5000) + "dha",
		"dha" + strings.Repeat("t", 500),
		strings.Repeat("tita", 5000),
		strings.Repeat("dha ", 20000),
	} {
		if _, err := ReadBols(text); err == nil {
			t.Errorf("%.20q was read", text)
		}
	}
}

func anyNotation(t *rapid.T) string {
	lex := theLexicon()
	var spellings []string
	for s := range lex.sounds {
		spellings = append(spellings, s)
	}
	slices.Sort(spellings)
	var b strings.Builder
	for range rapid.IntRange(1, 12).Draw(t, "matras") {
		for range rapid.IntRange(1, 4).Draw(t, "syllables") {
			b.WriteString(rapid.SampledFrom(append(spellings, "-", "S", ",")).Draw(t, "syllable"))
		}
		b.WriteString(rapid.SampledFrom([]string{" ", " ", " | ", "\n", ", "}).Draw(t, "space"))
	}
	return b.String()
}

// What was read, printed and read again, gives the same strokes.
func TestPrintingAndReadingAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := anyNotation(t)
		n, err := ReadBols(text)
		if err != nil {
			return // syllables thrown together need not read
		}
		again, err := ReadBols(n.String())
		if err != nil {
			t.Fatalf("%q is printed as %q: %v", text, n, err)
		}
		if names(again) != names(n) || again.String() != n.String() || len(again.Lines) != len(n.Lines) {
			t.Fatalf("%q is printed as %q and reads as %q", text, n, again)
		}
	})
}

func FuzzReadBols(f *testing.F) {
	for _, seed := range []string{
		"dha dhin dhin dha | dha tin tin ta |", "धा धिं धिं धा", "(dha ge)x3", "((dha)x2 na)×2", "dha-kra S ऽ ,,", "dhap", "\x00", "(((", ")x3",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, err := ReadBols(text)
		if err != nil {
			return
		}
		if cells := len(n.Events()); cells > MaxStrokes {
			t.Errorf("%d strokes", cells)
		}
		again, err := ReadBols(n.String())
		if err != nil || names(again) != names(n) {
			t.Errorf("%q is printed as %q, which reads as %q (%v)", text, n, names(again), err)
		}
		for _, tala := range Talas {
			Fit("kaida", tala, n)
			Fit("tihai", tala, n)
		}
	})
}

// Every spelling reads as what the table says, and the table names strokes that
// exist.
func TestTableReads(t *testing.T) {
	for spelling, s := range theLexicon().sounds {
		if len(s.strokes) != len(s.printed) {
			t.Errorf("%s: %d strokes are printed as %v", spelling, len(s.strokes), s.printed)
		}
	}
	for _, s := range Strokes {
		if theLexicon().byName[s.Khali] == nil {
			t.Errorf("the khali of %s is %s, which is no stroke", s.Name, s.Khali)
		}
		if s.Dayan == Silent && s.Bayan == Silent {
			t.Errorf("no hand plays %s", s.Name)
		}
	}
	for _, p := range Phrases {
		for _, printed := range []string{p.Latin, p.Devanagari} {
			if got, want := len(strings.Fields(printed)), len(strings.Fields(p.Strokes)); got != want {
				t.Errorf("%s is printed as %q", p.Strokes, printed)
			}
		}
	}
}

func BenchmarkReadBols(b *testing.B) {
	text := "dhati dhage nadha tirakita | dhage dhina dhage tina |\ntati take nata tirakita | dhage dhina dhage dhina |"
	b.Run("10000", func(b *testing.B) {
		for b.Loop() {
			for range 10_000 {
				if _, err := ReadBols(text); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}
