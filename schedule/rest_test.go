package schedule

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

func turnsOf(minutes ...int) []Turn {
	turns := make([]Turn, len(minutes))
	for i, m := range minutes {
		turns[i].Minutes = m
	}
	return turns
}

func TestStepsOfADay(t *testing.T) {
	for _, c := range []struct {
		minutes []int
		want    string
	}{
		{nil, ""},
		{[]int{8}, "a8"},
		{[]int{3, 6, 2}, "a3 b6 c2"},
		{[]int{8, 3, 2}, "a4 b3 a4 c2"},
		{[]int{2, 8, 4, 2}, "a2 b4 c4 b4 d2"},
		{[]int{3, 12, 2}, "a3 b6 c2 b6"},
		{[]int{3, 8}, "a3 b8"},
		{[]int{2, 12, 12, 3, 8, 2}, "a2 b6 c6 b6 d3 rest e4 c6 e4 f2"},
		{[]int{6, 6, 6, 6, 6}, "a6 b6 c6 d6 rest e6"},
		{[]int{5, 5, 5, 5, 5}, "a5 b5 c5 d5 e5"},
		{[]int{30, 5}, "a6 b5 rest a24"},
	} {
		got := ""
		for i, s := range Steps(turnsOf(c.minutes...), nil, true) {
			if i > 0 {
				got += " "
			}
			if s.Rest {
				got += "rest"
			} else {
				got += fmt.Sprintf("%c%d", 'a'+s.Turn, s.Minutes)
			}
		}
		if got != c.want {
			t.Errorf("%v: %s, not %s", c.minutes, got, c.want)
		}
	}
}

// Rounds add up to their turns, are never side by side, and no stretch of
// playing is longer than half an hour unless a single round is.
func TestStepsKeepTheirLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minutes := rapid.SliceOfN(rapid.IntRange(1, 20), 0, 25).Draw(t, "minutes")
		turns := turnsOf(minutes...)
		sum := make([]int, len(turns))
		rounds := make([]int, len(turns))
		since, last := 0, -1
		for _, s := range Steps(turns, nil, true) {
			if s.Rest {
				if since == 0 {
					t.Fatal("a rest without playing before it")
				}
				since = 0
				continue
			}
			if s.Turn == last {
				t.Fatalf("turn %d comes twice running", s.Turn)
			}
			last = s.Turn
			if since += s.Minutes; since > 30 && since > s.Minutes {
				t.Fatalf("%d minutes at a stretch", since)
			}
			rounds[s.Turn]++
			if sum[s.Turn] += s.Minutes; s.Round != rounds[s.Turn] || s.Round > s.Of {
				t.Fatalf("%+v", s)
			}
		}
		for i, n := range sum {
			if n != minutes[i] {
				t.Fatalf("turn %d has %d of %d minutes", i, n, minutes[i])
			}
		}
		if with, without := len(Steps(turns, nil, true)), len(Steps(turns, nil, false)); with < without {
			t.Fatal("rests took steps away")
		}
	})
}

// A run-through is played as one: each of its turns at a stretch, one after another.
func TestStepsKeepARunThroughTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turns := turnsOf(rapid.SliceOfN(rapid.IntRange(1, 20), 1, 12).Draw(t, "minutes")...)
		run := rapid.IntRange(1, len(turns)).Draw(t, "run")
		for i := range run {
			turns[i].Run = true
		}
		for i, s := range Steps(turns, nil, false)[:run] {
			if s.Turn != i || s.Of != 1 || s.Minutes != turns[i].Minutes {
				t.Fatalf("step %d is %+v", i+1, s)
			}
		}
	})
}

func TestLadderOfATurn(t *testing.T) {
	for _, c := range []struct {
		begin, target, matras, minutes int
		want                           []Rung
	}{
		{84, 100, 16, 2, []Rung{{84, 5}, {100, 6}}},
		{84, 100, 16, 8, []Rung{{84, 10}, {88, 10}, {96, 12}, {100, 12}}},
		{84, 100, 16, 4, []Rung{{84, 6}, {92, 7}, {100, 8}}},
		{60, 60, 16, 4, []Rung{{60, 15}}},
		{56, 60, 16, 1, []Rung{{60, 3}}},
		{56, 60, 16, 2, []Rung{{56, 3}, {60, 3}}},
		{84, 100, 0, 4, []Rung{{84, 0}, {92, 0}, {100, 0}}},
		{40, 48, 200, 4, []Rung{{40, 1}, {48, 1}}},
	} {
		turn := Turn{Begin: c.begin, Target: c.target}
		turn.Matras = c.matras
		if got := turn.Ladder(c.minutes); fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%+v: %v", c, got)
		}
	}
}
