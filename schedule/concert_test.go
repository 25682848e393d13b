package schedule

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

// shelf is a made-up family, a rela and a gat.
func shelf() map[int64]Candidate {
	pieces := map[int64]Candidate{}
	for _, p := range []repertoire.Piece{
		{ID: 1, Title: "Kite kaida", Kind: "kaida", Tala: "teental", Start: 60, Goal: 120, Matras: 16},
		{ID: 2, Title: "Kite palta", Kind: "palta", Tala: "teental", Start: 60, Goal: 120, Matras: 16, After: 1},
		{ID: 3, Title: "Kite tihai", Kind: "tihai", Tala: "teental", Start: 60, Goal: 120, Matras: 24, After: 2},
		{ID: 4, Title: "Rain rela", Kind: "rela", Tala: "teental", Start: 60, Goal: 160, Matras: 16},
		{ID: 5, Title: "Mill gat", Kind: "gat", Tala: "rupak", Start: 60, Goal: 90},
	} {
		p.Resting = repertoire.Never
		pieces[p.ID] = Candidate{Piece: p, Standing: New(p.Start)}
	}
	return pieces
}

func set(pieces ...int64) []Place {
	var places []Place
	for _, id := range pieces {
		places = append(places, Place{Piece: id, Tempo: shelf()[id].Goal})
	}
	return places
}

// The lengths were worked out by hand: 4 rounds of 16 matras at 120 take 32 s.
func TestRunningOrder(t *testing.T) {
	places := set(1, 3, 4, 5)
	places[1].Rounds, places[2].Minutes = 2, 3
	items := Concert{Set: places}.Running(shelf())
	for i, want := range []struct{ starts, rounds, seconds int }{{0, 4, 32}, {32, 2, 24}, {56, 30, 180}, {236, 1, 0}} {
		if got := items[i]; got.Starts != want.starts || got.Rounds != want.rounds || got.Seconds != want.seconds {
			t.Errorf("%s: %d, %d, %d, want %+v", got.Of.Title, got.Starts, got.Rounds, got.Seconds, want)
		}
	}
	if seconds, unknown := Length(items); seconds != 236 || unknown != 1 {
		t.Errorf("%d s, %d unknown", seconds, unknown)
	}
	for i, item := range (Concert{Set: set(1, 5, 4, 2)}).Running(shelf()) { // when what comes after the gat begins, nobody knows
		if want := []int{0, 32, Unknown, Unknown}[i]; item.Starts != want {
			t.Errorf("%s at %d, want %d", item.Of.Title, item.Starts, want)
		}
	}
}

func TestFlow(t *testing.T) {
	for _, test := range []struct {
		set  []Place
		says []string
	}{
		{set(1, 2, 3, 4), nil},
		{set(1, 3, 2), []string{"would close Kite palta"}},
		{set(3), []string{"closes nothing here"}},
		{set(4, 1), []string{"a kaida commonly comes before a rela", "slower than what it follows, at 160"}},
		{[]Place{{Piece: 1, Tempo: 100}, {Piece: 4, Tempo: 150}}, []string{"50 % faster"}},
		{[]Place{{Piece: 1, Tempo: 120}, {Piece: 2, Tempo: 100}}, nil}, // a palta may be slower than its kaida
		{[]Place{{Piece: 1, Tempo: 120}, {Piece: 4, Tempo: 109}}, nil},
		{[]Place{{Piece: 1, Tempo: 120}, {Piece: 4, Tempo: 108}}, []string{"Rain rela at 108 is slower"}},
		{set(1, 5), []string{"The tala changes from teental to rupak before Mill gat"}},
	} {
		c := Concert{Set: test.set}
		got := c.Flow(c.Running(shelf()), shelf())
		if len(got) != len(test.says) {
			t.Errorf("%v: %q, want %q", test.set, got, test.says)
			continue
		}
		for i, want := range test.says {
			if !strings.Contains(got[i], want) {
				t.Errorf("%v: %q, want %q", test.set, got[i], want)
			}
		}
	}
	c := Concert{Talas: []string{"teental"}, Set: set(5)}
	if got := c.Flow(c.Running(shelf()), shelf()); len(got) != 1 || !strings.Contains(got[0], "not a tala of this concert") {
		t.Errorf("%q", got)
	}
}

// Whatever the order was, the proposed one has the same pieces and, where the
// set is in one tala and each tihai has its kaida, nothing to say against it
// but how far tempos go.
func TestProposed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.Permutation([]int64{1, 2, 3, 4}).Draw(t, "order")
		c := Concert{Set: set(order...)}
		c.Set = c.Proposed(shelf())
		if got := c.Flow(c.Running(shelf()), shelf()); len(got) != 0 {
			t.Fatalf("%v: %q", c.Set, got)
		}
		if !slices.Equal(c.Set, set(1, 2, 3, 4)) {
			t.Fatalf("%v", c.Set)
		}
	})
}

func TestFills(t *testing.T) {
	var all []Candidate
	for id := int64(1); id <= 5; id++ {
		c := shelf()[id]
		c.Standing = c.Add(c.Goal, Play{Day: 100 - repertoire.Day(id), Tempo: c.Goal, Clarity: Clear})
		all = append(all, c)
	}
	c := Concert{Day: 130, Set: set(2)}
	titles := ""
	for _, i := range c.Fills(100, 32, all) { // the gat has no length
		titles += i.Of.Title + " "
	}
	if titles != "Kite kaida Kite tihai Rain rela " {
		t.Errorf("%q", titles)
	}
	if got := c.Fills(100, 11, all); len(got) != 0 {
		t.Errorf("%d fit into 11 s", len(got))
	}
	if got := c.Fills(900, 32, all); len(got) != 0 {
		t.Errorf("%d are called kept after years without a play", len(got))
	}
}

func TestCheckConcert(t *testing.T) {
	good := Concert{Name: "Spring", Day: 1, Minutes: 30, Set: set(1, 2)}
	if err := good.Check(); err != nil {
		t.Error(err)
	}
	for _, spoil := range []func(*Concert){
		func(c *Concert) { c.Name = "" },
		func(c *Concert) { c.Day = repertoire.Never },
		func(c *Concert) { c.Minutes = 0 },
		func(c *Concert) { c.Minutes = MaxSlot + 1 },
		func(c *Concert) { c.Set = set(1, 2, 1) },
		func(c *Concert) { c.Set[0].Tempo = 19 },
		func(c *Concert) { c.Set[0].Rounds = MaxRounds + 1 },
		func(c *Concert) { c.Set[0].Rounds, c.Set[0].Minutes = 1, 1 },
		func(c *Concert) { c.Note = "two\nlines" },
	} {
		bad := good
		bad.Set = slices.Clone(good.Set)
		spoil(&bad)
		if bad.Check() == nil {
			t.Errorf("%+v passed", bad)
		}
	}
}
