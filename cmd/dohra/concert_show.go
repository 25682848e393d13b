package main

import (
	"fmt"
	"math"

	"dohra/schedule"
)

// A concert as it is shown: its running order and how that flows; then, while it
// is to come, whether it will be ready; afterwards, what came of it.

type shownConcert struct {
	schedule.Concert
	pieces   map[int64]schedule.Candidate
	items    []schedule.Item
	over     bool
	happened happening
	last     map[int64]lastTime // of what is to come
	outcome  *outcome           // nil where nothing is to be foreseen
}

func showConcert(k *call) error {
	c, err := k.concert(words(k.Context))
	if err != nil {
		return err
	}
	s := shownConcert{Concert: c}
	if s.pieces, err = k.piecesByID(); err != nil {
		return err
	}
	if s.happened, err = k.happened(c); err != nil {
		return err
	}
	s.over = k.over(s.happened)
	proposes := k.Bool("arrange") || k.Bool("fill")
	if k.Bool("arrange") && k.Bool("fill") {
		return misuse("--arrange proposes an order, --fill pieces: ask for one of them")
	}
	if s.over && proposes {
		return refuse("%s is over since %s", c.Name, c.Day.Short()).trying("dohra concert show %q", c.Name)
	}
	if k.Bool("arrange") {
		s.Set = s.Proposed(s.pieces)
	}
	s.items = s.Running(s.pieces)
	if k.Bool("fill") {
		return k.showFills(s)
	}
	if !s.over {
		if s.last, err = k.lastTimes(c); err != nil {
			return err
		}
	}
	if !s.over && s.near(k) && len(c.Set) > 0 && !proposes && k.page.format != "html" {
		o, err := k.foresee(c, s.pieces)
		if err != nil {
			return err
		}
		s.outcome = &o
	}
	switch k.page.format {
	case "json":
		return s.json(k)
	case "csv":
		return k.page.print(s.data(k))
	case "html":
		return concertSheet(k, s)
	case "markdown":
		return s.document(k)
	}
	return s.screen(k)
}

// near reports whether the days until the concert can be foreseen.
func (s shownConcert) near(k *call) bool { return s.Day <= k.day+farthest }

func (s shownConcert) headline() string {
	return fmt.Sprintf("%s, %s: %s", s.Name, s.Day.Short(), lengthLine(s.Concert, s.items))
}

// lengthLine says how much of its slot a set takes.
func lengthLine(c schedule.Concert, items []schedule.Item) string {
	switch seconds, unknown := schedule.Length(items); {
	case seconds == 0:
		return fmt.Sprintf("a slot of %s", plural(c.Minutes, "minute"))
	case unknown == 0:
		return fmt.Sprintf("%s of %s", clock(seconds), plural(c.Minutes, "minute"))
	default:
		return fmt.Sprintf("over %s of %s", clock(seconds), plural(c.Minutes, "minute"))
	}
}

// nothingIn says that a set is empty, and what to do.
func (s shownConcert) nothingIn() string {
	if s.over {
		return "Nothing was in the set."
	}
	return fmt.Sprintf("Nothing is in the set yet. To put a piece in: dohra concert put %q PIECE", s.Name)
}

// remarks are the sentences that follow the running order, or what came of it.
func (s shownConcert) remarks(k *call) (lines []string) {
	if s.over {
		return s.happened.remarks()
	}
	lines = append(k.concerns(s.Concert, s.items), s.Flow(s.items, s.pieces)...)
	if k.Bool("arrange") {
		return append(lines, fmt.Sprintf("This order is proposed. To take it: dohra concert edit %q --arrange", s.Name))
	}
	if !s.near(k) {
		lines = append(lines, "It is foreseen from two years before it.")
	}
	return append(lines, lastLines(s.items, s.last)...)
}

// first is the table that comes first: what was played of a concert that is
// over, or else its running order.
func (s shownConcert) first() table {
	if s.over && len(s.happened.plays) > 0 {
		return s.happened.table(s.items)
	}
	return orderTable(s.items)
}

func (s shownConcert) screen(k *call) error {
	k.say("%s\n", s.headline())
	if len(s.Set) == 0 {
		k.say("%s", s.nothingIn())
	} else if err := k.page.print(s.first()); err != nil {
		return err
	}
	for i, remark := range s.remarks(k) {
		if i == 0 {
			k.say("")
		}
		k.say("%s", remark)
	}
	if s.outcome == nil {
		return nil
	}
	k.say("")
	if err := k.page.print(s.outcome.screen(k.day)); err != nil {
		return err
	}
	k.say("")
	for _, line := range s.outcome.remarks() {
		k.say("%s", line)
	}
	return nil
}

// document writes the concert as Markdown.
func (s shownConcert) document(k *call) error {
	k.page.heading(s.headline())
	if len(s.Set) == 0 {
		k.page.paragraph(s.nothingIn())
	} else if err := k.page.print(s.first()); err != nil {
		return err
	}
	for _, remark := range s.remarks(k) {
		k.page.paragraph(remark)
	}
	if s.outcome == nil {
		return nil
	}
	k.page.block("")
	if err := k.page.print(s.outcome.table(k.day)); err != nil {
		return err
	}
	for _, line := range s.outcome.remarks() {
		k.page.paragraph(line)
	}
	return nil
}

// data is all that is known of each place, for a spreadsheet.
func (s shownConcert) data(k *call) table {
	t := orderData(s.items)
	for _, key := range []string{"clean_tempo", "low", "high", "sittings", "chance", "verdict",
		"played_tempo", "clarity", "went", "last_concert", "last_tempo", "last_clarity"} {
		t.columns = append(t.columns, column{key: key})
	}
	for n, i := range s.items {
		row := t.rows[n]
		if f, foreseen := s.outcome.of(i.Piece); foreseen {
			row = append(row, known(cleanOn(i.Of, k.day)), f.Low, f.High, f.Sittings, thousandths(f.Chance), f.Verdict(k.day, i.Of))
		} else if s.outcome != nil { // it rests
			row = append(row, known(cleanOn(i.Of, k.day)), nil, nil, nil, nil, nil)
		} else {
			row = append(row, nil, nil, nil, nil, nil, nil)
		}
		tempo, clarity, how := s.happened.cells(i.Place)
		if !s.over {
			tempo, clarity, how = nil, nil, nil
		}
		row = append(row, tempo, clarity, how)
		if last, there := s.last[i.Piece]; there {
			row = append(row, last.concert.Name, last.Tempo, last.Clarity.String())
		} else {
			row = append(row, nil, nil, nil)
		}
		t.rows[n] = row
	}
	return t
}

func thousandths(chance float64) float64 { return math.Round(1000*chance) / 1000 }

// json writes all that is known. readiness and chance are of what is to come,
// happened of what is over; else they are empty.
func (s shownConcert) json(k *call) error {
	seconds, unknown := schedule.Length(s.items)
	all := struct {
		Name      string   `json:"name"`
		Day       string   `json:"day"`
		Minutes   int      `json:"minutes"`
		Talas     []string `json:"talas"`
		Over      bool     `json:"over"`
		Seconds   int      `json:"seconds"`
		Unknown   int      `json:"unknown_lengths"`
		Order     table    `json:"order"`
		Remarks   []string `json:"remarks"`
		Readiness table    `json:"readiness"`
		Chance    any      `json:"chance"`
		Logged    bool     `json:"logged"`
		Happened  table    `json:"happened"`
		Last      table    `json:"last_times"`
		Note      string   `json:"note"`
	}{
		Name: s.Name, Day: s.Day.String(), Minutes: s.Minutes, Talas: append([]string{}, s.Talas...), Over: s.over,
		Seconds: seconds, Unknown: unknown, Order: orderData(s.items), Remarks: append([]string{}, s.remarks(k)...),
		Logged: s.happened.logged, Note: s.Note,
	}
	if s.outcome != nil {
		all.Readiness, all.Chance = s.outcome.data(k.day), s.outcome.chance()
		all.Remarks = append(all.Remarks, s.outcome.remarks()...)
	}
	if s.over && len(s.happened.plays) > 0 {
		all.Happened = s.happened.table(s.items)
	}
	all.Last = table{columns: []column{{key: "id"}, {key: "title"}, {key: "concert"}, {key: "day"}, {key: "tempo"}, {key: "clarity"}}}
	for _, i := range s.items {
		if l, there := s.last[i.Piece]; there {
			all.Last.add(i.Piece, i.Of.Title, l.concert.Name, l.concert.Day.String(), l.Tempo, l.Clarity.String())
		}
	}
	return k.page.json(all)
}

// orderTable is the running order, with the time since the beginning.
func orderTable(items []schedule.Item) table {
	t := table{columns: []column{
		{key: "place", head: "", right: true},
		{key: "starts", head: "at, min:s", right: true},
		{key: "title", head: "piece", grow: true},
		{key: "kind", head: "kind"},
		{key: "tala", head: "tala"},
		{key: "tempo", head: "matras/min", right: true},
		{key: "rounds", head: "rounds", right: true},
		{key: "length", head: "min:s", right: true},
	}}
	for n, i := range items {
		t.add(n+1, startCell(i.Starts), i.Of.Title, string(i.Of.Kind), i.Of.Tala, i.Tempo, known(i.Rounds), lengthCell(i.Seconds))
	}
	return t
}

// orderData is the running order for machines.
func orderData(items []schedule.Item) table {
	t := orderTable(items)
	t.columns = append(t.columns, column{key: "id"})
	for n, i := range items {
		t.rows[n] = append(t.rows[n], i.Of.ID)
	}
	return t
}

func startCell(seconds int) any {
	if seconds == schedule.Unknown {
		return nil
	}
	return clock(seconds)
}

func lengthCell(seconds int) any {
	if seconds == 0 {
		return nil
	}
	return clock(seconds)
}

// showFills proposes kept pieces for the minutes that are left.
func (k *call) showFills(s shownConcert) error {
	all, err := k.evening()
	if err != nil {
		return err
	}
	seconds, unknown := schedule.Length(s.items)
	left := 60*s.Minutes - seconds
	fills := s.Fills(k.day, left, all)
	if k.page.format != "table" {
		return k.page.print(fillTable(fills))
	}
	much := clock(max(0, left)) + " (min:s)"
	if unknown > 0 {
		much = "at most " + much
	}
	switch {
	case left <= 0:
		k.say("The set fills its slot of %s; nothing is left.", plural(s.Minutes, "minute"))
		return nil
	case len(fills) == 0:
		k.say("No kept piece that is not in the set fits into what is left, %s.", much)
		return nil
	}
	k.say("%s: %s left of %s\n", s.Name, much, plural(s.Minutes, "minute"))
	if err := k.page.print(fillTable(fills)); err != nil {
		return err
	}
	k.say("\nTo put one in: dohra concert put %q ID", s.Name)
	return nil
}

// fillTable are the kept pieces that fit into the minutes left.
func fillTable(fills []schedule.Item) table {
	t := table{columns: []column{
		{key: "id", head: "id", right: true},
		{key: "title", head: "would fit, the surest first", grow: true},
		{key: "kind", head: "kind"},
		{key: "tala", head: "tala"},
		{key: "tempo", head: "matras/min", right: true},
		{key: "length", head: "min:s", right: true},
	}}
	for _, i := range fills {
		t.add(i.Of.ID, i.Of.Title, string(i.Of.Kind), i.Of.Tala, i.Tempo, clock(i.Seconds))
	}
	return t
}
