package main

import (
	"fmt"
	"strings"

	"dohra/schedule"
)

// What happened at a concert is what the plays of its day say: those that were
// logged with it, or else the last of each piece.

// A happening is what the plays of a concert's day say of its pieces.
type happening struct {
	concert schedule.Concert
	logged  bool // in one go, by concert played
	plays   map[int64]schedule.Play
}

// mark is the note of a play that was logged with a concert.
func mark(c schedule.Concert) string { return "at " + c.Name }

func (k *call) happened(c schedule.Concert) (h happening, err error) {
	h = happening{concert: c, plays: map[int64]schedule.Play{}}
	if c.Day > k.day {
		return h, nil
	}
	plays, err := k.store.PlaysOn(c.Day)
	for _, p := range plays {
		if c.At(p.Piece) < 0 || p.Spoken || p.Line > 0 {
			continue
		}
		h.logged = h.logged || p.Note == mark(c)
		if p.Note == mark(c) || !h.has(p.Piece) {
			h.plays[p.Piece] = p
		}
	}
	return h, err
}

// has reports whether a piece was logged with the concert.
func (h happening) has(piece int64) bool { return h.plays[piece].Note == mark(h.concert) }

// over reports whether a concert is done with: its day is past, or it is logged.
func (k *call) over(h happening) bool { return h.concert.Day < k.day || h.logged }

// went says how a play went against what its place needed, and whether it was
// as needed.
func went(need schedule.Place, p schedule.Play) (how string, good bool) {
	switch slower := need.Tempo - p.Tempo; {
	case p.Clarity < schedule.Clear:
		return "not clear", false
	case slower > 0:
		return fmt.Sprintf("clear, %d slower", slower), false
	}
	return "as needed", true
}

// good counts the pieces that came out as needed.
func (h happening) good() (n int) {
	for _, place := range h.concert.Set {
		p, there := h.plays[place.Piece]
		if _, good := went(place, p); there && good {
			n++
		}
	}
	return n
}

// String says in a few words what came of the concert.
func (h happening) String() string {
	if !h.logged {
		return "not logged"
	}
	return fmt.Sprintf("%d of %d as needed", h.good(), len(h.concert.Set))
}

// remarks say what came of the concert, a sentence each.
func (h happening) remarks() (lines []string) {
	switch {
	case len(h.concert.Set) == 0:
	case len(h.plays) == 0:
		lines = append(lines, fmt.Sprintf("What came of it is not logged. To log it: dohra concert played %q", h.concert.Name))
	case !h.logged:
		lines = append(lines, fmt.Sprintf("These are plays of its day; the concert itself is not logged. To log it: dohra concert played %q", h.concert.Name))
	default:
		line := fmt.Sprintf("%d of %d came out clear at the tempo needed", h.good(), len(h.concert.Set))
		if missing := len(h.concert.Set) - len(h.plays); missing > 0 {
			line += fmt.Sprintf("; of %s nothing is logged", plural(missing, "piece"))
		}
		lines = append(lines, line+".")
	}
	if h.concert.Note != "" {
		lines = append(lines, "Note: "+h.concert.Note)
	}
	return lines
}

// table is what was played at each place, and how it went.
func (h happening) table(items []schedule.Item) table {
	t := table{columns: []column{
		{key: "place", head: "", right: true},
		{key: "title", head: "\npiece", grow: true},
		{key: "kind", head: "\nkind"},
		{key: "needed", head: "matras/min\nneeded", right: true},
		{key: "played_tempo", head: "\nplayed", right: true},
		{key: "clarity", head: "\nclarity"},
		{key: "went", head: "\nhow it went"},
	}}
	for n, i := range items {
		tempo, clarity, how := h.cells(i.Place)
		t.add(n+1, i.Of.Title, string(i.Of.Kind), i.Tempo, tempo, clarity, how)
	}
	return t
}

// cells are what was played at a place, nothing where that is not known.
func (h happening) cells(place schedule.Place) (tempo, clarity, how any) {
	p, there := h.plays[place.Piece]
	if !there {
		return nil, nil, nil
	}
	text, _ := went(place, p)
	return p.Tempo, p.Clarity.String(), text
}

// A lastTime is how a piece went at the last concert that it stood in.
type lastTime struct {
	schedule.Play
	concert schedule.Concert
}

// String says so, without the piece.
func (l lastTime) String() string { return fmt.Sprintf("%s at %d", l.Clarity, l.Tempo) }

// lastTimes returns, for the pieces of a set, how they went at the last concert
// before it that was logged.
func (k *call) lastTimes(c schedule.Concert) (map[int64]lastTime, error) {
	concerts, err := k.store.Concerts() // by day
	last := map[int64]lastTime{}
	for _, earlier := range concerts {
		if err != nil || earlier.Day >= c.Day {
			break
		}
		var h happening
		if h, err = k.happened(earlier); !h.logged {
			continue
		}
		for piece, p := range h.plays {
			if c.At(piece) >= 0 {
				last[piece] = lastTime{p, earlier}
			}
		}
	}
	return last, err
}

// lastLines tell of the last times, a line a concert.
func lastLines(items []schedule.Item, last map[int64]lastTime) (lines []string) {
	byConcert := map[string][]string{}
	var order []schedule.Concert
	for _, i := range items {
		if l, there := last[i.Piece]; there {
			if byConcert[l.concert.Name] == nil {
				order = append(order, l.concert)
			}
			byConcert[l.concert.Name] = append(byConcert[l.concert.Name], i.Of.Title+" "+l.String())
		}
	}
	for _, c := range order {
		lines = append(lines, fmt.Sprintf("Last time, at %s on %s: %s.", c.Name, c.Day.Short(), strings.Join(byConcert[c.Name], ", ")))
	}
	return lines
}
