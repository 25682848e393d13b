package schedule_test

import (
	"math"
	"math/rand/v2"

	"dohra/schedule"
)

// The players of the trial. They are made up, and stand apart from the
// scheduler: it is told their plays, and nothing of what follows here.

// A law is how what was learned fades: the part of it left after so many days,
// in units in which a tenth of the tempo is gone at 1.
type law struct {
	name string
	left func(x float64) float64
}

// Each law leaves 79 per cent of depth at x = 1, which is a tenth of the tempo.
const depth = 0.5

var laws = []law{
	{"exponential", func(x float64) float64 { return math.Exp(-0.2364 * x) }},
	{"power", func(x float64) float64 { return 1 / math.Sqrt(1+0.6049*x) }},
	{"plateau", func(x float64) float64 { return 1 / (1 + 0.2667*x*x*x) }},
}

// A player is a way of learning, playing and grading.
type player struct {
	name  string
	speed float64 // of learning
	noise float64 // of one play, in ln tempo
	kind  float64 // grades so much better than it was, in ln tempo
	skips float64 // part of the days
	reach float64 // how far from the edge a play still teaches, in ln tempo
}

var players = []player{
	{"steady", 1, 0.03, 0, 0.05, 0.12},
	{"slow", 0.5, 0.03, 0, 0.05, 0.12},
	{"quick", 2, 0.03, 0, 0.05, 0.12},
	{"uneven", 1, 0.08, 0, 0.1, 0.12},
	{"skipping", 1, 0.03, 0, 0.35, 0.12},
	{"too kind", 1, 0.04, 0.05, 0.05, 0.12},
	{"too harsh", 1, 0.04, -0.05, 0.05, 0.12},
	{"wide", 1, 0.03, 0, 0.05, 0.25},
}

// A hand is what the player can truly do with one piece.
type hand struct {
	law    law
	goal   float64 // ln tempo
	edge   float64 // ln of the fastest clear tempo after the last play
	peak   float64 // the highest it was
	firm   float64 // days until a tenth of it is gone
	begun  bool    // what nobody has played does not fade
	played int     // day of the last play
}

// on returns the edge on a day.
func (h *hand) on(day int) float64 {
	if !h.begun {
		return h.edge
	}
	return h.edge - depth*(1-h.law.left(float64(day-h.played)/h.firm))
}

// bar is the edge at which a piece is ready: within 3 per cent of its goal.
func (h *hand) bar() float64 { return h.goal + math.Log(0.97) }

func (h *hand) ready(day int) bool { return h.on(day) >= h.bar() }

// learn is what a play at a tempo teaches: most a little below the edge,
// nothing far from it; what was lost comes back faster than what is new.
func (h *hand) learn(p player, day int, tempo float64) {
	edge := h.on(day)
	gone := h.edge - edge
	off := (tempo - edge + 0.03) / p.reach
	near := math.Exp(-off * off)
	ceiling := h.goal + 0.15
	gain := 0.03 * near * p.speed * min(1, max(0, ceiling-edge)/0.1)
	gain += near * 0.3 * max(0, h.peak-edge)
	h.firm = min(400, h.firm*(1+0.4*near*min(1, gone/0.1)))
	h.edge = edge + gain
	h.peak = max(h.peak, h.edge)
	h.begun, h.played = true, day
}

// play is one try at a tempo in matras/min, as the player grades it.
func (p player) play(rng *rand.Rand, h *hand, day int, form float64, tempo int) schedule.Clarity {
	at := math.Log(float64(tempo))
	margin := h.on(day) + form + p.kind + p.noise*rng.NormFloat64() - at
	h.learn(p, day, at)
	q := schedule.Lost
	for _, needs := range []float64{-0.16, -0.1, -0.045, 0, 0.075} {
		if margin >= needs {
			q++
		}
	}
	return q
}
