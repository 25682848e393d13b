package main

import (
	"encoding/csv"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"strconv"

	"github.com/pelletier/go-toml/v2"

	"dohra/repertoire"
	"dohra/schedule"
	"dohra/testdata"
)

// The made-up player of the demonstration follows the day's plan on most days,
// has good and bad ones, is away for three weeks, and has little time of late.
// All of it is invented.

const (
	history  = 425 // days
	gapFrom  = 171 // days before the day asked for
	gapUntil = 150
	busy     = 60 // the last weeks had little time
	idle     = 8  // and the last days none
)

// A hand is what the player can really do with one piece.
type hand struct {
	schedule.Candidate
	added, resting int // days ago
	able           float64
	firm           float64 // days until a tenth of it is gone
}

func demo() {
	rng := rand.New(rand.NewPCG(1, 25))
	hands := readHands(rng)
	out := must(os.Create("testdata/demo/plays.csv"))
	w := csv.NewWriter(out)
	w.Write([]string{"days_ago", "title", "tempo", "clarity", "minutes", "note"})
	for ago := history; ago > 0; ago-- {
		form := 1 + 0.02*rng.NormFloat64()
		note := ""
		if rng.Float64() < 0.07 {
			form, note = form-0.06, [...]string{"tired", "cold hands", "slept badly", "new head, not settled"}[rng.IntN(4)]
		}
		if ago <= gapFrom && ago > gapUntil || ago <= idle || rng.Float64() < 0.13 {
			continue
		}
		day := repertoire.Day(-ago)
		minutes := [...]int{20, 25, 30, 30, 45, 45, 60}[rng.IntN(7)]
		if ago <= busy {
			minutes = 16
		}
		for i, turn := range schedule.PlanDay(day, minutes, candidates(hands, ago)).Turns {
			if i > 0 && rng.Float64() < 0.08 {
				continue // skipped for want of time
			}
			h := hands[turn.ID-1]
			h.fade(day)
			tempo := turn.Target
			if h.Stage == schedule.Untouched && h.able > 0.95*float64(h.Goal) {
				tempo = h.Goal
			}
			for try := range 2 {
				p := h.play(rng, day, tempo, form)
				if p.Minutes = max(2, turn.Minutes/(try+1)+rng.IntN(3)-1); try == 0 && rng.Float64() < 0.3 {
					p.Note = note
				}
				h.log(w, ago, p)
				if p.Clarity >= schedule.Clear || rng.Float64() < 0.5 {
					break
				}
				tempo = max(turn.Begin, h.Target(day, h.Goal))
			}
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		log.Fatal(err)
	}
}

func readHands(rng *rand.Rand) []*hand {
	var file struct {
		Piece []struct {
			Title, Kind, After, Bols    string
			Start, Goal, Added, Resting int
		}
	}
	if err := toml.Unmarshal(testdata.DemoPieces, &file); err != nil {
		log.Fatal(err)
	}
	var hands []*hand
	ids := map[string]int64{}
	for i, p := range file.Piece {
		h := &hand{added: p.Added, resting: p.Resting, firm: 8}
		h.Piece = repertoire.Piece{
			ID: int64(i + 1), Title: p.Title, Kind: repertoire.Kind(p.Kind), Start: p.Start, Goal: p.Goal,
			After: ids[p.After], Bols: p.Bols, Matras: repertoire.Length(p.Bols), Resting: repertoire.Never,
		}
		ids[p.Title] = h.ID
		h.Standing = schedule.New(p.Start)
		h.able = float64(p.Start) * (1.1 + 0.4*rng.Float64())
		if p.Added == history { // known long before the first day of the log
			h.able, h.firm = float64(p.Goal)*(0.97+0.1*rng.Float64()), 25
		}
		hands = append(hands, h)
	}
	return hands
}

// candidates are the pieces that had come in by then and were not resting.
func candidates(hands []*hand, ago int) []schedule.Candidate {
	var all []schedule.Candidate
	for _, h := range hands {
		if h.added >= ago && h.resting < ago {
			all = append(all, h.Candidate)
		}
	}
	return all
}

// fade takes away what was lost since the last play.
func (h *hand) fade(day repertoire.Day) {
	if h.Last != repertoire.Never {
		h.able *= math.Pow(0.9, float64(day-h.Last)/h.firm)
	}
}

// play is one try at a tempo, and what it teaches.
func (h *hand) play(rng *rand.Rand, day repertoire.Day, tempo int, form float64) schedule.Play {
	margin := math.Log(h.able*form/float64(tempo))/0.05 + 0.55*rng.NormFloat64()
	clarity := schedule.Effortless
	for _, needs := range []float64{1.3, 0, -0.7, -1.6, -2.6} {
		if margin < needs {
			clarity--
		}
	}
	if near := math.Exp(-math.Pow(math.Log(h.able/float64(tempo))/0.15, 2)); near > 0.05 {
		ceiling := 1.15 * float64(h.Goal)
		h.able += 0.09 * near * (ceiling - h.able)
		h.firm = min(80, h.firm*(1+0.1*near))
	}
	return schedule.Play{Piece: h.ID, Day: day, Tempo: tempo, Clarity: clarity}
}

func (h *hand) log(w *csv.Writer, ago int, p schedule.Play) {
	h.Standing = h.Standing.Add(h.Goal, p)
	w.Write([]string{
		strconv.Itoa(ago), h.Title, strconv.Itoa(p.Tempo), p.Clarity.String(), strconv.Itoa(p.Minutes), p.Note,
	})
}
