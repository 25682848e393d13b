package main

import (
	"fmt"
	"slices"
	"strings"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

// A dayPlan is a day's turns with what was played of them.
type dayPlan struct {
	day     repertoire.Day
	minutes int
	empty   bool   // there is no piece at all, not even a resting one
	free    string // the line that tells of a day without minutes, or ""
	turns   []schedule.Turn
	walks   map[int][]schedule.Leg // of the turns that are taken apart
	steps   []schedule.Step
	denied  []schedule.Denied
	morning *db.Morning
	plays   map[int64][]schedule.Play // of the day, by piece
	off     []int64                   // pieces played on the day without a turn
	behind  schedule.Backlog
	old     string               // the title of what has the standing place, or ""
	eased   bool                 // it has fewer minutes, for the player was away
	slid    []schedule.Candidate // that would have a turn if there were no concert
	logged  bool                 // a concert that is today is played
	spared  string               // the line that tells how the hands are spared, or ""
}

// planToday makes the plan of the minutes that the flags or the calendar give.
func planToday(k *call) (dayPlan, error) {
	minutes, free, err := k.todaysMinutes()
	if err != nil {
		return dayPlan{}, err
	}
	p, err := planDay(k, minutes)
	if p.free = free; free != "" {
		p.denied, p.behind = nil, schedule.Backlog{} // nothing was left out for want of minutes
	}
	return p, err
}

// planDay makes the plan of the day, the same at any hour, and ticks off what was
// played.
func planDay(k *call, minutes int) (dayPlan, error) {
	p, err := chooseDay(k, minutes)
	if err != nil {
		return p, err
	}
	plays, err := k.store.PlaysOn(k.day)
	if err != nil {
		return p, err
	}
	p.tick(plays)
	err = p.step(k, plays)
	return p, err
}

// chooseDay makes the plan of the day from how its morning stood.
func chooseDay(k *call, minutes int) (p dayPlan, err error) {
	began, err := k.store.Morning(k.day)
	if err != nil {
		return p, err
	}
	if !k.IsSet("minutes") {
		minutes = began.Minutes(minutes)
	}
	calendar, _, err := k.store.Calendar(k.settings.Minutes)
	if err != nil {
		return p, err
	}
	claims, err := began.Claims(minutes, calendar.Horizon(k.day))
	if err != nil {
		return p, err
	}
	place := began.Prepare(calendar, k.settings.OldPiece > 0, claims)
	taken, denied := began.Choose(minutes, claims)
	chosen, err := began.Candidates(ids(taken))
	if err != nil {
		return p, err
	}
	for i := range chosen {
		chosen[i].Away = taken[i].Away
	}
	p = dayPlan{
		day:     k.day,
		minutes: minutes, morning: began,
		turns: began.Arrange(minutes, chosen), plays: map[int64][]schedule.Play{},
	}
	for _, t := range p.turns {
		if t.ID == place {
			p.old = t.Title
		}
	}
	if p.slid, err = began.Candidates(ids(began.Slid(minutes, claims, taken))); err != nil {
		return p, err
	}
	if began.Next.Name != "" {
		h, err := k.happened(began.Next)
		if err != nil {
			return p, err
		}
		p.logged = h.logged
	}
	p.eased = calendar.Eased(k.day) && !k.IsSet("minutes")
	if p.empty, err = k.store.Empty(); err != nil {
		return p, err
	}
	daily, err := began.Daily()
	if err != nil {
		return p, err
	}
	p.denied, p.behind = denied, schedule.BacklogOf(k.day, taken, denied, daily)
	return p, nil
}

// tick takes the plays of the day into its plan.
func (p *dayPlan) tick(plays []schedule.Play) {
	for _, play := range plays {
		hasTurn := slices.ContainsFunc(p.turns, func(t schedule.Turn) bool { return t.ID == play.Piece })
		if !hasTurn && p.plays[play.Piece] == nil {
			p.off = append(p.off, play.Piece)
		}
		p.plays[play.Piece] = append(p.plays[play.Piece], play)
	}
	p.denied = slices.DeleteFunc(p.denied, func(d schedule.Denied) bool { return p.plays[d.Piece] != nil })
}

// step makes the steps of the turns. What is done follows from them, and what is
// spoken from what is done; that then has other steps.
func (p *dayPlan) step(k *call, plays []schedule.Play) error {
	if err := p.slow(k); err != nil {
		return err
	}
	if err := p.takeApart(k); err != nil {
		return err
	}
	p.steps = schedule.Steps(p.turns, p.walks, !k.Bool("no-rests"))
	p.speak(k, plays)
	err := p.remind(k)
	p.tellLegs()
	p.steps = schedule.Steps(p.turns, p.walks, !k.Bool("no-rests"))
	return err
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

// done reports whether a step was played: its part of the piece, or the whole, as
// often as that.
func (p dayPlan) done(step schedule.Step) bool {
	part, whole := 0, 0
	for _, play := range p.plays[p.turns[step.Turn].ID] {
		switch play.Part() {
		case schedule.Part{}:
			whole++
		case step.Part:
			part++
		}
	}
	return max(part, whole) >= step.Time
}

// turnDone reports whether all steps of a turn were played.
func (p dayPlan) turnDone(t schedule.Turn) bool {
	return !slices.ContainsFunc(p.steps, func(s schedule.Step) bool { return !s.Rest && p.turns[s.Turn].ID == t.ID && !p.done(s) })
}

// A row is a rest or a round of a turn, and whether all of it was played.
type row struct {
	schedule.Step
	done bool
}

// rows returns the steps of the day, the legs of a round as one.
func (p dayPlan) rows() (rows []row) {
	for _, s := range p.steps {
		if s.Rest || s.Leg == 1 {
			rows = append(rows, row{s, !s.Rest && p.done(s)})
			continue
		}
		at := &rows[len(rows)-1]
		at.Minutes += s.Minutes
		at.done = at.done && p.done(s)
	}
	return rows
}

// wholes returns a row for each turn. It is done when the piece was played whole.
func (p dayPlan) wholes() []row {
	rows := make([]row, len(p.turns))
	for i, s := range schedule.Whole(p.turns) {
		rows[i] = row{s, p.done(s) || p.turnDone(p.turns[i])}
	}
	return rows
}

const restTitle = "rest your hands"

// rests returns the minutes of rest, which come on top of those planned.
func (p dayPlan) rests() (minutes int) {
	for _, step := range p.steps {
		if step.Rest {
			minutes += step.Minutes
		}
	}
	return minutes
}

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

// remark says which piece has the standing place, and why the day is short; ""
// for nothing.
func (p dayPlan) remark() string {
	var lines []string
	if p.eased {
		lines = append(lines, "You were away: the first two days back are shorter, so that the hands come back in peace.")
	}
	if p.old != "" {
		lines = append(lines, "The place that every day keeps for an old piece is for "+p.old+".")
	}
	return strings.Join(lines, " ")
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
