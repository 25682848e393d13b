package db

import (
	"fmt"
	"slices"

	"dohra/repertoire"
)

// What of an archive comes after what.

// An AfterError lists the pieces that cannot come after what they name.
type AfterError []Misplaced

// A Misplaced is a piece that cannot come after another.
type Misplaced struct {
	Title, After string
	circle       bool // the other waits for this one; or else it is not there
}

// Error tells of the first.
func (e AfterError) Error() string {
	first := e[0]
	switch {
	case !first.circle:
		return fmt.Sprintf("%s comes after %s, which is neither in the file nor here", first.Title, first.After)
	case first.Title == first.After:
		return fmt.Sprintf("%s comes after itself", first.Title)
	}
	return fmt.Sprintf("%s comes after %s, which waits for it", first.Title, first.After)
}

// Want says what would do instead.
func (m Misplaced) Want() string {
	if m.circle {
		return "a piece that does not wait for " + m.Title
	}
	return "a piece that is in the file or here"
}

// order gives every After its piece's title as it is written, and refuses, all at
// once, those of no piece and those that wait for one another.
func order(pieces []Record) error {
	var wrong AfterError
	titles := map[string]string{}
	for _, r := range pieces {
		titles[repertoire.Fold(r.Title)] = r.Title
	}
	for i, r := range pieces {
		if r.After == "" {
			continue
		}
		title, there := titles[repertoire.Fold(r.After)]
		if !there {
			wrong = append(wrong, Misplaced{Title: r.Title, After: r.After})
			continue
		}
		pieces[i].After = title
	}
	for _, circle := range circles(pieces) {
		for _, i := range circle {
			wrong = append(wrong, Misplaced{Title: pieces[i].Title, After: pieces[i].After, circle: true})
		}
	}
	if wrong == nil {
		return nil
	}
	return wrong
}

// circles returns the pieces that wait for one another in a circle, a list for
// each circle. Each piece is looked at once, however long the chains are.
func circles(pieces []Record) (all [][]int) {
	at, walked := map[string]int{}, make([]int, len(pieces))
	for i, r := range pieces {
		at[repertoire.Fold(r.Title)] = i
	}
	first := func(i int) (int, bool) {
		j, there := at[repertoire.Fold(pieces[i].After)]
		return j, there
	}
	for i := range pieces {
		next, there := i, true
		for there && walked[next] == 0 {
			walked[next] = i + 1
			next, there = first(next)
		}
		if !there || walked[next] != i+1 {
			continue
		}
		circle := []int{next}
		for j, _ := first(next); j != next; j, _ = first(j) {
			circle = append(circle, j)
		}
		all = append(all, circle)
	}
	return all
}

// uncircle lets the first by title of pieces that wait for one another in a
// circle wait for none.
func uncircle(pieces []Record) {
	for _, circle := range circles(pieces) {
		least := slices.MinFunc(circle, func(i, j int) int { return foldedOrder(pieces[i].Title, pieces[j].Title) })
		pieces[least].After = ""
	}
}
