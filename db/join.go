package db

import (
	"fmt"
	"maps"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// What a pack or a sheet brings is joined to an archive here. The archive that
// is joined to is left as it is.

// Join returns the archive with the pieces and talas of a pack, and what becomes
// of each. What is there already and differs is left, or, with replace, becomes
// what the pack says; what the pack leaves unsaid is left in any case. now is the
// moment of it, in Unix seconds. An AfterError lists the pieces that could come
// after nothing that they name.
func (a Archive) Join(pack repertoire.Pack, today repertoire.Day, now int64, replace bool) (Archive, []Change, error) {
	a.Pieces, a.Talas, a.Settings = slices.Clone(a.Pieces), slices.Clone(a.Talas), maps.Clone(a.Settings)
	changes, err := a.joinTalas(pack.Talas, replace)
	if err != nil {
		return a, nil, err
	}
	at := map[string]int{}
	for i, r := range a.Pieces {
		at[repertoire.Fold(r.Title)] = i
	}
	for _, e := range pack.Pieces {
		i, known := at[repertoire.Fold(e.Title)]
		if !known {
			if e.Start == 0 {
				e.Start = schedule.StartFor(e.Goal)
			}
			changes = append(changes, Change{Title: e.Title, State: New})
			at[repertoire.Fold(e.Title)] = len(a.Pieces)
			a.Pieces = append(a.Pieces, Record{Entry: e, Added: today, Resting: repertoire.Never, Edited: now})
			continue
		}
		e = e.Over(a.Pieces[i].Entry)
		c := Change{Title: a.Pieces[i].Title, State: Same, Differs: e.Differs(a.Pieces[i].Entry)}
		if c.Differs != "" {
			c.State = Changed
			if replace {
				a.Pieces[i].Entry, a.Pieces[i].Edited = e, EditedAt(now, a.Pieces[i].Edited)
			}
		}
		changes = append(changes, c)
	}
	return a, changes, order(a.Pieces)
}

// joinTalas adds what is new, and names the tala of each as Talas would.
func (a *Archive) joinTalas(talas []repertoire.Tala, replace bool) (changes []Change, err error) {
	for _, t := range talas {
		c := Change{Title: "the tala " + t.Name, State: New}
		i := slices.IndexFunc(a.Talas, func(own repertoire.Tala) bool { return foldedOrder(own.Name, t.Name) == 0 })
		common, err := repertoire.FindTala(t.Name, repertoire.Talas)
		switch {
		case err == nil && !sameTala(common, t):
			return nil, fmt.Errorf("its tala %s is not the %s that is known", t.Name, common.Name)
		case err == nil || i >= 0 && sameTala(a.Talas[i], t):
			c.State = Same
		case i < 0:
			a.Talas = append(a.Talas, t)
		default:
			c.State, c.Differs = Changed, "vibhags, signs or theka"
			if replace {
				t.Name = a.Talas[i].Name
				a.Talas[i] = t
			}
		}
		changes = append(changes, c)
	}
	slices.SortFunc(a.Talas, func(x, y repertoire.Tala) int { return foldedOrder(x.Name, y.Name) })
	return changes, nil
}

func sameTala(a, b repertoire.Tala) bool {
	return slices.Equal(a.Vibhags, b.Vibhags) && slices.Equal(a.Tali, b.Tali) && slices.Equal(a.Khali, b.Khali) && a.Theka == b.Theka
}

// JoinPlays returns the archive with plays of its pieces, by folded title, each
// once, and what becomes of those pieces.
func (a Archive) JoinPlays(plays map[string][]Play) (Archive, []Change) {
	before := a
	a.Pieces = slices.Clone(a.Pieces)
	for i, r := range a.Pieces {
		if more := plays[repertoire.Fold(r.Title)]; len(more) > 0 {
			slices.SortStableFunc(more, func(x, y Play) int { return int(x.Day - y.Day) })
			a.Pieces[i].Plays = mergePlays(r.Plays, more, addDay)
		}
	}
	return a, slices.DeleteFunc(Changes(before, a), func(c Change) bool { return len(plays[repertoire.Fold(c.Title)]) == 0 })
}
