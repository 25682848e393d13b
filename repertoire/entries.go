package repertoire

import (
	"fmt"
	"strings"
)

// entryColumns are those of a sheet of pieces.
var entryColumns = []string{"title", "kind", "tala", "start", "goal", "after", "teacher", "note", "bols"}

// A RowEntry is a piece of a sheet.
type RowEntry struct {
	Row int
	Entry
}

// ReadEntries reads a sheet of pieces. known are the talas. Faults are in the
// sheet; an error is one of the sheet as a whole.
func ReadEntries(text []byte, known []Tala) (entries []RowEntry, s *Sheet, err error) {
	if s, err = OpenSheet(text, entryColumns...); err != nil {
		return nil, nil, err
	}
	if err := s.Need("title", "kind", "tala", "goal"); err != nil {
		return nil, nil, err
	}
	rows := map[string]int{}
	for {
		more, err := s.Next()
		if err != nil || !more {
			return entries, s, err
		}
		e := s.entry(known)
		if first, twice := rows[Fold(e.Title)]; twice {
			s.Bad("title", fmt.Sprintf("another title; row %d has it", first))
		}
		rows[Fold(e.Title)] = s.row
		entries = append(entries, RowEntry{s.row, e})
	}
}

// entry reads a row.
func (s *Sheet) entry(known []Tala) (e Entry) {
	var err error
	if e.Title, err = CleanTitle(s.Cell("title")); err != nil {
		s.Bad("title", "a title: "+err.Error())
	}
	if e.Kind, err = ParseKind(s.Cell("kind")); err != nil {
		s.Bad("kind", "one of "+kindNames())
	}
	if tala, err := FindTala(s.Cell("tala"), known); err != nil {
		s.Bad("tala", "one of "+talaNames(known))
	} else {
		e.Tala = tala.Name
	}
	faults := s.Count()
	e.Goal = s.Int("goal", MinTempo, MaxTempo, -1)
	if e.Start = s.Int("start", MinTempo, MaxTempo, 0); e.Start > e.Goal && s.Count() == faults {
		s.Bad("start", fmt.Sprintf("at most the goal, %d", e.Goal))
	}
	if e.Teacher, err = CleanTeacher(s.Cell("teacher")); err != nil {
		s.Bad("teacher", err.Error())
	}
	if e.Note, err = CleanNote(s.Cell("note")); err != nil {
		s.Bad("note", err.Error())
	}
	if e.Bols, err = CleanBols(s.Cell("bols")); err != nil {
		s.Bad("bols", err.Error())
	}
	e.After = strings.Join(strings.Fields(s.Cell("after")), " ")
	return e
}

// SheetOf returns entries as rows of a sheet, the head first.
func SheetOf(entries []Entry) [][]string {
	rows := [][]string{entryColumns}
	for _, e := range entries {
		rows = append(rows, []string{e.Title, string(e.Kind), e.Tala, fmt.Sprint(e.Start), fmt.Sprint(e.Goal), e.After, e.Teacher, e.Note, e.Bols})
	}
	return rows
}
