package repertoire

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

// A Pack is pieces to hand on, with the talas that they need, in TOML that a
// person can read and edit. It holds no plays.
type Pack struct {
	Talas  []Tala  `toml:"tala,omitempty"`
	Pieces []Entry `toml:"piece,omitempty"`
}

// MaxPack is the longest pack that is read, in bytes.
const MaxPack = 4 << 20

// MaxTalas is how many talas of a player's own are read, for every piece's is
// looked for among them.
const MaxTalas = 200

const packHeader = `# Pieces for dohra. Tempos are in matras/min. To take them in:
# dohra import FILE --dry-run, which shows what is new; then without --dry-run.

`

// Bytes returns the pack as it is written.
func (p Pack) Bytes() ([]byte, error) {
	text, err := toml.Marshal(p)
	return append([]byte(packHeader), text...), err
}

// ReadPack reads a pack. Titles, teachers, notes and bols are returned as they are kept; a
// piece without a start tempo has 0 there. What cannot be read, or could act on
// a terminal, is refused with its place.
func ReadPack(text []byte) (p Pack, err error) {
	if len(text) > MaxPack {
		return p, fmt.Errorf("it is longer than %d MiB", MaxPack>>20)
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if !utf8.Valid(text) {
		return p, errors.New("it is not UTF-8 text")
	}
	if err := checkKeys(string(text)); err != nil {
		return p, err
	}
	if err := toml.Unmarshal(text, &p); err != nil {
		var bad *toml.DecodeError
		if errors.As(err, &bad) {
			line, _ := bad.Position()
			return p, fmt.Errorf("line %d: %s", line, plainTOML(bad))
		}
		return p, fmt.Errorf("it does not read: %s", strings.TrimPrefix(err.Error(), "toml: "))
	}
	if len(p.Talas) > MaxTalas {
		return p, fmt.Errorf("it has %d talas; at most %d are read", len(p.Talas), MaxTalas)
	}
	for i := range p.Talas {
		if p.Talas[i].Name, err = CleanTitle(p.Talas[i].Name); err == nil {
			err = p.Talas[i].Check()
		}
		if err != nil {
			return p, fmt.Errorf("tala %d: %w", i+1, err)
		}
	}
	titles := map[string]bool{}
	for i := range p.Pieces {
		if p.Pieces[i], err = p.Pieces[i].clean(); err != nil {
			return p, fmt.Errorf("piece %d, %q: %w", i+1, p.Pieces[i].Title, err)
		}
		if titles[Fold(p.Pieces[i].Title)] {
			return p, fmt.Errorf("piece %d, %q: it is there twice", i+1, p.Pieces[i].Title)
		}
		titles[Fold(p.Pieces[i].Title)] = true
	}
	return p, nil
}

// plainTOML words an error of reading TOML for a player.
func plainTOML(bad *toml.DecodeError) string {
	message := strings.TrimPrefix(bad.Error(), "toml: ")
	if kind, ok := strings.CutPrefix(message, "cannot decode TOML "); ok && len(bad.Key()) > 0 {
		kind, _, _ = strings.Cut(kind, " ")
		return fmt.Sprintf("%s cannot be a TOML %s", bad.Key()[len(bad.Key())-1], kind)
	}
	return message
}

var packKeys = []string{"title", "kind", "tala", "start", "goal", "after", "teacher", "note", "bols", "name", "vibhags", "tali", "khali", "theka"}

// checkKeys refuses, by its line, what has no meaning in a pack. A file of
// nothing else would also keep the TOML library busy for very long.
func checkKeys(text string) error {
	within := "" // what closes the string that runs over lines
	for i, line := range strings.Split(text, "\n") {
		head := strings.TrimSpace(line)
		key, _, isKey := strings.Cut(head, "=")
		key = strings.TrimSpace(key)
		switch table := strings.TrimSpace(strings.SplitN(head, "#", 2)[0]); {
		case within != "", table == "", table == "[[piece]]", table == "[[tala]]":
		case strings.ContainsRune("0123456789],", rune(head[0])): // a list runs on
		case head[0] == '[':
			return fmt.Errorf("line %d: %.40q has no meaning in a pack; a piece begins with [[piece]], a tala with [[tala]]", i+1, table)
		case isKey && strings.ContainsAny(head, "\u201c\u201d") && !strings.ContainsAny(head, `"'`):
			return fmt.Errorf(`line %d: quotes are straight in a pack, as in title = "Mill gat"`, i+1)
		case !isKey || !slices.Contains(packKeys, key):
			return fmt.Errorf("line %d: %.40q has no meaning in a pack; a piece has %s", i+1, key, strings.Join(packKeys[:9], ", "))
		}
		within = openString(line, within)
	}
	return nil
}

// openString returns what closes the string that is still open after line.
func openString(line, within string) string {
	for {
		if within == "" {
			at := strings.IndexAny(line, `"'#`)
			if at < 0 || line[at] == '#' {
				return ""
			}
			within = line[at : at+1]
			if long := strings.Repeat(within, 3); strings.HasPrefix(line[at:], long) {
				within = long
			}
			line = line[at+len(within):]
		}
		at := strings.Index(line, within)
		if at < 0 {
			if len(within) == 1 {
				return "" // which the TOML library will refuse
			}
			return within
		}
		line, within = line[at+len(within):], ""
	}
}

// clean returns the entry as it is kept.
func (e Entry) clean() (_ Entry, err error) {
	if e.Title, err = CleanTitle(e.Title); err != nil {
		return e, err
	}
	if e.Teacher, err = CleanTeacher(e.Teacher); err != nil {
		return e, err
	}
	if e.Note, err = CleanNote(e.Note); err != nil {
		return e, err
	}
	if e.Kind, err = ParseKind(string(e.Kind)); err != nil {
		return e, err
	}
	if e.Tala == "" {
		return e, errors.New("it has no tala")
	}
	if e.Goal == 0 {
		return e, errors.New("it has no goal, the tempo in matras/min at which it counts as mastered")
	}
	if e.Bols, err = CleanBols(e.Bols); err != nil {
		return e, err
	}
	e.After = strings.Join(strings.Fields(e.After), " ")
	checked := e
	if e.Start == 0 {
		checked.Start = e.Goal
	}
	return e, checked.check()
}

// CleanBols returns bols as they are kept, and refuses those that do not read.
func CleanBols(text string) (string, error) {
	bols := strings.NewReplacer("\r\n", "\n", "\t", " ").Replace(text)
	bols = strings.Trim(strings.TrimPrefix(bols, "\ufeff"), "\n")
	if bols = strings.TrimRight(bols, " \n"); bols == "" {
		return "", nil
	}
	if _, err := ReadBols(bols); err != nil {
		return "", fmt.Errorf("the bols: %w", err)
	}
	return bols, nil
}
