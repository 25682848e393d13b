package schedule

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// playsOfParts makes plays of parts such as "2 56 2": lines, tempo, clarity; or
// "2 56 2 spoken".
func playsOfParts(t *testing.T, plays ...string) (all []Play) {
	for _, text := range plays {
		var lines string
		p := Play{Day: 20000}
		text, p.Spoken = strings.CutSuffix(text, " spoken")
		if n, _ := fmt.Sscan(text, &lines, &p.Tempo, &p.Clarity); n != 3 {
			t.Fatalf("%q is no play", text)
		}
		if lines != "whole" {
			part, err := ParsePart(lines)
			if err != nil {
				t.Fatal(err)
			}
			p = p.Of(part)
		}
		all = append(all, p)
	}
	return all
}

func TestLegsOfATurn(t *testing.T) {
	for name, c := range map[string]struct {
		lines, minutes int
		plays          []string
		want, held     string
	}{
		"one line":               {1, 5, nil, "", ""},
		"new, two lines":         {2, 5, nil, "lines 1, 2 alone at 56, then whole", ""},
		"new, three lines":       {3, 12, nil, "lines 1, 2, 3 alone at 56, then 1-2, 2-3 at 58, then whole", ""},
		"in four minutes":        {3, 4, nil, "lines 1, 2, 3 alone at 56, then 1-2 at 58, then whole another day", ""},
		"and the day after":      {3, 4, []string{"1 56 4", "2 56 4", "3 56 4", "1-2 58 4"}, "2-3 at 58, then whole", ""},
		"six lines":              {6, 4, nil, "lines 1, 2, 3, 4 alone at 56, then whole another day", ""},
		"two minutes":            {6, 2, nil, "lines 1, 2 alone at 56, then whole another day", ""},
		"new, one clear":         {3, 12, []string{"1 56 4"}, "lines 2, 3 alone at 56, then 1-2, 2-3 at 58, then whole", ""},
		"new, one of two clear":  {2, 12, []string{"1 56 4"}, "line 2 alone at 56, then whole", ""},
		"new, one spoken":        {2, 12, []string{"1 56 4 spoken"}, "lines 1, 2 alone at 56, then whole", ""},
		"new, the whole spoken":  {2, 12, []string{"whole 60 4 spoken"}, "lines 1, 2 alone at 56, then whole", ""},
		"new, all clear":         {3, 12, []string{"1-3 56 5"}, "", ""},
		"known":                  {3, 12, []string{"whole 60 2"}, "", ""},
		"a line is trouble":      {3, 12, []string{"whole 60 4", "3 56 2"}, "line 3 alone at 54, then 2-3 at 58, then whole", "line 3"},
		"in two minutes":         {3, 2, []string{"whole 60 4", "3 56 2"}, "line 3 alone at 54, then whole", "line 3"},
		"that is spoken":         {3, 12, []string{"whole 60 4", "3 56 2 spoken"}, "", ""},
		"mended in speech":       {3, 12, []string{"whole 60 4", "3 56 2", "3 58 4 spoken"}, "line 3 alone at 54, then 2-3 at 58, then whole", "line 3"},
		"and is mended":          {3, 12, []string{"whole 60 4", "3 56 2", "3 58 4"}, "2-3 at 58, then whole", ""},
		"and is joined":          {3, 12, []string{"whole 60 4", "3 56 2", "3 58 4", "2-3 58 5"}, "", ""},
		"and the whole is clear": {3, 12, []string{"whole 60 4", "3 56 2", "3 58 4", "whole 58 4"}, "", ""},
		"not the line yet":       {3, 12, []string{"whole 60 4", "3 56 2", "whole 58 4"}, "line 3 alone at 54, then 2-3 at 58, then whole", "line 3"},
		"slower is no trouble":   {3, 12, []string{"whole 60 4", "2 30 4"}, "", ""},
		"the slowest of two":     {3, 12, []string{"whole 60 4", "2 56 2", "3 40 1"}, "line 2 alone at 54, then line 3 alone at 38, then 1-2, 2-3 at 58, then whole", "line 3"},
		"a pair":                 {3, 12, []string{"whole 60 4", "1-2 56 2"}, "1-2 at 54, then whole", "lines 1-2"},
		"a line that is none":    {3, 12, []string{"whole 60 4", "9 56 0"}, "", ""},
		"lines that are none":    {3, 12, []string{"whole 60 4", "3-4 56 0"}, "", ""},
		"a line of a new pair":   {2, 5, []string{"1 56 0"}, "line 1 alone at 54, then line 2 alone at 56, then whole", "line 1"},
		"a new pair as such":     {2, 5, []string{"1-2 56 0"}, "lines 1, 2 alone at 56, then whole", "lines 1-2"},
	} {
		turn := Turn{Target: 60, Minutes: c.minutes}
		turn.Matras = 16 * c.lines
		apart := TakeApart(slices.Repeat([]int{16}, c.lines), playsOfParts(t, c.plays...))
		if got := LegsLine(turn.Walk(apart)); got != c.want {
			t.Errorf("%s: %q, not %q", name, got, c.want)
		}
		held := ""
		if part, ok := apart.HeldBackBy(); ok {
			held = part.String()
		}
		if held != c.held {
			t.Errorf("%s: held back by %q, not %q", name, held, c.held)
		}
	}
}

// The legs of a turn have its minutes, and played clear day after day they lead
// to the whole, which is then all that is left.
func TestLegsLeadToTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		matras := rapid.SliceOfN(rapid.IntRange(1, 64), 2, 9).Draw(t, "matras")
		turn := Turn{Target: rapid.IntRange(20, 400).Draw(t, "target")}
		for _, n := range matras {
			turn.Matras += n
		}
		var plays []Play
		parts := rapid.IntRange(0, 3).Draw(t, "plays")
		for range parts {
			from := rapid.IntRange(0, len(matras)).Draw(t, "from")
			of := Part{from, min(len(matras), from+rapid.IntRange(0, 2).Draw(t, "more"))}
			if from == 0 {
				of = Part{}
			}
			plays = append(plays, Play{Tempo: 60, Clarity: Clarity(rapid.IntRange(0, 5).Draw(t, "clarity"))}.Of(of))
		}
		for day := 0; ; day++ {
			if day > 2*len(matras) {
				t.Fatalf("%d days, and it is not whole yet", day)
			}
			turn.Minutes = rapid.IntRange(2, 14).Draw(t, "minutes")
			legs := turn.Walk(TakeApart(matras, plays))
			if legs == nil {
				return
			}
			steps, sum := Steps([]Turn{turn, {Minutes: 3}}, map[int][]Leg{0: legs}, true), 0
			for _, s := range steps {
				if s.Turn == 0 && !s.Rest {
					sum += s.Minutes
					plays = append(plays, Play{Tempo: s.Tempo, Clarity: Clear}.Of(s.Part))
					if s.Leg < 1 || s.Leg > s.Legs || s.Minutes < 1 || s.Tempo > turn.Target {
						t.Fatalf("%+v", s)
					}
				}
			}
			if sum != turn.Minutes {
				t.Fatalf("%+v are %d minutes of %d", legs, sum, turn.Minutes)
			}
		}
	})
}

func TestParsePart(t *testing.T) {
	for text, want := range map[string]Part{"1": {1, 1}, "12": {12, 12}, "1-2": {1, 2}, "2-4": {2, 4}, "998-999": {998, 999}} {
		if got, err := ParsePart(text); err != nil || got != want || got.Lines() != text {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "0", "-", "1-", "-2", "0-1", "2-1", "1-1", "1-2-3", "x", "1000", "1-1000", "1.5", "99999999999999999999"} {
		if got, err := ParsePart(text); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// What is read as a part is some lines of a piece, and is typed as it was read.
func FuzzParsePart(f *testing.F) {
	for _, seed := range []string{"2", "1-2", "998-999", "2-1", "1-1", "0-1", "", "-", "1.5", "+1", "01", "1-02"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		part, err := ParsePart(text)
		switch {
		case err != nil && part != Part{}:
			t.Errorf("%q is refused, and read as %v", text, part)
		case err == nil && (part.From < 1 || part.To < part.From || part.To > MaxLine):
			t.Errorf("%q reads as %v", text, part)
		case err == nil:
			if again, err := ParsePart(part.Lines()); err != nil || again != part {
				t.Errorf("%q reads as %v, typed %q, which reads as %v: %v", text, part, part.Lines(), again, err)
			}
		}
	})
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
	})
}
