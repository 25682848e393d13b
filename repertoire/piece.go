// Package repertoire knows the music: what a piece is, its kind, its tala and
// its bols. It is pure: no clock, no files, no printing.
package repertoire

import (
	"fmt"
	"slices"
	"strings"
)

// Tempo is counted in matras per minute, from MinTempo to MaxTempo.
const (
	MinTempo = 20
	MaxTempo = 400
)

// A Piece is one thing to keep: a composition, or a part worth keeping alone.
type Piece struct {
	ID      int64
	Title   string // one line, unique once folded
	Kind    Kind
	Tala    string // the name of a tala
	Start   int    // start tempo, matras/min: where a new piece begins
	Goal    int    // goal tempo, matras/min: where it counts as mastered
	After   int64  // the piece that must come first, or 0
	Teacher string // one line: whom it was learned from, or ""
	Bols    string // as the player wrote them, or ""
	Matras  int    // of the bols, 0 without; see Length
	Note    string

	Added   Day   // the day it came into the repertoire
	Resting Day   // the day it was set aside; Never, or zero, of one that is not
	Edited  int64 // when the player last changed it, Unix seconds, or 0
}

// Rests reports whether the piece is set aside on day.
func (p Piece) Rests(day Day) bool { return p.Resting > 0 && p.Resting <= day }

// CheckTempo refuses a tempo outside MinTempo to MaxTempo. what names it.
func CheckTempo(what string, tempo int) error {
	if tempo < MinTempo || tempo > MaxTempo {
		return fmt.Errorf("%s %d is outside %d to %d matras/min", what, tempo, MinTempo, MaxTempo)
	}
	return nil
}

// Length returns how many matras the bols have, 0 when there are none or they
// do not read.
func Length(bols string) int {
	if bols == "" {
		return 0
	}
	n, err := ReadBols(bols)
	if err != nil {
		return 0
	}
	return len(n.Matras())
}

// Check refuses a piece whose start tempo is above its goal tempo, or either
// out of range, or whose kind is unknown.
func (p Piece) Check() error {
	if err := CheckTempo("goal tempo", p.Goal); err != nil {
		return err
	}
	if err := CheckTempo("start tempo", p.Start); err != nil {
		return err
	}
	if p.Start > p.Goal {
		return fmt.Errorf("start tempo %d is above goal tempo %d", p.Start, p.Goal)
	}
	_, err := ParseKind(string(p.Kind))
	return err
}

// A Kind is the form of a composition.
type Kind string

// Kinds are the forms that are known, in the order in which a solo brings them, a
// family by its first: peshkar or uthan, kaidas with what belongs to them, gats,
// tukdas, chakradars, relas (common practice; public lesson pages). Where the
// others stand among them is our choice; those outside a solo come last.
var Kinds = []Kind{
	"theka", "uthan", "peshkar", "kaida", "palta", "tihai", "mohra", "mukhda",
	"gat", "tukda", "paran", "chakradar", "rela", "laggi", "exercise",
}

// Order returns the place of the kind among Kinds.
func (k Kind) Order() int { return slices.Index(Kinds, k) }

// ParseKind reads a kind, in any case. The error lists the kinds.
func ParseKind(text string) (Kind, error) {
	kind := Kind(Fold(text))
	if slices.Contains(Kinds, kind) {
		return kind, nil
	}
	return "", fmt.Errorf("%q is no kind; the kinds are %s", text, kindNames())
}

func kindNames() string {
	names := make([]string, len(Kinds))
	for i, k := range Kinds {
		names[i] = string(k)
	}
	return strings.Join(names, ", ")
}
