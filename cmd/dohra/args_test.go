package main

import (
	"io"
	"slices"
	"strings"
	"testing"
)

func testApp() *desk { return &desk{in: strings.NewReader(""), out: io.Discard, errs: io.Discard} }

func TestArrange(t *testing.T) {
	app := newApp(testApp())
	app.Setup()
	for _, c := range []struct{ line, want string }{
		{"today", "today --"},
		{"played lantern kaida --tempo 96 --clarity clear", "played --tempo 96 --clarity clear -- lantern kaida"},
		{"--tempo 96 played lantern --demo kaida --clarity=clear", "--demo played --tempo 96 --clarity=clear -- lantern kaida"},
		{"list --on 2026-11-25 kaida --file x", "--on 2026-11-25 --file x list -- kaida"},
		{"today --bols --minutes 20", "today --bols --minutes 20 --"},
		{"add X --bols - --kind gat", "add --bols - --kind gat -- X"},
		{"played list --tempo -5", "played --tempo -5 -- list"},
		{"week 45 45 30 0 45 90 -5", "week -- 45 45 30 0 45 90 -5"},
		{"show -- --odd title", "show -- --odd title"},
		{"--file today list", "--file today list --"},
		{"nonsense words", "-- nonsense words"},
		{"", "--"},
	} {
		got, err := arrange(app, strings.Fields(c.line))
		if err != nil || strings.Join(got, " ") != c.want {
			t.Errorf("%q is arranged as %q, want %q (%v)", c.line, got, c.want, err)
		}
	}
}

// Nothing is lost and nothing is added but one "--".
func FuzzArrange(f *testing.F) {
	for _, seed := range []string{
		"played lantern kaida --tempo 96 --clarity clear", "--demo today --bols", "add -- --x", "list --kind", "- -- -",
	} {
		f.Add(seed)
	}
	app := newApp(testApp())
	app.Setup()
	f.Fuzz(func(t *testing.T, line string) {
		args := strings.Fields(line)
		got, err := arrange(app, slices.Clone(args))
		if err != nil {
			return
		}
		if !slices.Contains(args, "--") {
			got = slices.Delete(got, slices.Index(got, "--"), slices.Index(got, "--")+1)
		}
		slices.Sort(args)
		slices.Sort(got)
		if !slices.Equal(args, got) {
			t.Errorf("%q is arranged as %q", line, got)
		}
	})
}
