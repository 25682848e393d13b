package main

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// How the whole repertoire went.

// A review is what was played from one day to another.
type review struct {
	since, until repertoire.Day
	pieces       []schedule.Candidate // as they stood at the end, by title
	plays        []schedule.Play
	days         int // on which something was played
	weeks        []weekReview
	months       []monthReview
	neglected    []neglect
}

// A tally is plays, and the minutes that are known of them.
type tally struct{ plays, minutes int }

func (t *tally) add(p schedule.Play) {
	t.plays++
	t.minutes += p.Minutes
}

type weekReview struct {
	monday repertoire.Day
	days   int
	all    tally
	kinds  map[repertoire.Kind]*tally
}

type monthReview struct {
	month     string   // YYYY-MM
	won, lost []string // titles
}

// A neglect is a technique that the repertoire asks for and that was not played
// for long.
type neglect struct {
	technique string
	last      repertoire.Day // or Never
	pieces    int            // that exercise it
}

// What is shown unless said otherwise, and when a technique counts as
// neglected (our choice).
const (
	weeksBack    = 12
	neglectAfter = 14 // days
)

func allProgress(k *call, since repertoire.Day) error {
	if since == repertoire.Never {
		since = mondayOf(k.day) - 7*(weeksBack-1)
	}
	r, err := newReview(k, since)
	if err != nil {
		return err
	}
	if k.wantsPicture() {
		if len(r.weeks) == 0 {
			return refuse("there is no play since %s to draw", since)
		}
		return k.drawPictures(minutesPicture(r))
	}
	switch k.page.format {
	case "csv":
		return k.page.print(r.kindTable())
	case "table":
		return r.screen(k)
	}
	rows, err := r.account(k)
	if err != nil {
		return err
	}
	if k.page.format == "json" {
		return r.json(k, rows)
	}
	return r.report(k, rows)
}

func mondayOf(day repertoire.Day) repertoire.Day { return day - repertoire.Day(schedule.Weekday(day)) }

// newReview looks back from the day asked about.
func newReview(k *call, since repertoire.Day) (r review, err error) {
	r = review{since: since, until: k.day}
	if r.pieces, err = k.evening(); err != nil {
		return r, err
	}
	if r.plays, err = k.store.PlaysBetween(since, k.day); err != nil {
		return r, err
	}
	kinds := map[int64]repertoire.Kind{}
	for _, c := range r.pieces {
		kinds[c.ID] = c.Kind
	}
	// A damaged file may hold plays of no piece.
	r.plays = slices.DeleteFunc(r.plays, func(p schedule.Play) bool { return kinds[p.Piece] == "" })
	r.countWeeks(kinds)
	r.neglected = neglectedOn(k.day, r.pieces)
	return r, r.countMonths(k)
}

// countWeeks counts what was played in each week, from the first with a play to
// the last day.
func (r *review) countWeeks(kinds map[int64]repertoire.Kind) {
	if len(r.plays) == 0 {
		return
	}
	first := mondayOf(r.plays[0].Day)
	for monday := first; monday <= r.until; monday += 7 {
		r.weeks = append(r.weeks, weekReview{monday: monday, kinds: map[repertoire.Kind]*tally{}})
	}
	last := repertoire.Never
	for _, p := range r.plays {
		w := &r.weeks[(p.Day-first)/7]
		if p.Day != last {
			last = p.Day
			w.days++
			r.days++
		}
		kind := kinds[p.Piece]
		if w.kinds[kind] == nil {
			w.kinds[kind] = new(tally)
		}
		w.kinds[kind].add(p)
		w.all.add(p)
	}
}

// countMonths finds the pieces that were won and lost among those played, by
// replaying all their plays.
func (r *review) countMonths(k *call) error {
	played := map[int64]bool{}
	for _, p := range r.plays {
		played[p.Piece] = true
	}
	months := map[string]*monthReview{}
	for _, c := range r.pieces {
		if !played[c.ID] {
			continue
		}
		plays, err := k.store.Plays(c.ID)
		if err != nil {
			return err
		}
		for p := range schedule.Passages(c.Start, c.Goal, plays) {
			if p.Day < r.since || p.Day > r.until || !p.Won() && !p.Slipped() {
				continue
			}
			month := p.Day.String()[:len("2006-01")]
			if months[month] == nil {
				months[month] = &monthReview{month: month}
			}
			if m := months[month]; p.Won() {
				m.won = append(m.won, c.Title)
			} else {
				m.lost = append(m.lost, c.Title)
			}
		}
	}
	for _, month := range slices.Sorted(maps.Keys(months)) {
		r.months = append(r.months, *months[month])
	}
	return nil
}

// neglectedOn returns the techniques of pieces that do not rest which were not
// played for long, the longest first.
func neglectedOn(day repertoire.Day, pieces []schedule.Candidate) []neglect {
	found := map[string]*neglect{}
	for _, c := range pieces {
		n, err := repertoire.ReadBols(c.Bols)
		if err != nil || c.Rests(day) {
			continue
		}
		for _, t := range n.Techniques() {
			if found[t] == nil {
				found[t] = &neglect{technique: t, last: repertoire.Never}
			}
			found[t].last = max(found[t].last, c.Last)
			found[t].pieces++
		}
	}
	var list []neglect
	for _, n := range found {
		if n.last <= day-neglectAfter {
			list = append(list, *n)
		}
	}
	slices.SortFunc(list, func(a, b neglect) int {
		return cmp.Or(cmp.Compare(a.last, b.last), cmp.Compare(a.technique, b.technique))
	})
	return list
}

// total sums what was played.
func (r review) total() (t tally) {
	for _, w := range r.weeks {
		t.plays += w.all.plays
		t.minutes += w.all.minutes
	}
	return t
}

func (r review) headline() string {
	t := r.total()
	return fmt.Sprintf("%s to %s: %s on %s, %s min", r.since.Short(), r.until.Short(),
		plural(t.plays, "play"), plural(r.days, "day"), orDash(t.minutes))
}

// weekTable has a row a week.
func (r review) weekTable() table {
	t := table{columns: []column{
		{key: "week", head: "week from"},
		{key: "days", head: "days", right: true},
		{key: "plays", head: "plays", right: true},
		{key: "minutes", head: "min", right: true},
		{key: "kinds", head: "min by kind", grow: true},
	}}
	for _, w := range r.weeks {
		var kinds []string
		for _, kind := range repertoire.Kinds {
			if tally := w.kinds[kind]; tally != nil {
				kinds = append(kinds, fmt.Sprintf("%s %s", kind, orDash(tally.minutes)))
			}
		}
		t.add(w.monday.String(), known(w.days), known(w.all.plays), known(w.all.minutes), known(strings.Join(kinds, ", ")))
	}
	return t
}

// kindTable has a row a week and kind, for machines.
func (r review) kindTable() table {
	t := table{columns: []column{{key: "week"}, {key: "kind"}, {key: "plays"}, {key: "minutes"}}}
	for _, w := range r.weeks {
		for _, kind := range repertoire.Kinds {
			if tally := w.kinds[kind]; tally != nil {
				t.add(w.monday.String(), string(kind), tally.plays, known(tally.minutes))
			}
		}
	}
	return t
}

func (r review) monthTable() table {
	t := table{columns: []column{
		{key: "month", head: "month"},
		{key: "won", head: "won", right: true},
		{key: "lost", head: "lost", right: true},
		{key: "pieces", head: "pieces", grow: true},
	}}
	for _, m := range r.months {
		var parts []string
		if len(m.won) > 0 {
			parts = append(parts, "won "+titles(m.won))
		}
		if len(m.lost) > 0 {
			parts = append(parts, "lost "+titles(m.lost))
		}
		t.add(m.month, len(m.won), len(m.lost), strings.Join(parts, "; "))
	}
	return t
}

// titles names as many as fit in a line, each once.
func titles(list []string) string {
	list = slices.Compact(slices.Clone(list))
	text := strings.Join(list[:min(len(list), mostNamed)], ", ")
	if more := len(list) - mostNamed; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

func (r review) neglectTable() table {
	t := table{columns: []column{
		{key: "technique", head: "technique neglected"},
		{key: "last", head: "last played"},
		{key: "pieces", head: "pieces that exercise it", right: true},
	}}
	for _, n := range r.neglected {
		t.add(n.technique, known(strings.TrimPrefix(n.last.String(), "-")), n.pieces)
	}
	return t
}

// tables are what there is to show, in order.
func (r review) tables() []table {
	return slices.DeleteFunc([]table{r.weekTable(), r.monthTable(), r.neglectTable()},
		func(t table) bool { return len(t.rows) == 0 })
}

func (r review) screen(k *call) error {
	if len(r.pieces) == 0 {
		k.sayEmpty()
		return nil
	}
	k.say("%s", r.headline())
	if len(r.plays) == 0 {
		k.say("Nothing was played. Look further back: dohra progress --since %s; or play: dohra today", r.since-90)
	}
	for _, t := range r.tables() {
		k.say("")
		if err := k.page.print(t); err != nil {
			return err
		}
	}
	return nil
}

func (r review) json(k *call, pieces table) error {
	t := r.total()
	return k.page.json(struct {
		Since     string `json:"since"`
		Until     string `json:"until"`
		Days      int    `json:"days"`
		Plays     int    `json:"plays"`
		Minutes   int    `json:"minutes"`
		Pieces    table  `json:"pieces"`
		Weeks     table  `json:"weeks"`
		Months    table  `json:"months"`
		Neglected table  `json:"neglected"`
	}{r.since.String(), r.until.String(), r.days, t.plays, t.minutes, pieces, r.kindTable(), r.monthTable(), r.neglectTable()})
}
