package main

import (
	"flag"
	"slices"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"
	"pgregory.net/rapid"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

// No step of a day is faster than its turn, and what is slowed to spare the hands
// is slow in each of its steps. What hurt is not asked for again on the day.
func TestStepsSpareTheHands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		store, err := db.OpenMemory()
		if err != nil {
			t.Fatal(err)
		}
		defer store.Close()
		for i := range rapid.IntRange(1, 4).Draw(t, "pieces") {
			anyKaida(t, store, "Lamp "+string(rune('A'+i)))
		}
		k := &call{Context: cli.NewContext(cli.NewApp(), flag.NewFlagSet("", flag.ContinueOnError), nil),
			desk: &desk{}, store: store, settings: db.DefaultSettings, today: sitDay, day: sitDay}
		p, err := planDay(k, 45)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range p.steps {
			turn := p.turns[s.Turn]
			if s.Rest || turn.Spoken {
				continue
			}
			if s.Tempo > turn.Target {
				t.Fatalf("%s at %d, in a turn that comes to %d: %s", s.Part, s.Tempo, turn.Target, turn.Why)
			}
			speed, _ := load(t, turn.Bols, s.Part).PerSecond(s.Tempo).Float64()
			if strings.Contains(turn.Why, "to spare the hands") && speed > schedule.FastStrokes && s.Tempo > repertoire.MinTempo {
				t.Fatalf("%s at %d is %.1f strokes a second: %s", s.Part, s.Tempo, speed, turn.Why)
			}
			if slices.ContainsFunc(p.plays[turn.ID], isSore) && !p.done(s) {
				t.Fatalf("%s of what hurt is to be played: %s", s.Part, turn.Why)
			}
		}
	})
}

// anyKaida keeps a piece of lines of any density, with fast plays of it lately.
func anyKaida(t *rapid.T, store *db.Store, title string) {
	line := rapid.SampledFrom([]string{"dha dhin dhin dha", "dhati dhage nadha tite", "dha tirakita dhin tirakita", "tirakitatirakitata dha dhin tirakitatirakitata"})
	piece := repertoire.Piece{Title: title, Kind: "kaida", Tala: "teental", Start: rapid.IntRange(40, 160).Draw(t, "start"), Goal: 200,
		Bols: strings.Join(rapid.SliceOfN(line, 1, 5).Draw(t, "lines"), "\n"), Added: sitDay - 60, Resting: repertoire.Never}
	id, err := store.AddPiece(piece)
	if err != nil {
		t.Fatal(err)
	}
	n, err := repertoire.ReadBols(piece.Bols)
	if err != nil {
		t.Fatal(err)
	}
	for range rapid.IntRange(0, 6).Draw(t, "plays") {
		play := schedule.Play{Piece: id, Day: sitDay - repertoire.Day(rapid.IntRange(0, 9).Draw(t, "ago")), Tempo: rapid.IntRange(40, 200).Draw(t, "tempo"),
			Clarity: schedule.Clarity(rapid.IntRange(0, 5).Draw(t, "clarity")), Minutes: rapid.IntRange(1, 20).Draw(t, "minutes")}
		if from := rapid.IntRange(0, len(n.Lines)).Draw(t, "line"); from > 0 && len(n.Lines) > 1 {
			play = play.Of(schedule.Part{From: from, To: from})
		}
		play.Sore = play.Day == sitDay && rapid.IntRange(0, 3).Draw(t, "sore") == 0
		if _, _, err := store.Log(play); err != nil {
			t.Fatal(err)
		}
	}
}

// load is that of some lines of bols.
func load(t *rapid.T, bols string, part schedule.Part) repertoire.Load {
	n, err := repertoire.ReadBols(bols)
	if err != nil {
		t.Fatal(err)
	}
	if (part != schedule.Part{}) {
		n.Lines = n.Lines[part.From-1 : part.To]
	}
	return n.Load()
}
