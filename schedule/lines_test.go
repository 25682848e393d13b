package schedule

import (
	"testing"

	"pgregory.net/rapid"
)

func TestPartsOfATurn(t *testing.T) {
	play := func(line, tempo int, c Clarity) Play { return Play{Day: 20000, Line: line, Tempo: tempo, Clarity: c} }
	for name, c := range map[string]struct {
		stage Stage
		lines int
		plays []Play
		want  string
		held  int
	}{
		"one line":             {Untouched, 1, nil, "", 0},
		"new, two lines":       {Untouched, 2, nil, "lines 1, 2 alone at 56, then whole", 0},
		"new, three lines":     {Untouched, 3, nil, "lines 1, 2, 3 alone at 56, then 1-2, 2-3 at 58, then whole", 0},
		"new, one clear":       {Untouched, 3, []Play{play(1, 56, Clear)}, "lines 2, 3 alone at 56, then 1-2, 2-3 at 58, then whole", 0},
		"new, all clear":       {Untouched, 3, []Play{play(1, 56, Clear), play(2, 56, Clear), play(3, 56, Clear)}, "1-2, 2-3 at 58, then whole", 0},
		"known":                {Building, 3, nil, "", 0},
		"a line is trouble":    {Building, 3, []Play{play(3, 56, Smudged)}, "line 3 alone at 56, then 2-3 at 58, then whole", 3},
		"and is mended":        {Building, 3, []Play{play(3, 56, Smudged), play(3, 90, Clear)}, "", 0},
		"or only slower":       {Building, 3, []Play{play(2, 30, Clear)}, "", 2},
		"the slowest of two":   {Kept, 3, []Play{play(2, 56, Smudged), play(3, 40, Smudged)}, "lines 2, 3 alone at 56, then 1-2, 2-3 at 58, then whole", 3},
		"a line that is none":  {Building, 3, []Play{play(9, 56, Lost)}, "", 0},
		"a line of a new pair": {Untouched, 2, []Play{play(1, 56, Lost)}, "lines 1, 2 alone at 56, then whole", 1},
	} {
		turn := Turn{Target: 60}
		turn.Stage = c.stage
		lines := Lines(c.lines, 60, 120, c.plays)
		if got := PartsLine(turn.Parts(lines)); got != c.want {
			t.Errorf("%s: %q, not %q", name, got, c.want)
		}
		whole := New(60)
		if c.stage != Untouched {
			whole = whole.Add(120, Play{Day: 20000, Tempo: 60, Clarity: Clear})
		}
		if got := HeldBackBy(20000, whole, lines); got != c.held {
			t.Errorf("%s: held back by %d, not %d", name, got, c.held)
		}
	}
}

// A piece is clean only when played whole: plays of lines leave it as it is.
func TestLinesLeaveTheWholeAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		goal := rapid.IntRange(40, 200).Draw(t, "goal")
		var all, whole []Play
		for _, p := range anyPlays(t, goal) {
			if p.Line = rapid.IntRange(0, 3).Draw(t, "line"); p.Line == 0 {
				whole = append(whole, p)
			}
			all = append(all, p)
		}
		if got, want := Replay(goal/2, goal, all), Replay(goal/2, goal, whole); got != want {
			t.Fatalf("%+v, not %+v", got, want)
		}
		for i, line := range Lines(3, goal/2, goal, all) {
			var own []Play
			for _, p := range all {
				if p.Line == i+1 {
					p.Line = 0
					own = append(own, p)
				}
			}
			if want := Replay(goal/2, goal, own); line != want {
				t.Fatalf("line %d: %+v, not %+v", i+1, line, want)
			}
		}
	})
}
