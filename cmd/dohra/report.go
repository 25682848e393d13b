package main

import (
	"cmp"
	"fmt"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// What a student sends to the teacher: what was asked, what was played, where it
// stands.

// An account is one piece over the days of a review.
type account struct {
	asked    int // days whose plan had a turn for it
	answered int // of these, days on which it was played
	tally
}

// account counts what was asked and played of each piece.
func (r review) account(k *call) (table, error) {
	morning, err := k.store.Morning(r.since)
	if err != nil {
		return table{}, err
	}
	began, err := morning.All()
	if err != nil {
		return table{}, err
	}
	calendar, _, err := k.store.Calendar(k.settings.Minutes)
	if err != nil {
		return table{}, err
	}
	concerts, err := k.store.Concerts()
	if err != nil {
		return table{}, err
	}
	heard, err := k.store.HeardBetween(r.since, r.until)
	if err != nil {
		return table{}, err
	}
	accounts := map[int64]*account{}
	then := map[int64]schedule.Candidate{}
	for _, c := range began {
		accounts[c.ID], then[c.ID] = new(account), c
	}
	type dayOf struct {
		piece int64
		day   repertoire.Day
	}
	played := map[dayOf]bool{}
	for _, p := range r.plays {
		played[dayOf{p.Piece, p.Day}] = true
		accounts[p.Piece].add(p)
	}
	for day, plan := range schedule.Asked(r.since, r.until, calendar, k.settings.OldPiece > 0, concerts, began, heard) {
		for _, turn := range plan.Turns {
			a := accounts[turn.ID]
			a.asked++
			if played[dayOf{turn.ID, day}] {
				a.answered++
			}
		}
	}
	return r.accountTable(accounts, then), nil
}

// accountTable has a row for each piece that was asked for or played, in the
// order of list.
func (r review) accountTable(accounts map[int64]*account, then map[int64]schedule.Candidate) table {
	t := table{columns: []column{
		{key: "title", head: "piece"},
		{key: "kind", head: "kind"},
		{key: "asked", head: "asked, days", right: true},
		{key: "answered", head: "of these played", right: true},
		{key: "plays", head: "plays", right: true},
		{key: "minutes", head: "min", right: true},
		{key: "clean_before", head: "clean then, matras/min", right: true},
		{key: "clean_tempo", head: "clean now", right: true},
		{key: "goal_tempo", head: "goal", right: true},
		{key: "stage", head: "stage"},
	}}
	for _, c := range byKind(r.pieces) {
		if a := accounts[c.ID]; a.asked+a.plays > 0 {
			t.add(c.Title, string(c.Kind), a.asked, a.answered, a.plays, known(a.minutes),
				known(cleanOn(then[c.ID], r.since)), known(cleanOn(c, r.until)), c.Goal, stageOf(c, r.until))
		}
	}
	return t
}

// byKind returns pieces, which are in order of title, by kind first.
func byKind(pieces []schedule.Candidate) []schedule.Candidate {
	pieces = slices.Clone(pieces)
	slices.SortStableFunc(pieces, func(a, b schedule.Candidate) int {
		return cmp.Compare(a.Kind.Order(), b.Kind.Order())
	})
	return pieces
}

// report writes the review as Markdown or HTML.
func (r review) report(k *call, pieces table) error {
	k.page.heading(r.headline())
	if len(pieces.rows) == 0 {
		k.page.paragraph("Nothing was asked, and nothing was played.")
		return nil
	}
	k.page.paragraph(r.explained(pieces))
	k.page.block("")
	for _, t := range append([]table{pieces}, r.tables()...) {
		if err := k.page.print(t); err != nil {
			return err
		}
		k.page.block("")
	}
	return nil
}

// explained sums up what was asked, and says where it comes from.
func (r review) explained(pieces table) string {
	asked, answered := 0, 0
	for _, row := range pieces.rows {
		asked += row[2].(int)
		answered += row[3].(int)
	}
	return fmt.Sprintf("The plans of these days asked for %s, of which %d were played on their day. "+
		"Plans are made anew with the minutes that the week has now.", plural(asked, "turn"), answered)
}
