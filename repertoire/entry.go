package repertoire

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
)

// An Entry is a piece as it travels: without its plays, and with the title of
// the piece that must come first in the place of an id.
type Entry struct {
	Title   string `toml:"title" json:"title"`
	Kind    Kind   `toml:"kind" json:"kind"`
	Tala    string `toml:"tala" json:"tala"`
	Start   int    `toml:"start,omitempty" json:"start_tempo"` // matras/min
	Goal    int    `toml:"goal" json:"goal_tempo"`             // matras/min
	After   string `toml:"after,omitempty" json:"after"`
	Teacher string `toml:"teacher,omitempty" json:"teacher,omitempty"`
	Note    string `toml:"note,omitempty" json:"note"`
	Bols    string `toml:"bols,omitempty,multiline" json:"bols"`
}

// Check refuses what CleanTitle, CleanTeacher, CleanNote, CheckBols and the
// check of a piece refuse, and a title, teacher or note that is not written as
// it is kept.
func (e Entry) Check() error {
	title, err := CleanTitle(e.Title)
	if err != nil {
		return err
	}
	if title != e.Title {
		return fmt.Errorf("the title %q is not as it would be kept", e.Title)
	}
	if err := e.check(); err != nil {
		return fmt.Errorf("%s: %w", e.Title, err)
	}
	return nil
}

// check is Check of all but the title.
func (e Entry) check() error {
	teacher, teacherErr := CleanTeacher(e.Teacher)
	if teacherErr == nil && teacher != e.Teacher {
		teacherErr = fmt.Errorf("the teacher's name %q is not as it would be kept", e.Teacher)
	}
	note, noteErr := CleanNote(e.Note)
	if noteErr == nil && note != e.Note {
		noteErr = errors.New("the note has spaces around it")
	}
	err := cmp.Or(teacherErr, noteErr, CheckBols(e.Bols), CheckLine("the tala", e.Tala), CheckLine("a title", e.After))
	if err != nil {
		return err
	}
	return Piece{Title: e.Title, Kind: e.Kind, Start: e.Start, Goal: e.Goal}.Check()
}

// Over returns the entry with what it leaves unsaid taken from other.
func (e Entry) Over(other Entry) Entry {
	if e.Start == 0 {
		e.Start = min(other.Start, e.Goal)
	}
	for _, field := range []struct {
		own   *string
		other string
	}{{&e.After, other.After}, {&e.Teacher, other.Teacher}, {&e.Note, other.Note}, {&e.Bols, other.Bols}} {
		if *field.own == "" {
			*field.own = field.other
		}
	}
	return e
}

// Differs tells field by field in what the entry is not as other.
func (e Entry) Differs(other Entry) string {
	var all []string
	for _, field := range []struct {
		name       string
		own, other any
		long       bool
	}{
		{"title", e.Title, other.Title, false}, {"kind", e.Kind, other.Kind, false},
		{"tala", e.Tala, other.Tala, false},
		{"start", e.Start, other.Start, false}, {"goal", e.Goal, other.Goal, false},
		{"after", Fold(e.After), Fold(other.After), true},
		{"teacher", e.Teacher, other.Teacher, true}, {"note", e.Note, other.Note, true}, {"bols", e.Bols, other.Bols, true},
	} {
		switch {
		case field.own == field.other:
		case field.long:
			all = append(all, field.name)
		default:
			all = append(all, fmt.Sprintf("%s %v (now %v)", field.name, field.own, field.other))
		}
	}
	return strings.Join(all, ", ")
}
