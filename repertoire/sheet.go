package repertoire

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A sheet is a table of a spreadsheet in CSV: the first row names the columns,
// in any order; cells are parted by commas, semicolons or tabs.

// MaxSheet is the longest sheet that is read, in bytes: some two million plays.
const MaxSheet = 96 << 20

// A Fault is one cell that cannot be taken in, and what would do.
type Fault struct {
	Row    int // as a spreadsheet counts, the head being row 1
	Column string
	Value  string
	Want   string
}

// Faults are all that were found. Those over MaxFaults are only counted.
type Faults struct {
	List []Fault
	More int
}

// MaxFaults is how many faults are told.
const MaxFaults = 1000

// Add adds a fault.
func (f *Faults) Add(fault Fault) {
	fault.Value = brief(fault.Value)
	if len(f.List) < MaxFaults {
		f.List = append(f.List, fault)
		return
	}
	f.More++
}

// brief returns at most 40 letters of a text.
func brief(text string) string {
	const most = 40
	text = strings.ToValidUTF8(text[:min(len(text), (most+1)*utf8.UTFMax)], "\ufffd")
	if utf8.RuneCountInString(text) > most {
		return string([]rune(text)[:most]) + "..."
	}
	return text
}

// Count returns how many there are.
func (f *Faults) Count() int { return len(f.List) + f.More }

// A Sheet is a sheet that is being read.
type Sheet struct {
	Faults
	Ignored []string // columns that mean nothing here

	text   []byte
	comma  rune
	csv    *csv.Reader
	begin  int64          // of what csv reads, in text
	at     map[string]int // where each column stands
	heads  []string       // as they are written
	row    int
	offset int64
	cells  []string
}

// columnNames are other names under which columns come (common practice, no
// source).
var columnNames = map[string]string{
	"piece": "title", "name": "title", "composition": "title", "type": "kind", "form": "kind", "taal": "tala", "tal": "tala",
	"start tempo": "start", "goal tempo": "goal", "target": "goal", "target tempo": "goal", "first": "after", "comes after": "after",
	"piece name": "title", "piece title": "title", "guru": "teacher", "learned from": "teacher",
	"notes": "note", "remark": "note", "remarks": "note", "comment": "note", "comments": "note", "bol": "bols",
	"date": "day", "when": "day", "played": "day", "played on": "day", "bpm": "tempo", "speed": "tempo", "matras/min": "tempo", "matras per minute": "tempo",
	"tempo in bpm": "tempo", "quality": "clarity", "min": "minutes", "mins": "minutes", "minutes played": "minutes", "duration": "minutes", "lines": "line",
}

// OpenSheet reads the head of a sheet. known are the names of columns that mean
// something.
func OpenSheet(text []byte, known ...string) (*Sheet, error) {
	switch {
	case len(text) > MaxSheet:
		return nil, fmt.Errorf("it is longer than %d MiB", MaxSheet>>20)
	case bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")):
		return nil, errors.New("it is UTF-16; save it as UTF-8")
	}
	comma, text := separator(bytes.TrimPrefix(text, []byte("\ufeff")))
	s := &Sheet{text: text, comma: comma, at: map[string]int{}}
	s.readFrom(0)
	more, err := s.Next()
	if err != nil {
		return nil, err
	}
	if s.Count() > 0 {
		return nil, fmt.Errorf("row %d, which is to name the columns: %s", s.List[0].Row, strayQuote)
	}
	if !more {
		return nil, errors.New("it has no row that names its columns")
	}
	for i, head := range s.cells {
		name := columnName(head)
		s.heads = append(s.heads, brief(CleanCell(head)))
		if _, twice := s.at[name]; twice {
			return nil, fmt.Errorf("two columns are %s", name)
		}
		if !slices.Contains(known, name) {
			s.Ignored = append(s.Ignored, s.heads[i])
			continue
		}
		s.at[name] = i
	}
	return s, nil
}

// columnName returns our name for a column: without case, units or underscores.
func columnName(head string) string {
	name := Fold(strings.ReplaceAll(CleanCell(head), "_", " "))
	if cut := strings.IndexAny(name, ",("); cut > 0 {
		name = strings.TrimSpace(name[:cut])
	}
	if ours, ok := columnNames[name]; ok {
		return ours
	}
	return name
}

// separator returns what parts the cells, and the text: a first line sep=; says
// so, as some spreadsheets write it (from memory), or else the head tells.
func separator(text []byte) (rune, []byte) {
	first, rest, _ := bytes.Cut(text, []byte("\n"))
	if named, ok := bytes.CutPrefix(bytes.TrimRight(first, "\r"), []byte("sep=")); ok && len(named) == 1 && bytes.Contains([]byte(",;\t"), named) {
		return rune(named[0]), rest
	}
	best := ','
	for _, c := range []rune{';', '\t'} {
		if bytes.Count(first, []byte(string(c))) > bytes.Count(first, []byte(string(best))) {
			best = c
		}
	}
	return best, text
}

// Has reports whether the sheet has a column.
func (s *Sheet) Has(column string) bool { _, ok := s.at[column]; return ok }

// Need refuses a sheet that lacks a column.
func (s *Sheet) Need(columns ...string) error {
	for _, c := range columns {
		if !s.Has(c) {
			return fmt.Errorf("it has no column %s; it needs %s, and has %s", c, strings.Join(columns, ", "), brief(strings.Join(s.heads, ", ")))
		}
	}
	return nil
}

// readFrom makes the reader of what stands from there on.
func (s *Sheet) readFrom(begin int64) {
	s.csv = csv.NewReader(bytes.NewReader(s.text[begin:]))
	s.csv.Comma = s.comma
	s.csv.FieldsPerRecord = -1
	s.csv.ReuseRecord = true
	s.begin, s.offset = begin, begin
}

// Next goes to the next row that holds anything. False at the end. A row that
// breaks off at a stray quote is a fault, and the next line is read as if it
// were whole.
func (s *Sheet) Next() (bool, error) {
	for {
		cells, err := s.csv.Read()
		var bad *csv.ParseError
		switch {
		case err == io.EOF:
			return false, nil
		case errors.As(err, &bad):
			s.passOver()
			continue
		case err != nil:
			return false, err
		}
		s.count(cells)
		s.cells = cells
		if s.heads != nil {
			s.fit()
		}
		if slices.ContainsFunc(cells, holds) {
			return true, nil
		}
	}
}

func holds(cell string) bool { return strings.TrimSpace(cell) != "" }

// fit makes a fault of what stands beyond the columns of the head: of 60,5 there
// one half would be taken for the next cell.
func (s *Sheet) fit() {
	if beyond := s.cells[min(len(s.heads), len(s.cells)):]; slices.ContainsFunc(beyond, holds) {
		s.Add(Fault{s.row, "-", strings.Join(beyond, string(s.comma)), fmt.Sprintf("%d cells, as in the head; what holds a %q in quotes", len(s.heads), s.comma)})
	}
}

const strayQuote = `quotes in pairs: "a cell", and "" for a quote within one`

// passOver makes a fault of the next line that is not blank.
func (s *Sheet) passOver() {
	for {
		line, _, _ := bytes.Cut(s.text[s.offset:], []byte("\n"))
		s.offset = min(s.offset+int64(len(line))+1, int64(len(s.text)))
		s.row++
		if text := strings.TrimSpace(string(line)); text != "" || s.offset == int64(len(s.text)) {
			s.Add(Fault{s.row, "-", text, strayQuote})
			break
		}
	}
	s.readFrom(s.offset)
}

// count finds the row's number: the reader passes over blank lines, and a cell
// may run over lines, but a spreadsheet counts the first and not the second.
func (s *Sheet) count(cells []string) {
	end := s.begin + s.csv.InputOffset()
	lines := bytes.Count(s.text[s.offset:end], []byte("\n"))
	for _, c := range cells {
		lines -= strings.Count(c, "\n")
	}
	s.row += max(1, lines)
	s.offset = end
}

// Cell returns a cell of the row, or "".
func (s *Sheet) Cell(column string) string {
	i, ok := s.at[column]
	if !ok || i >= len(s.cells) {
		return ""
	}
	return CleanCell(s.cells[i])
}

// Row returns the number of the row.
func (s *Sheet) Row() int { return s.row }

// Done returns how much of the sheet was read, in bytes of how many.
func (s *Sheet) Done() (done, total int) { return int(s.offset), len(s.text) }

// Bad adds a fault of a cell of the row.
func (s *Sheet) Bad(column, want string) {
	s.Add(Fault{s.row, column, s.Cell(column), want})
}

// Int reads a cell that holds a whole number from least to most; an empty one
// is otherwise, unless that is -1.
func (s *Sheet) Int(column string, least, most, otherwise int) int {
	text := s.Cell(column)
	if text == "" && otherwise >= 0 {
		return otherwise
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < least || n > most || len(text) > 9 {
		s.Bad(column, fmt.Sprintf("a whole number from %d to %d", least, most))
		return least
	}
	return n
}

// Yes reads a cell that says yes, as 1, yes or x, or no, as 0, no or nothing.
func (s *Sheet) Yes(column string) bool {
	switch strings.ToLower(s.Cell(column)) {
	case "1", "yes", "y", "true", "x":
		return true
	case "", "0", "no", "n", "false", "-":
		return false
	}
	s.Bad(column, "yes, or nothing")
	return false
}

// CleanCell returns what a cell says: without spaces around it, and without the
// mark that SafeCell put before it.
func CleanCell(cell string) string {
	cell = strings.TrimSpace(cell)
	if rest, ok := strings.CutPrefix(cell, "'"); ok && acts(rest) {
		return rest
	}
	return cell
}

// SafeCell returns a cell that no spreadsheet takes for a formula: one that
// begins with = + - or @ has an apostrophe before it (common practice, from
// memory).
func SafeCell(cell string) string {
	if acts(cell) {
		return "'" + cell
	}
	return cell
}

func acts(cell string) bool {
	cell = strings.TrimLeft(cell, "'\t\r\n ")
	return cell != "" && strings.ContainsRune("=+-@", rune(cell[0]))
}
