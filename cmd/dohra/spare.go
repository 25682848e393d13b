package main

import (
	"slices"

	"dohra/schedule"
)

// How a day spares the hands: by speaking, on a sore day, and by holding back
// fast playing.

// soreLine is what a sore play is answered with (J. Horvath, "Playing (Less)
// Hurt", as quoted in newspapers, 2009).
const soreLine = "It hurt: rest your hands, and see a teacher or a clinician if it lasts. Fast turns are spoken today. This is no medical advice."

// slow slows the turns for which the day has no room, as it begins: what is taken
// apart is taken apart at what the hands can bear.
func (p *dayPlan) slow(k *call) error {
	if k.Bool("spoken") || !schedule.HasFast(p.turns) {
		return nil
	}
	room, err := fastRoom(k)
	if err != nil {
		return err
	}
	turns, bound := room.Spare(p.turns)
	if p.turns = turns; bound {
		p.spared = room.String()
	}
	return nil
}

// speak has turns spoken instead of played: all of them where that is asked for,
// or what the hands cannot bear after the day's plays.
func (p *dayPlan) speak(k *call, plays []schedule.Play) {
	switch {
	case k.Bool("spoken"):
		p.turns = schedule.Recite(p.turns, func(schedule.Turn) bool { return true })
	case slices.ContainsFunc(plays, isSore):
		p.turns = schedule.Soothe(p.turns, func(t schedule.Turn) bool { return slices.ContainsFunc(p.plays[t.ID], isSore) }, p.turnDone)
		p.spared = soreLine
	}
}

func isSore(p schedule.Play) bool { return p.Sore }

// fastRoom reads what was played lately.
func fastRoom(k *call) (r schedule.Room, err error) {
	plays, err := k.store.PlaysBetween(k.day-schedule.FastPlays, k.day-1)
	if err != nil {
		return r, err
	}
	var ids []int64
	for _, p := range plays {
		ids = append(ids, p.Piece)
	}
	slices.Sort(ids)
	pieces, err := k.store.Candidates(slices.Compact(ids))
	bols := map[int64]string{}
	for _, c := range pieces {
		bols[c.ID] = c.Bols
	}
	return schedule.FastRoom(k.day, plays, bols), err
}
