package main

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// What the bols of a piece say, in words and in rows.

// findTala returns the tala of that name, a common one or the player's.
func (k *call) findTala(name string) (repertoire.Tala, error) {
	known, err := k.store.Talas()
	if err != nil {
		return repertoire.Tala{}, err
	}
	tala, err := repertoire.FindTala(name, known)
	if err != nil {
		return tala, refuse("%v", err)
	}
	return tala, nil
}

// A score is a piece's bols, read, on its tala.
type score struct {
	repertoire.Notation
	piece repertoire.Piece
	tala  repertoire.Tala
}

// scoreOf reads the bols of a piece. There must be some.
func (k *call) scoreOf(p repertoire.Piece) (score, error) {
	tala, err := k.findTala(p.Tala)
	if err != nil {
		return score{}, err
	}
	n, err := repertoire.ReadBols(p.Bols)
	if err != nil {
		return score{}, refuse("the bols of %s do not read: %v", p.Title, err)
	}
	return score{n, p, tala}, nil
}

// sayMusic tells what a player should know of the bols of a piece that was just
// kept: how they fit the tala, and whether the goal asks too much of the hands.
// Bols that an older version let in may not read; the piece is kept all the same.
func (k *call) sayMusic(p repertoire.Piece) error {
	if p.Bols == "" {
		return nil
	}
	s, err := k.scoreOf(p)
	var unread *failure
	if errors.As(err, &unread) {
		k.say("It is kept as it is, though %s.", unread.text)
		return nil
	}
	if err != nil {
		return err
	}
	if fit := s.fit(); fit != "" {
		k.say("%s", fit)
	}
	if fast := s.Load().PerSecond(p.Goal); fast.Cmp(big.NewRat(repertoire.FastHands, 1)) > 0 {
		k.say("At %d matras/min its densest matra asks for %s strokes a second: is that goal meant?", p.Goal, decimal(fast))
	}
	return nil
}

func (s score) fit() string { return repertoire.Fit(s.piece.Kind, s.tala, s.Notation) }

// decimal writes a quantity that is measured, not counted.
func decimal(r *big.Rat) string { return r.FloatString(1) }

// addFacts adds what the bols say to the facts of a piece.
func (s score) addFacts(t *table, c schedule.Candidate, day repertoire.Day) {
	load := s.Load()
	length := fmt.Sprintf("%s, a round takes %s s at %d matras/min", plural(load.Matras, "matra"), decimal(load.Seconds(c.Goal)), c.Goal)
	if _, form := repertoire.FindTihai(s.Notation); form != repertoire.NoTihai {
		length += ", a " + form.String()
	}
	t.add("length", length)
	t.add("hands", fmt.Sprintf("%s strokes a matra, at most %d; right hand %d strokes (%d open), left hand %d (%d open)",
		decimal(load.Mean), load.Densest, load.Dayan, load.DayanOpen, load.Bayan, load.BayanOpen))
	speeds := fmt.Sprintf("%s at start", decimal(load.PerSecond(c.Start)))
	if clean := cleanOn(c, day); clean > 0 {
		speeds += fmt.Sprintf(", %s at clean", decimal(load.PerSecond(clean)))
	}
	t.add("strokes/s", speeds+fmt.Sprintf(", %s at goal tempo, in the densest matra", decimal(load.PerSecond(c.Goal))))
	if techniques := s.Techniques(); len(techniques) > 0 {
		t.add("exercises", strings.Join(techniques, ", "))
	}
	if fit := s.fit(); fit != "" {
		t.add("fit", fit)
	}
}

// A share is how much of a piece also stands in another of its family.
type share struct {
	ID      int64  `json:"id"`
	Title   string `json:"title"`
	Percent int    `json:"percent"`
}

// shares compares the piece with each of its family that has bols, the nearest
// first.
func (k *call) shares(s score) ([]share, error) {
	family, err := k.store.Family(s.piece.ID)
	all := []share{}
	for _, other := range family {
		if _, err := repertoire.ReadBols(other.Bols); err != nil {
			continue // nothing to compare with
		}
		all = append(all, share{other.ID, other.Title, schedule.Share(s.piece, other.Piece)})
	}
	slices.SortStableFunc(all, func(a, b share) int { return b.Percent - a.Percent })
	return all, err
}

// sharesShown is how many of them show names.
const sharesShown = 3

func shareLine(shares []share) string {
	var parts []string
	for i, s := range shares[:min(len(shares), sharesShown)] {
		format := "%d %% with %s"
		if i == 0 {
			format = "%d %% of its strokes with %s"
		}
		parts = append(parts, fmt.Sprintf(format, s.Percent, s.Title))
	}
	return strings.Join(parts, ", ")
}

// slotTable is a layout for machines: a row a matra.
func slotTable(slots []repertoire.Slot) table {
	t := table{columns: []column{
		{key: "cycle", head: "cycle", right: true},
		{key: "vibhag", head: "vibhag", right: true},
		{key: "sign", head: "sign"},
		{key: "matra", head: "matra", right: true},
		{key: "bols", head: "bols"},
	}}
	for _, s := range slots {
		t.add(s.Cycle, s.Vibhag, known(s.Sign), s.Matra, known(s.Text))
	}
	return t
}

// vibhagTable is a layout for people: a row a vibhag, its sign before it, each
// matra under its number. A vibhag too wide for width goes on in the next row.
func vibhagTable(slots []repertoire.Slot, width int) table {
	widest, longest := 3, 1
	for _, s := range slots {
		widest = max(widest, columns(s.Text))
	}
	var rows [][]repertoire.Slot
	perRow := max(1, (width-4)/(widest+2))
	for _, vibhag := range runs(slots, sameVibhag) {
		for row := range slices.Chunk(vibhag, perRow) {
			rows = append(rows, row)
			longest = max(longest, len(row))
		}
	}
	t := table{columns: []column{{head: ""}}}
	for range longest {
		t.columns = append(t.columns, column{head: ""})
	}
	for _, row := range rows {
		cells := []any{"\n" + row[0].Sign}
		for _, s := range row {
			cells = append(cells, fmt.Sprintf("%d\n%s", s.Matra, wrap(s.Text, width-8)))
		}
		for len(cells) <= longest {
			cells = append(cells, " ")
		}
		t.add(cells...)
	}
	return t
}

// printSlots writes a layout in the page's format.
func (p page) printSlots(slots []repertoire.Slot) error {
	switch p.format {
	case "csv", "json":
		return p.print(slotTable(slots))
	}
	return p.print(vibhagTable(slots, p.width))
}
