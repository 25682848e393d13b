package main

import (
	"reflect"
	"strconv"
	"strings"
	"testing"

	"dohra/db"
	"dohra/repertoire"
)

// A tala that can be kept travels in a pack as it is.
func FuzzTala(f *testing.F) {
	f.Add("lamp", "3 2", "1", "4", "dhin na dhin | na na")
	f.Add("x", "4+4,4 4", "1 5 13", "9", "")
	f.Fuzz(func(t *testing.T, name, vibhags, tali, khali, theka string) {
		v, err1 := numbers(vibhags)
		c, err2 := numbers(tali)
		w, err3 := numbers(khali)
		name, err4 := repertoire.CleanTitle(name)
		tala := repertoire.Tala{Name: name, Vibhags: v, Tali: c, Khali: w, Theka: theka}
		if err1 != nil || err2 != nil || err3 != nil || err4 != nil || tala.Check() != nil {
			return
		}
		if tala.Matras() < 1 || tala.Matras() > 128 {
			t.Errorf("%+v has %d matras", tala, tala.Matras())
		}
		pack := repertoire.Pack{Talas: []repertoire.Tala{tala}}
		text, err := pack.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		again, err := repertoire.ReadPack(text)
		if err != nil || len(again.Talas) != 1 || again.Talas[0].Theka != theka || !reflect.DeepEqual(again.Talas[0].Vibhags, v) {
			t.Errorf("%+v\nis written as %s\nand read as %+v, %v", tala, text, again, err)
		}
	})
}

// What a number is read as is what it says.
func FuzzWholeNumber(f *testing.F) {
	for _, seed := range []string{"45", "010", "-1", "+7", "1e9", "99999999999", "0x10", "４"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, ok := wholeNumber(text)
		if !ok {
			return
		}
		digits := strings.TrimLeft(strings.TrimLeft(text, "+-"), "0")
		if digits != strings.TrimLeft(strings.TrimPrefix(strconv.Itoa(n), "-"), "0") || strings.HasPrefix(text, "-") && n > 0 {
			t.Errorf("%q is read as %d", text, n)
		}
	})
}

// A week that is read can be kept.
func FuzzReadWeek(f *testing.F) {
	f.Add("45 45 30 0 45 90 60")
	f.Add("1 2 3")
	f.Fuzz(func(t *testing.T, text string) {
		if w, err := readWeek(strings.Fields(text)); err == nil && db.CheckWeek(w) != nil {
			t.Errorf("%q is read as %v", text, w)
		}
	})
}

// An exception is its title and its clarity, and nothing but space is lost around them.
func FuzzException(f *testing.F) {
	for _, seed := range []string{"lantern kaida=strained", "a=b=4", "=", "x=", "=clear"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		title, clarity, err := exception(text)
		if err != nil {
			return
		}
		after, ok := strings.CutPrefix(strings.TrimSpace(text), title)
		word, is := strings.CutPrefix(strings.TrimSpace(after), "=")
		if word = strings.TrimSpace(word); title == "" || !ok || !is || !strings.EqualFold(word, clarity.String()) && word != strconv.Itoa(int(clarity)) {
			t.Errorf("%q is read as %q, %s", text, title, clarity)
		}
	})
}
