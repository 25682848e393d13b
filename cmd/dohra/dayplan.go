package main

import (
	"fmt"
	"slices"
	"strings"

	"dohra/db"
	"dohra/schedule"
)

// A dayPlan is a day's turns with what was played of them.
type dayPlan struct {
	minutes int
	empty   bool   // there is no piece at all, not even a resting one
	free    string // the line that tells of a day without minutes, or ""
	turns   []schedule.Turn
	denied  []schedule.Denied
	morning *db.Morning
	plays   map[int64][]schedule.Play // of the day, by piece
	off     []int64                   // pieces played on the day without a turn
	behind  schedule.Backlog
	slid    []schedule.Claim // that would have a turn if there were no concert
}

// planDay makes the plan of the day, the same at any hour.
func planDay(k *call, minutes int) (p dayPlan, err error) {
	began, err := k.store.Morning(k.day)
	if err != nil {
		return p, err
	}
	if !k.IsSet("minutes") {
		minutes = began.Minutes(minutes)
	}
	claims, err := began.Claims()
	if err != nil {
		return p, err
	}
	taken, denied := began.Choose(minutes, claims)
	chosen, err := began.Candidates(ids(taken))
	if err != nil {
		return p, err
	}
	p = dayPlan{
		minutes: minutes, morning: began,
		turns: began.Arrange(minutes, chosen), slid: began.Slid(minutes, claims, taken), plays: map[int64][]schedule.Play{},
	}
	if p.empty, err = k.store.Empty(); err != nil {
		return p, err
	}
	daily, err := began.Daily()
	if err != nil {
		return p, err
	}
	p.behind = schedule.BacklogOf(taken, denied, daily)
	plays, err := k.store.PlaysOn(k.day)
	for _, play := range plays {
		hasTurn := slices.ContainsFunc(p.turns, func(t schedule.Turn) bool { return t.ID == play.Piece })
		if !hasTurn && p.plays[play.Piece] == nil {
			p.off = append(p.off, play.Piece)
		}
		p.plays[play.Piece] = append(p.plays[play.Piece], play)
	}
	p.denied = slices.DeleteFunc(denied, func(d schedule.Denied) bool { return p.plays[d.Piece] != nil })
	return p, err
}

func ids(claims []schedule.Claim) []int64 {
	list := make([]int64, len(claims))
	for i, c := range claims {
		list[i] = c.Piece
	}
	return list
}

// left returns the first n of the pieces that have no turn, and why.
func (p dayPlan) left(k *call, n int) ([]schedule.LeftOut, error) {
	list := make([]int64, min(n, len(p.denied)))
	why := map[int64]schedule.Denial{}
	for i := range list {
		list[i] = p.denied[i].Piece
		why[list[i]] = p.denied[i].Denial
	}
	found, err := p.morning.Candidates(list)
	left := make([]schedule.LeftOut, len(found))
	for i, c := range found {
		left[i] = schedule.LeftOut{Candidate: c, Why: schedule.WhyLeft(k.day, c, why[c.ID])}
	}
	return left, err
}

// planned returns the sum of the turns' minutes.
func (p dayPlan) planned() int { return schedule.Plan{Turns: p.turns}.Minutes() }

// cautionFrom is how many planned minutes call for a word of caution.
const cautionFrom = 20

// caution is the usual advice: a break of ten minutes in the hour, a day off in
// the week, and less after time away (J. Horvath, "Playing (Less) Hurt", as
// quoted in newspapers, 2009).
func (p dayPlan) caution() string {
	if p.planned() < cautionFrom {
		return ""
	}
	return "Rest your hands ten minutes in the hour, and stop when it hurts. This is no " +
		"medical advice: for pain that stays, see a teacher or a clinician."
}

// offLine names what was played off the plan, "" for nothing.
func (p dayPlan) offLine() (string, error) {
	pieces, err := p.morning.Candidates(p.off)
	var names []string
	for _, c := range pieces {
		plays := p.plays[c.ID]
		last := plays[len(plays)-1]
		names = append(names, fmt.Sprintf("%s (%d %s)", c.Title, last.Tempo, last.Clarity))
	}
	if len(names) == 0 || err != nil {
		return "", err
	}
	return "Also played: " + strings.Join(names, ", ") + ".", nil
}
