package repertoire

import (
	"strings"
	"testing"
)

func TestEveryThekaFitsItsTala(t *testing.T) {
	for _, tl := range Talas {
		if err := tl.Check(); err != nil {
			t.Errorf("%s: %v", tl.Name, err)
		}
		if fit := Fit("theka", tl, read(t, tl.Theka)); fit != "" {
			t.Errorf("%s: %s", tl.Name, fit)
		}
	}
}

// The thekas are common forms, from memory.
func TestThekas(t *testing.T) {
	for name, want := range map[string]string{
		"teental": "dha dhin dhin dha | dha dhin dhin dha | dha tin tin ta | ta dhin dhin dha",
		"jhaptal": "dhi na | dhi dhi na | ti na | dhi dhi na",
		"rupak":   "tin tin na | dhi na | dhi na",
		"keherwa": "dha ge na ti | na ka dhi na",
		"dadra":   "dha dhin na | dha tin na",
		"ektal":   "dhin dhin | dhage tirakita | tu na | kat ta | dhage tirakita | dhin na",
	} {
		if got := names(read(t, tala(t, name).Theka)); got != names(read(t, want)) {
			t.Errorf("%s: %s", name, got)
		}
	}
}

func TestFit(t *testing.T) {
	four := "dha dhin dhin dha"
	for _, c := range []struct {
		kind Kind
		tala string
		bols string
		want string
	}{
		{"kaida", "teental", strings.Repeat(four+" | ", 8), ""},
		{"kaida", "teental", strings.Repeat(four+" ", 3) + "dha dhin dhin",
			"It does not fill whole cycles of teental: it ends after matra 15 of 16 (15 matras, 1 short of one cycle)."},
		{"kaida", "teental", four + " | dha dhin dha | " + four + " | " + four + " |",
			"It does not fill whole cycles of teental: vibhag 2 of line 1 has 3 matras, not 4 (15 matras, 1 short of one cycle)."},
		{"kaida", "teental", four + " | " + four + "\n" + four + " dha | dhin dhin dha",
			"It fills one cycle of teental, but vibhag 1 of line 2 has 5 matras, not 4."},
		{"kaida", "jhaptal", "dha ge | na dha ti\nta ke | na dha ti", ""},
		{"kaida", "jhaptal", "dha ge na dha ti ta ke na dha ti", ""},
		{"gat", "rupak", "dha dha dha dha dha dha dha dha", "It does not fill whole cycles of rupak: it ends after matra 1 of 7 (8 matras, 1 over one cycle)."},
		{"tihai", "teental", "dhati dhage nadha tite dha - dhati dhage nadha tite dha - dhati dhage nadha tite dha", ""},
		{"tihai", "teental", "dhati dhage nadha tite dha dhati dhage nadha tite dha dhati dhage nadha tite dha",
			"Begun on sam it lands 2 matras early; gaps of 1 matra instead of 0 would mend it, or a start on matra 3."},
		{"tihai", "teental", "dhage tite kata dha - - dhage tite kata dha - - dhage tite kata dha",
			"Begun on sam it lands 1 matra early; gaps of 2 1/2 matras instead of 2 would mend it, or a start on matra 2."},
		{"tihai", "rupak", "dhina dha\ndhina dha", "No phrase stands three times in it at equal distances; to land on sam it starts on matra 5."},
		{"mukhda", "teental", "tirakita takatira kitadha tirakita dha", "To land on sam it starts on matra 13."},
		{"tukda", "teental", strings.Repeat("dhage tite ", 8) + "dha", ""},
		{"tukda", "rupak", "dhatite kat -dha", "To land on sam it starts 1/2 into matra 5."},
	} {
		if got := Fit(c.kind, tala(t, c.tala), read(t, c.bols)); got != c.want {
			t.Errorf("%s in %s:\n%q, want\n%q", c.kind, c.tala, got, c.want)
		}
	}
}

func TestTalaCheck(t *testing.T) {
	good := Tala{Name: "lamp", Vibhags: []int{3, 2}, Tali: []int{1}, Khali: []int{4}, Theka: "dha dhin na | ta na"}
	if err := good.Check(); err != nil {
		t.Error(err)
	}
	for _, c := range []struct {
		spoil func(*Tala)
		want  string
	}{
		{func(t *Tala) { t.Name = " " }, "the name: "},
		{func(t *Tala) { t.Vibhags = nil }, "needs vibhags"},
		{func(t *Tala) { t.Vibhags = []int{3, 0} }, "at least 1 matra"},
		{func(t *Tala) { t.Vibhags = []int{3, 200} }, "at most 128"},
		{func(t *Tala) { t.Khali = nil }, "matra 4 needs one sign"},
		{func(t *Tala) { t.Khali = []int{4, 1} }, "matra 1 needs one sign"},
		{func(t *Tala) { t.Tali = []int{1, 2} }, "where no vibhag begins"},
		{func(t *Tala) { t.Theka = "dha dhin" }, "the theka has 2 matras, the tala 5"},
		{func(t *Tala) { t.Theka = "dha blah na ta na" }, `"blah" is no bol`},
		{func(t *Tala) { t.Theka = "dha | dhin na ta na" }, "vibhag 1 of line 1 has 1 matra, not 3"},
	} {
		bad := good
		c.spoil(&bad)
		if err := bad.Check(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", bad, err, c.want)
		}
	}
}
