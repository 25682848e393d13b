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

// spare changes the turns to what the hands can bear, given the day's plays.
func (p *dayPlan) spare(k *call, plays []schedule.Play) error {
	switch {
	case k.Bool("spoken"):
		p.turns = schedule.Recite(p.turns, func(schedule.Turn) bool { return true })
		return nil
	case slices.ContainsFunc(plays, isSore):
		p.turns = schedule.Soothe(p.turns, func(t schedule.Turn) bool { return slices.ContainsFunc(p.plays[t.ID], isSore) }, p.turnDone)
		p.spared = soreLine
		return nil
	case !schedule.HasFast(p.turns):
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
