package main

import (
	"fmt"
	"log"
	"math/rand/v2"
	"time"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

const (
	largePieces = 10_000
	playsEach   = 100
	largeYears  = 20
)

// large makes the file on which speed is measured: twenty years of plays that
// ended yesterday.
func large(path string) {
	rng := rand.New(rand.NewPCG(2, 16))
	store := must(db.Create(path))
	defer store.Close()
	today := repertoire.DayOf(time.Now())
	var plays []schedule.Play
	for i := range largePieces {
		p := repertoire.Piece{
			Title: fmt.Sprintf("Piece %05d of the long shelf", i+1), Kind: repertoire.Kinds[i%len(repertoire.Kinds)],
			Tala: repertoire.Talas[i%len(repertoire.Talas)].Name, Start: 60, Goal: 80 + i%60,
			Added: today - largeYears*365, Resting: repertoire.Never,
		}
		p.ID = must(store.AddPiece(p))
		if i%50 != 0 { // two in a hundred stay untouched
			plays = append(plays, life(rng, p, today)...)
		}
	}
	for len(plays) < largePieces*playsEach {
		plays = append(plays, schedule.Play{Piece: 2, Day: today - 1, Tempo: 60, Clarity: schedule.Clear})
	}
	if err := store.LogAll(plays); err != nil {
		log.Fatal(err)
	}
}

// life is the plays of one piece over the years, mostly clear, climbing as the
// ladder asks.
func life(rng *rand.Rand, p repertoire.Piece, today repertoire.Day) []schedule.Play {
	var plays []schedule.Play
	standing := schedule.New(p.Start)
	day := today - repertoire.Day(largeYears*365-rng.IntN(365))
	for len(plays) < playsEach && day < today {
		clarity := [...]schedule.Clarity{2, 3, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5}[rng.IntN(26)]
		play := schedule.Play{Piece: p.ID, Day: day, Tempo: standing.Target(day, p.Goal), Clarity: clarity, Minutes: 4}
		standing = standing.Add(p.Goal, play)
		plays = append(plays, play)
		day += repertoire.Day(1 + rng.IntN(2*largeYears*365/playsEach))
	}
	return plays
}
