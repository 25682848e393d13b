package main

import (
	"fmt"
	"math/big"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// A view is a piece's bols as they are to be shown.
type view struct {
	title string
	score *score   // nil without bols that read
	start *big.Rat // matras after a sam at which they begin
	slots []repertoire.Slot
	notes []string // what there is to say of the layout
	raw   string   // bols that do not read

	shares   []share
	families [][]member // its own, or none
}

// viewOf lays a piece out as the flags ask.
func viewOf(k *call, c schedule.Candidate) (view, error) {
	v := view{title: c.Title}
	signs, err := k.signs()
	if err != nil {
		return v, err
	}
	asked := k.IsSet("laya") || k.Bool("khali")
	if c.Bols == "" && asked {
		return v, refuse("%s has no bols", c.Title).trying("dohra edit %d --bols FILE", c.ID)
	}
	if c.Bols == "" {
		return v, nil
	}
	s, err := k.scoreOf(c.Piece)
	if err != nil && !asked {
		v.raw, v.notes = c.Bols, []string{err.Error()}
		return v, nil
	}
	if err != nil {
		return v, err
	}
	v.score = &s
	shown, speed := s.Notation, big.NewRat(1, 1)
	if k.Bool("khali") {
		shown = s.Khali()
		v.notes = append(v.notes, khaliNotes(s.Notation)...)
	}
	if k.IsSet("laya") {
		laya, err := repertoire.FindLaya(k.String("laya"))
		if err != nil {
			return v, refuse("%v", err)
		}
		speed = laya.Speed
		v.notes = append(v.notes, layaNote(s, laya))
	}
	start := repertoire.StartsAfter(s.piece.Kind, s.tala, s.Notation, speed)
	if speed.IsInt() && speed.Num().Int64() == 1 && !s.piece.Kind.Lands() {
		start = new(big.Rat) // as written it begins on sam, whether or not it fits
	}
	v.start = start
	v.slots = repertoire.LayOut(s.tala, shown, start, speed, signs)
	return v, nil
}

// layaNote says after how many matras a piece at a laya starts.
func layaNote(s score, laya repertoire.Laya) string {
	start := repertoire.StartsAfter(s.piece.Kind, s.tala, s.Notation, laya.Speed)
	takes, end := laya.Takes(len(s.Matras())), "so that it ends on sam"
	if s.piece.Kind.Lands() {
		end = "so that its last stroke falls on sam"
	}
	return fmt.Sprintf("%s: it takes %s and starts after %s, at %s, %s.",
		laya.Name, repertoire.Matras(takes), repertoire.Count(start), repertoire.Place(start), end)
}

// khaliNotes says where the khali that a piece writes differs from the one
// derived.
func khaliNotes(n repertoire.Notation) []string {
	differences, written := n.CompareKhali()
	switch {
	case !written:
		return []string{"Khali, derived: it writes no khali half of its own."}
	case len(differences) == 0:
		return []string{"Khali, derived: the khali half that it writes is the same."}
	}
	return append([]string{"Khali, derived. The khali half that it writes differs:"}, differences...)
}

// screen writes the piece for a terminal.
func (v view) screen(k *call, facts table, recent []schedule.Play, plays int) error {
	k.say("%s", v.title)
	const indent = 15
	for _, row := range facts.rows {
		value := wrap(cellText(row[1]), k.page.width-indent)
		k.say("  %-12s %s", row[0], strings.ReplaceAll(value, "\n", "\n"+strings.Repeat(" ", indent)))
	}
	if v.raw != "" {
		k.say("\n%s", indentLines(v.raw))
	}
	for i, note := range v.notes {
		if i == 0 {
			k.say("")
		}
		k.say("%s", wrap(note, k.page.width))
	}
	if len(v.slots) > 0 {
		k.say("")
		if err := k.page.printSlots(v.slots); err != nil {
			return err
		}
	}
	if len(v.families) > 0 {
		k.say("")
		if err := k.printFamilies(v.families); err != nil {
			return err
		}
	}
	if len(recent) == 0 {
		return nil
	}
	k.say("")
	if len(recent) < plays {
		k.say("The last %d of %d plays:\n", len(recent), plays)
	}
	return k.page.print(playTable(recent))
}

// document writes the piece as Markdown or HTML.
func (v view) document(k *call, facts table, plays []schedule.Play) error {
	k.page.heading(v.title)
	if err := k.page.print(facts); err != nil {
		return err
	}
	k.page.block(v.raw)
	for _, note := range v.notes {
		k.page.paragraph(note)
	}
	if len(v.slots) > 0 {
		if err := k.page.print(slotTable(v.slots)); err != nil {
			return err
		}
		k.page.block("")
	}
	if len(v.families) > 0 {
		if err := k.printFamilies(v.families); err != nil {
			return err
		}
		k.page.block("")
	}
	return k.page.print(playTable(plays))
}
