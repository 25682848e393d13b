package repertoire

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// How players write bols, as it is read here. Groups separated by spaces are
// matras, and the syllables of a group share it evenly (common practice, no
// source). A bar closes a vibhag, a new line a line. -, S and ऽ are pauses of
// one share. (...)x3 repeats. A comma may part syllables. Capitals and
// diacritics are ignored, and scripts may be mixed.

// MaxStrokes is the most strokes and pauses that a composition may have once its
// repeats are written out.
const MaxStrokes = 4096

// longestGroup is the most letters that one matra may be written with.
const longestGroup = 256

// A ReadError says which word could not be read, and where: line and matra are
// counted from 1, matras within the line.
type ReadError struct {
	Line, Matra int
	Word        string
	Near        []string // the nearest known spellings
}

// longestQuote is how many letters of a word that cannot be read are repeated.
const longestQuote = 24

func (e *ReadError) Error() string {
	word := []rune(e.Word)
	if len(word) > longestQuote {
		word = append(word[:longestQuote:longestQuote], '…')
	}
	text := fmt.Sprintf("line %d, matra %d: %q is no bol known here", e.Line, e.Matra, string(word))
	if len(e.Near) > 0 {
		text += "; the nearest are " + strings.Join(e.Near, ", ")
	}
	return text
}

// ReadBols reads a composition. The error is a ReadError for a word that is not
// known; another for text over MaxBols bytes or MaxStrokes strokes, for a
// repeat that is not closed or counted, and for text without a stroke.
func ReadBols(text string) (Notation, error) {
	if err := CheckBols(text); err != nil {
		return Notation{}, err
	}
	if text == "" {
		return Notation{}, errNoBols
	}
	r := reader{lex: theLexicon(), text: text, line: 1}
	body, err := r.sequence(0)
	if err != nil {
		return Notation{}, err
	}
	n := assemble(body)
	n.settle(r.lex)
	if len(n.Strokes()) == 0 {
		return Notation{}, errNoBols
	}
	return n, nil
}

var errNoBols = errors.New("there is no bol in it")

// An item is what a sequence is made of: a matra, a bar, or the end of a line.
type item struct {
	kind  itemKind
	matra Matra
}

type itemKind int

const (
	matraItem itemKind = iota
	barItem
	lineItem
)

// A reader goes through the text once, from left to right.
type reader struct {
	lex         *lexicon
	text        string // what is left
	line, matra int
	cells       int // strokes and pauses so far
	marks       int // bars and ends of lines so far
}

// deepest is how far repeats may stand within repeats.
const deepest = 8

// sequence reads up to the end of the text, or of the repeat it is in.
func (r *reader) sequence(depth int) ([]item, error) {
	var items []item
	for r.text != "" {
		c, size := utf8.DecodeRuneInString(r.text)
		switch {
		case c == '\n':
			r.skip(size)
			r.line, r.matra = r.line+1, 0
			if err := r.count(0, 1); err != nil {
				return nil, err
			}
			items = append(items, item{kind: lineItem})
		case unicode.IsSpace(c):
			r.skip(size)
		case c == '|' || c == '।' || c == '॥':
			r.skip(size)
			if err := r.count(0, 1); err != nil {
				return nil, err
			}
			items = append(items, item{kind: barItem})
		case c == '(':
			r.skip(size)
			repeated, err := r.repeat(depth + 1)
			if err != nil {
				return nil, err
			}
			items = append(items, repeated...)
		case c == ')':
			if depth == 0 {
				return nil, fmt.Errorf("line %d: a ) closes nothing", r.line)
			}
			return items, nil
		default:
			matra, err := r.group()
			if err != nil {
				return nil, err
			}
			if len(matra.Cells) > 0 {
				items = append(items, item{kind: matraItem, matra: matra})
			}
		}
	}
	if depth > 0 {
		return nil, fmt.Errorf("line %d: a ( is not closed", r.line)
	}
	return items, nil
}

func (r *reader) skip(n int) { r.text = r.text[n:] }

// repeat reads what stands in brackets, and how often it is played.
func (r *reader) repeat(depth int) ([]item, error) {
	if depth > deepest {
		return nil, fmt.Errorf("line %d: repeats within repeats go no deeper than %d", r.line, deepest)
	}
	line, cells, marks := r.line, r.cells, r.marks
	items, err := r.sequence(depth)
	if err != nil {
		return nil, err
	}
	r.skip(len(")"))
	times, err := r.times(line)
	if err != nil {
		return nil, err
	}
	if err := r.count((r.cells-cells)*(times-1), (r.marks-marks)*(times-1)); err != nil {
		return nil, err
	}
	return slices.Repeat(items, times), nil
}

// times reads the x3 behind a repeat.
func (r *reader) times(line int) (int, error) {
	rest := strings.TrimLeft(r.text, " \t")
	c, size := utf8.DecodeRuneInString(rest)
	if c == 'x' || c == 'X' || c == '×' {
		digits := strings.TrimLeft(rest[size:], " \t")
		end := strings.IndexFunc(digits, func(r rune) bool { return r < '0' || r > '9' })
		if end < 0 {
			end = len(digits)
		}
		if n, err := strconv.Atoi(digits[:end]); err == nil && n >= 1 && n <= MaxStrokes {
			r.text = digits[end:]
			return n, nil
		}
	}
	return 0, fmt.Errorf("line %d: a ) is followed by how often, 1 to %d times, as in (dha ge)x3", line, MaxStrokes)
}

// count adds strokes and pauses, and bars and ends of lines, so that repeats
// cannot grow without bound.
func (r *reader) count(cells, marks int) error {
	r.cells += cells
	r.marks += marks
	switch {
	case r.cells > MaxStrokes:
		return fmt.Errorf("the bols have more than %d strokes", MaxStrokes)
	case r.marks > 2*MaxStrokes:
		return fmt.Errorf("the bols have more than %d bars and lines", 2*MaxStrokes)
	}
	return nil
}

// group reads one matra.
func (r *reader) group() (Matra, error) {
	end := strings.IndexFunc(r.text, func(c rune) bool { return unicode.IsSpace(c) || strings.ContainsRune("|।॥()", c) })
	if end < 0 {
		end = len(r.text)
	}
	group := r.text[:end]
	r.skip(end)
	r.matra++
	if utf8.RuneCountInString(group) > longestGroup {
		return Matra{}, fmt.Errorf("line %d, matra %d: a matra has at most %d letters", r.line, r.matra, longestGroup)
	}
	cells, ok := r.lex.group(group)
	if !ok {
		return Matra{}, &ReadError{r.line, r.matra, group, r.lex.nearest(group)}
	}
	if len(cells) == 0 { // only commas
		r.matra--
	}
	return Matra{Cells: cells, Text: strings.Trim(group, ",")}, r.count(len(cells), 0)
}

// group splits a group into cells.
func (lex *lexicon) group(group string) (cells []Cell, ok bool) {
	for part := range strings.SplitSeq(group, ",") {
		plain := plainBols(part)
		if s, isAlone := lex.alone[plain]; isAlone && plain == plainBols(group) {
			cells = append(cells, s.cells()...)
			continue
		}
		read, ok := lex.syllables(plain, 0, map[int]bool{})
		if !ok {
			return nil, false
		}
		cells = append(cells, read...)
	}
	return cells, true
}

func (s sound) cells() []Cell {
	cells := make([]Cell, len(s.strokes))
	for i, stroke := range s.strokes {
		cells[i] = Cell{stroke, s.printed[i]}
	}
	return cells
}

const pause = "-"

// syllables reads plain from a byte on as spellings and pauses, the longest
// spelling first. dead holds the places from which nothing could be read.
func (lex *lexicon) syllables(plain string, from int, dead map[int]bool) ([]Cell, bool) {
	if from == len(plain) {
		return nil, true
	}
	if dead[from] {
		return nil, false
	}
	if c, size := utf8.DecodeRuneInString(plain[from:]); strings.ContainsRune("-–—sऽ", c) {
		if rest, ok := lex.syllables(plain, from+size, dead); ok {
			return append([]Cell{{nil, pause}}, rest...), true
		}
	}
	for end := min(len(plain), from+lex.longest); end > from; end-- {
		s, known := lex.sounds[plain[from:end]]
		if !known || combines(plain[end:]) {
			continue
		}
		if rest, ok := lex.syllables(plain, end, dead); ok {
			return append(s.cells(), rest...), true
		}
	}
	dead[from] = true
	return nil, false
}

// combines reports whether text goes on with a sign that belongs to the letter
// before it, so that no spelling ends there.
func combines(text string) bool {
	c, _ := utf8.DecodeRuneInString(text)
	return unicode.Is(unicode.M, c)
}

// nearest returns the known spellings nearest to a word, in its own script.
func (lex *lexicon) nearest(word string) []string {
	const most = 3
	plain := plainBols(word)
	far := min(3, utf8.RuneCountInString(plain))
	type near struct {
		spelling string
		far      int
	}
	var all []near
	for spelling := range lex.sounds {
		if isDevanagari(spelling) == isDevanagari(plain) {
			if d := levenshtein.ComputeDistance(plain, spelling); d < far {
				all = append(all, near{spelling, d})
			}
		}
	}
	slices.SortFunc(all, func(a, b near) int {
		if a.far != b.far {
			return a.far - b.far
		}
		return strings.Compare(a.spelling, b.spelling)
	})
	var names []string
	for _, n := range all[:min(len(all), most)] {
		names = append(names, n.spelling)
	}
	return names
}

// assemble puts items into lines. Empty lines are passed over.
func assemble(items []item) Notation {
	var n Notation
	var line Line
	end := func() {
		if len(line.Matras) > 0 {
			n.Lines = append(n.Lines, line)
		}
		line = Line{}
	}
	for _, it := range items {
		switch it.kind {
		case matraItem:
			line.Matras = append(line.Matras, it.matra)
		case barItem:
			if at := len(line.Matras); at > 0 && (len(line.Bars) == 0 || line.Bars[len(line.Bars)-1] < at) {
				line.Bars = append(line.Bars, at)
			}
		case lineItem:
			end()
		}
	}
	end()
	return n
}
