package main

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

// piece returns the piece that the words of the command mean.
func (k *call) piece() (schedule.Candidate, error) {
	words := strings.Join(k.Args().Slice(), " ")
	if strings.TrimSpace(words) == "" {
		return schedule.Candidate{}, misuse("which piece? Give its id or a part of its title").
			trying("dohra %s %s", k.Command.Name, "PIECE")
	}
	return k.find(words)
}

// find returns the piece that text means: its id, its title, or a part of its
// title that no other has.
func (k *call) find(text string) (schedule.Candidate, error) {
	found, err := k.store.Find(text)
	switch {
	case err != nil:
		return schedule.Candidate{}, err
	case len(found) == 0:
		return schedule.Candidate{}, k.unknown(text)
	case len(found) > 1:
		return schedule.Candidate{}, refuse("%q may be %s", text, named(found)).trying("its id, or more of the title")
	}
	return k.store.Piece(found[0].ID)
}

// findSeveral returns the pieces that text means, with commas between; a title
// with commas in it is one piece.
func (k *call) findSeveral(text string) (found []schedule.Candidate, err error) {
	parts := []string{text}
	if one, err := k.store.Find(text); err == nil && len(one) == 0 {
		parts = strings.Split(text, ",")
	}
	for _, part := range parts {
		c, err := k.find(strings.TrimSpace(part))
		if err != nil {
			return nil, err
		}
		found = append(found, c)
	}
	return found, nil
}

// unknown is the failure to find a piece; it names the nearest titles.
func (k *call) unknown(text string) error {
	titles, err := k.store.Titles()
	if err != nil {
		return err
	}
	if len(titles) == 0 {
		return refuse("the repertoire is empty, so there is no piece %q", text).trying("%s", firstStep)
	}
	f := refuse("there is no piece %q", text)
	if near := nearest(repertoire.Fold(text), titles); len(near) > 0 {
		f.text += "; near it: " + named(near)
	}
	return f.trying("dohra list")
}

// mostNamed is how many pieces one line can name.
const mostNamed = 5

// named lists pieces in a line.
func named(pieces []db.Named) string {
	var names []string
	for _, n := range pieces[:min(len(pieces), mostNamed)] {
		names = append(names, n.Title+" ("+strconv.FormatInt(n.ID, 10)+")")
	}
	if more := len(pieces) - mostNamed; more > 0 {
		names = append(names, strconv.Itoa(more)+" more")
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// nearest returns the titles that text may have been meant for: as a whole, or
// as some of their words.
func nearest(text string, titles []db.Named) []db.Named {
	type near struct {
		db.Named
		far int
	}
	var all []near
	for _, t := range titles {
		if far := distance(text, repertoire.Fold(t.Title)); far <= 1+len([]rune(text))/3 {
			all = append(all, near{t, far})
		}
	}
	slices.SortStableFunc(all, func(a, b near) int { return cmp.Compare(a.far, b.far) })
	var names []db.Named
	for _, n := range all[:min(len(all), 3)] {
		names = append(names, n.Named)
	}
	return names
}

// evening returns every piece as it stood when the day asked about ended, by
// title.
func (k *call) evening() ([]schedule.Candidate, error) {
	return k.morningOf(k.day + 1)
}

// morningOf returns every piece as it stood when the day began, by title.
func (k *call) morningOf(day repertoire.Day) ([]schedule.Candidate, error) {
	morning, err := k.store.Morning(day)
	if err != nil {
		return nil, err
	}
	return morning.All()
}

// distance is the edit distance of text to title, or to the nearest run of as
// many words in it.
func distance(text, title string) int {
	far := levenshtein.ComputeDistance(text, title)
	words, n := strings.Fields(title), len(strings.Fields(text))
	for i := 0; i+n <= len(words); i++ {
		far = min(far, levenshtein.ComputeDistance(text, strings.Join(words[i:i+n], " ")))
	}
	return far
}

// nearestCommand returns the call whose name is nearest to word.
func nearestCommand(app *cli.App, word string) string {
	best, far := "--help", 3
	for _, c := range app.Commands {
		if d := levenshtein.ComputeDistance(word, c.Name); d < far {
			best, far = c.Name, d
		}
	}
	return "dohra " + best
}
