package schedule

import (
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

const fourAMatra = "tirakita tirakita tirakita tirakita"

func TestFastRoom(t *testing.T) {
	bols := map[int64]string{1: fourAMatra, 2: "dha dhin dhin dha"}
	day := repertoire.Day(20000)
	weekly := func(minutes int) (plays []Play) {
		for _, ago := range []repertoire.Day{21, 14, 7} {
			plays = append(plays, Play{Piece: 1, Day: day - ago, Tempo: 144, Minutes: minutes})
		}
		return plays
	}
	yesterday := Play{Piece: 2, Day: day - 1, Tempo: 200, Minutes: 30}
	for name, c := range map[string]struct {
		plays []Play
		want  Room
	}{
		"nothing before":        {nil, Room{20, 20, false}},
		"a quarter more":        {append(weekly(40), yesterday), Room{50, 50, false}},
		"what the week has had": {append(weekly(40), yesterday, Play{Piece: 1, Day: day - 6, Tempo: 144, Minutes: 30}), Room{20, 50, false}},
		"more than it may have": {append(weekly(40), Play{Piece: 1, Day: day - 2, Tempo: 144, Minutes: 90}), Room{0, 50, false}},
		"slow does not count":   {append(weekly(40), Play{Piece: 1, Day: day - 2, Tempo: 120, Minutes: 90}), Room{50, 50, false}},
		"nor what was spoken":   {append(weekly(40), Play{Piece: 1, Day: day - 2, Tempo: 144, Minutes: 90, Spoken: true}), Room{50, 50, false}},
		"minutes unsaid":        {append(weekly(40), Play{Piece: 1, Day: day - 2, Tempo: 144}), Room{47, 50, false}},
		"after time away":       {weekly(40), Room{16, 50, true}},
	} {
		if got := FastRoom(day, c.plays, bols); got != c.want {
			t.Errorf("%s: %+v, not %+v", name, got, c.want)
		}
	}
}

// A run-through is played at its tempos, and what is fast of it leaves less room
// for the rest of the day.
func TestARunThroughTakesRoom(t *testing.T) {
	fast := Turn{Minutes: 6, Target: 144, Begin: 120, densest: 16}
	run := fast
	run.Run, run.Minutes = true, 15
	spared, bound := Room{Minutes: 20}.Spare([]Turn{run, fast})
	if !bound || spared[0].Target != 144 || spared[1].Target >= 144 {
		t.Errorf("%v, %d and %d", bound, spared[0].Target, spared[1].Target)
	}
	if spared, bound = (Room{Minutes: 21}).Spare([]Turn{run, fast}); bound || spared[1].Target != 144 {
		t.Errorf("%v, %d", bound, spared[1].Target)
	}
}

// No day has more fast minutes than its room, and sparing changes no minutes.
func TestSparedTurnsKeepToTheRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var turns []Turn
		for range rapid.IntRange(0, 12).Draw(t, "turns") {
			turn := Turn{Minutes: rapid.IntRange(1, 12).Draw(t, "minutes"), Target: rapid.IntRange(20, 400).Draw(t, "target"),
				densest: rapid.IntRange(0, 16).Draw(t, "densest")}
			turn.Begin = max(20, turn.Target-10)
			turns = append(turns, turn)
		}
		room := Room{Minutes: rapid.IntRange(0, 40).Draw(t, "room")}
		spared, bound := room.Spare(turns)
		fast, slowed := 0, false
		for i, turn := range spared {
			if isFast(turn.densest, turn.Target) {
				fast += turn.Minutes
			}
			slowed = slowed || turn.Target < turns[i].Target
			if turn.Minutes != turns[i].Minutes || turn.Target > turns[i].Target || turn.Begin > turn.Target {
				t.Fatalf("%+v became %+v", turns[i], turn)
			}
		}
		if fast > room.Minutes || slowed != bound {
			t.Fatalf("%d fast minutes of %d; bound %v, slowed %v", fast, room.Minutes, bound, slowed)
		}
	})
}
