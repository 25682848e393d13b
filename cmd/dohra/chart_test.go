package main

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"io"
	"strings"
	"testing"

	draw "github.com/go-analyze/charts/chartdraw"
	"pgregory.net/rapid"

	"dohra/repertoire"
	"dohra/schedule"
)

// Whatever was played, the chart fits a screen, and every play stands in it.
func TestTempoChartFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var plays []schedule.Play
		on := repertoire.Day(20000)
		for range rapid.IntRange(1, 30).Draw(t, "plays") {
			on += repertoire.Day(rapid.SampledFrom([]int{0, 1, 7, 400}).Draw(t, "days"))
			plays = append(plays, schedule.Play{
				Day: on, Tempo: rapid.IntRange(20, 400).Draw(t, "tempo"),
				Clarity: schedule.Clarity(rapid.IntRange(0, 5).Draw(t, "clarity")),
			})
		}
		chart := tempoChart(plays, rapid.IntRange(20, 400).Draw(t, "goal"), on, leastWidth)
		body, _, _ := strings.Cut(chart, "     +")
		for line := range strings.Lines(chart) {
			if wide := columns(strings.TrimRight(line, "\n")); wide > leastWidth {
				t.Fatalf("%d columns: %s", wide, line)
			}
		}
		for _, p := range []struct {
			clear bool
			mark  rune
		}{{true, clearMark}, {false, unclearMark}} {
			some := false
			for _, play := range plays {
				some = some || (play.Clarity >= schedule.Clear) == p.clear
			}
			if seen := strings.ContainsAny(body, string(p.mark)+string(bothMark)); seen != some {
				t.Fatalf("mark %c: seen %v, played %v\n%s", p.mark, seen, some, chart)
			}
		}
	})
}

// Plays at the goal stand out of its line, clear and not.
func TestPlaysAtTheGoal(t *testing.T) {
	var plays []schedule.Play
	for i, clarity := range []schedule.Clarity{schedule.Clear, schedule.Smudged, schedule.Clear, schedule.Clear} {
		plays = append(plays, schedule.Play{Day: repertoire.Day(20000 + 4*(i+i/3)), Tempo: 100, Clarity: clarity})
	}
	const want = " 100 |o ------ x ----- o --------------- o ---"
	if line, _, _ := strings.Cut(tempoChart(plays, 100, 20018, leastWidth), "\n"); line != want {
		t.Errorf("%q, want %q", line, want)
	}
}

// A picture can be drawn of a single play, and of a title that would be markup.
func TestTempoPicture(t *testing.T) {
	plays := []schedule.Play{{Day: 20000, Tempo: 60, Clarity: schedule.Clear}}
	chart := tempoPicture("<b>Mill & gat</b>", plays, 60, 20000)
	var b bytes.Buffer
	if err := chart.Render(draw.PNG, &b); err != nil {
		t.Fatal(err)
	}
	if _, err := png.Decode(&b); err != nil {
		t.Error(err)
	}
	b.Reset()
	if err := chart.Render(draw.SVG, &b); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<b>") || !strings.Contains(b.String(), "Mill &amp; gat") {
		t.Errorf("the title is not escaped: %s", b.String())
	}
	for d := xml.NewDecoder(&b); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestDrawable(t *testing.T) {
	for _, c := range []struct{ text, want string }{{"Mill gat", "Mill gat"}, {"चक्की", "piece 1"}} {
		if got := drawable(c.text, "piece 1"); got != c.want {
			t.Errorf("%s is drawn as %s, want %s", c.text, got, c.want)
		}
	}
}
