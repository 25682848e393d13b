package schedule

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

func TestPassages(t *testing.T) {
	plays := []Play{
		{Day: 100, Tempo: 112, Clarity: Clear},
		{Day: 101, Tempo: 120, Clarity: Clear},      // won
		{Day: 102, Tempo: 120, Clarity: Clear},      // kept
		{Day: 120, Tempo: 120, Clarity: Broken},     // slipped
		{Day: 121, Tempo: 60, Clarity: Lost},        // set back further
		{Day: 122, Tempo: 120, Clarity: Effortless}, // won again
	}
	var won, slipped, setBack, without []int
	for p := range Passages(60, 120, plays) {
		if days, ok := p.Without(); ok {
			without = append(without, days)
		}
		if p.Won() {
			won = append(won, int(p.Day))
		}
		if p.Slipped() {
			slipped = append(slipped, int(p.Day))
		}
		if p.SetBack() {
			setBack = append(setBack, int(p.Day))
		}
	}
	for _, c := range []struct {
		what      string
		got, want []int
	}{
		{"won on", won, []int{101, 122}},
		{"slipped on", slipped, []int{120}},
		{"set back on", setBack, []int{120, 121}},
		{"days without", without, []int{1, 1, 18, 1, 1}},
	} {
		if !slices.Equal(c.got, c.want) {
			t.Errorf("%s %v, want %v", c.what, c.got, c.want)
		}
	}
}

// Looking back ends where the piece stands, and a piece is won once more often
// than it slipped when it is kept, and as often when it is not.
func TestPassagesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var plays []Play
		on := repertoire.Day(20000)
		for range rapid.IntRange(0, 40).Draw(t, "plays") {
			on += repertoire.Day(rapid.IntRange(0, 20).Draw(t, "days"))
			plays = append(plays, Play{
				Day: on, Tempo: rapid.SampledFrom([]int{60, 96, 120, 126}).Draw(t, "tempo"),
				Clarity: Clarity(rapid.IntRange(0, 5).Draw(t, "clarity")),
			})
		}
		last, balance := New(60), 0
		for p := range Passages(60, 120, plays) {
			if p.Before != last {
				t.Fatalf("a passage begins at %+v, where the last ended at %+v", p.Before, last)
			}
			last = p.After
			if p.Won() {
				balance++
			}
			if p.Slipped() {
				balance--
			}
		}
		if want := Replay(60, 120, plays); last != want {
			t.Fatalf("ends at %+v, stands at %+v", last, want)
		}
		if kept := last.Stage == Kept; kept != (balance == 1) || !kept && balance != 0 {
			t.Fatalf("won %d times more than slipped, and is %s", balance, last.Stage)
		}
	})
}
