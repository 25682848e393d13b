package main

import (
	"dohra/schedule"
)

func showConcert(k *call) error {
	c, err := k.concert(words(k.Context))
	if err != nil {
		return err
	}
	pieces, err := k.piecesByID()
	if err != nil {
		return err
	}
	if k.Bool("arrange") {
		c.Set = c.Proposed(pieces)
	}
	items := c.Running(pieces)
	seconds, _ := schedule.Length(items)
	left := 60*c.Minutes - seconds
	if k.Bool("fill") {
		all, err := k.store.All()
		if err != nil {
			return err
		}
		return k.page.print(fillTable(c.Fills(left, all)))
	}
	if k.page.format == "html" {
		return concertSheet(k, c, items, seconds)
	}
	if k.page.format != "table" {
		return k.concertDocument(c, items)
	}
	k.say("%s, %s: %s of %d minutes\n", c.Name, c.Day.Short(), clock(seconds), c.Minutes)
	if len(c.Set) == 0 {
		k.say("Nothing is in the set yet. To put a piece in: dohra concert put %q PIECE", c.Name)
		return nil
	}
	if err := k.page.print(orderTable(items)); err != nil {
		return err
	}
	k.say("")
	k.sayConcerns(c, pieces)
	for _, remark := range c.Flow(items, pieces) {
		k.say("%s", remark)
	}
	if !k.Bool("arrange") {
		return k.sayReadiness(c)
	}
	k.say("This order is proposed. To take it: dohra concert edit %q --arrange", c.Name)
	return nil
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
		t.add(n+1, clock(i.Starts), i.Of.Title, string(i.Of.Kind), i.Of.Tala, i.Tempo, tempo(i.Rounds), lengthCell(i.Seconds))
	}
	return t
}

func lengthCell(seconds int) any {
	if seconds == 0 {
		return nil
	}
	return clock(seconds)
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
