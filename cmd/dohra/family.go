package main

import (
	"fmt"
	"slices"
	"strings"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

// A family is what comes after one first piece: a kaida with its paltas and
// tihais.

// A member is a piece of a family, and how many come before it.
type member struct {
	schedule.Candidate
	depth int
}

// familiesOf puts pieces into families: each followed by what comes after it,
// in the order in which they are given.
func familiesOf(pieces []schedule.Candidate) (families [][]member) {
	there, after := map[int64]bool{}, map[int64][]schedule.Candidate{}
	for _, c := range pieces {
		there[c.ID] = true
		after[c.After] = append(after[c.After], c)
	}
	var family []member
	var grow func(c schedule.Candidate, depth int)
	grow = func(c schedule.Candidate, depth int) {
		family = append(family, member{c, depth})
		for _, next := range after[c.ID] {
			grow(next, depth+1)
		}
	}
	for _, c := range pieces {
		if !there[c.After] {
			family = nil
			grow(c, 0)
			families = append(families, family)
		}
	}
	return families
}

// familyTable is families as a tree, a row a piece.
func familyTable(families [][]member, day repertoire.Day) table {
	t := table{columns: []column{
		{key: "id", head: "\nid", right: true},
		{key: "title", head: "\nfamily", grow: true},
		{key: "depth", head: "\ndepth", right: true},
		{key: "kind", head: "\nkind"},
		{key: "stage", head: "\nstage"},
		{key: "clean_tempo", head: "matras/min\nclean", right: true},
		{key: "goal_tempo", head: "\ngoal", right: true},
	}}
	for _, m := range slices.Concat(families...) {
		t.add(m.ID, m.Title, m.depth, string(m.Kind), stageOf(m.Candidate, day), known(cleanOn(m.Candidate, day)), m.Goal)
	}
	return t
}

// deepestDrawn is how many levels the lines of a tree grow (our choice).
const deepestDrawn = 12

// drawn is a family table for people: the depth is drawn before the title.
func drawn(t table) table {
	const title, depth = 1, 2
	for i, row := range t.rows {
		if n := row[depth].(int); n > 0 {
			row[title] = fmt.Sprintf("└%s %s", strings.Repeat("─", min(n, deepestDrawn)), row[title])
		}
		t.rows[i] = slices.Delete(row, depth, depth+1)
	}
	t.columns = slices.Delete(t.columns, depth, depth+1)
	return t
}

// listFamilies lists the families that have one of the pieces listed.
func listFamilies(k *call, all, listed []schedule.Candidate) error {
	families := slices.DeleteFunc(familiesOf(all), func(family []member) bool {
		return !slices.ContainsFunc(family, func(m member) bool {
			return slices.ContainsFunc(listed, func(c schedule.Candidate) bool { return c.ID == m.ID })
		})
	})
	return k.printFamilies(families)
}

func (k *call) printFamilies(families [][]member) error {
	t := familyTable(families, k.day)
	if k.page.format != "csv" && k.page.format != "json" {
		t = drawn(t)
	}
	return k.page.print(t)
}

// families returns the family of a piece as it stood then; none of a piece that
// has no other in it.
func (k *call) families(c schedule.Candidate, then *db.Morning) ([][]member, error) {
	others, err := k.store.Family(c.ID)
	if err != nil || len(others) == 0 {
		return nil, err
	}
	ids := []int64{c.ID}
	for _, other := range others {
		ids = append(ids, other.ID)
	}
	slices.Sort(ids)
	stood, err := then.Candidates(ids)
	return familiesOf(stood), err
}

// remind tells at each tihai to play its kaida into it once, so that it is
// practised where it belongs (common practice, no source).
func (p *dayPlan) remind(k *call) error {
	for i, t := range p.turns {
		if t.Kind != "tihai" || t.After == 0 || t.Spoken {
			continue
		}
		first, err := k.store.Piece(t.After)
		for err == nil && first.After != 0 {
			first, err = k.store.Piece(first.After)
		}
		if err != nil {
			return err
		}
		if first.Rests(k.day) {
			continue
		}
		p.turns[i].Why += fmt.Sprintf("; once, play %s into it", first.Title)
	}
	return nil
}
