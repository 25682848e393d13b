package repertoire

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Titles and notes are one line each, at most this many characters.
const (
	MaxTitle = 120
	MaxNote  = 1000
	MaxBols  = 64 << 10 // bytes
)

// CleanTitle returns a title as it is kept: runs of white space become one
// space. It refuses an empty title, one over MaxTitle characters, digits alone,
// and what CheckLine refuses.
func CleanTitle(text string) (string, error) {
	title := strings.Join(strings.Fields(norm.NFC.String(text)), " ")
	switch {
	case title == "":
		return "", errors.New("a piece needs a title")
	case utf8.RuneCountInString(title) > MaxTitle:
		return "", fmt.Errorf("a title has at most %d characters", MaxTitle)
	case strings.Trim(title, "0123456789") == "":
		return "", fmt.Errorf("%q would be taken for an id; a title has letters", title)
	case Fold(title) == "":
		return "", fmt.Errorf("%q has no letter to find it by", title)
	}
	return title, CheckLine("a title", text)
}

// CleanTeacher returns the name of a teacher as it is kept: runs of white space
// become one space. It refuses one over MaxTitle characters and what CheckLine
// refuses. An empty name is no teacher.
func CleanTeacher(text string) (string, error) {
	teacher := strings.Join(strings.Fields(norm.NFC.String(text)), " ")
	if utf8.RuneCountInString(teacher) > MaxTitle {
		return "", fmt.Errorf("a teacher's name has at most %d characters", MaxTitle)
	}
	return teacher, CheckLine("a teacher's name", text)
}

// CleanNote returns a note as it is kept. It refuses one over MaxNote
// characters and what CheckLine refuses. An empty note is no note.
func CleanNote(text string) (string, error) {
	if utf8.RuneCountInString(text) > MaxNote {
		return "", fmt.Errorf("a note has at most %d characters", MaxNote)
	}
	return strings.TrimSpace(norm.NFC.String(text)), CheckLine("a note", text)
}

// CheckLine refuses text that is not UTF-8 or holds what could act on a
// terminal: control characters, escapes, and marks that turn the direction of
// writing. what names the text in the error.
func CheckLine(what, text string) error {
	if !utf8.ValidString(text) {
		return fmt.Errorf("%s must be UTF-8 text", what)
	}
	for _, r := range text {
		if Unprintable(r) {
			return fmt.Errorf("%s may not hold control or hidden characters (found %U)", what, r)
		}
	}
	return nil
}

// CheckBols refuses bols over MaxBols bytes and what CheckLine refuses, save
// that bols may run over lines and hold tabs.
func CheckBols(text string) error {
	if len(text) > MaxBols {
		return fmt.Errorf("the bols of a piece have at most %d KiB", MaxBols>>10)
	}
	return CheckLine("bols", strings.NewReplacer("\r\n", " ", "\n", " ", "\t", " ").Replace(text))
}

// Unprintable reports whether r could act on a terminal, or hide, rather than be
// read: controls, separators of lines, marks that format, private characters.
// The two joiners that Indic scripts need are printable.
func Unprintable(r rune) bool {
	if r == '\u200c' || r == '\u200d' {
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Zl, unicode.Zp)
}

// Fold returns the form in which titles are compared and looked for: without
// case, without Latin diacritics, with white space as single spaces. Two titles
// with one folded form are one title. Devanagari keeps its vowel signs, which
// are letters, not decoration.
func Fold(text string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(text) {
		if r >= '\u0300' && r <= '\u036f' {
			continue
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return strings.Join(strings.Fields(norm.NFC.String(b.String())), " ")
}
