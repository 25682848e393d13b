package main

// Everything that is laid out in columns is laid out here. The rules of the
// screen:
//
//   - 80 columns are enough for every table; a wider terminal gives the growing
//     column more room, nothing else changes. What is too long is wrapped, never
//     cut.
//   - No colour, so a pipe and a screen get the same.
//   - A dash where nothing is known; an empty cell in CSV, null in JSON.
//   - Numbers stand to the right, and their header names the unit.
//   - No text from a file reaches a terminal before harmless has seen it.

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
	"golang.org/x/term"

	"dohra/repertoire"
)

// A page is where an answer goes, and in which format. HTML is held back until
// the page is closed, for it needs a frame.
type page struct {
	w      io.Writer
	format string
	width  int

	terminal bool // a person reads it, and not a program
	html     *bytes.Buffer
	out      io.Writer
}

var formats = []string{"table", "markdown", "csv", "json", "html"}

const leastWidth = 80

func newPage(w io.Writer, format string) (page, error) {
	if !slices.Contains(formats, format) {
		return page{}, misuse("there is no format %q; the formats are %s", format, strings.Join(formats, ", "))
	}
	p := page{w: w, format: format, width: leastWidth, out: w}
	if f, ok := w.(*os.File); ok {
		if columns, _, err := term.GetSize(int(f.Fd())); err == nil {
			p.width, p.terminal = max(leastWidth, columns), true
		}
	}
	if format == "html" {
		p.html = new(bytes.Buffer)
		p.w = p.html
	}
	return p, nil
}

// close writes what was held back.
func (p page) close() error {
	if p.html == nil || p.html.Len() == 0 {
		return nil
	}
	_, err := fmt.Fprintf(p.out, "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n<title>dohra</title>\n%s</html>\n", p.html)
	return err
}

// A column of a table. key is its name for machines, in snake_case.
type column struct {
	key, head string
	right     bool // a number: aligned right
	grow      bool // takes the width that is left, and wraps
}

// A table is rows of cells: a string, an int, a bool, or nil where nothing is
// known.
type table struct {
	columns []column
	rows    [][]any
}

func (t *table) add(cells ...any) { t.rows = append(t.rows, cells) }

// print writes the table in the page's format.
func (p page) print(t table) error {
	switch p.format {
	case "csv":
		return t.csv(p.w)
	case "json":
		return p.json(t)
	case "markdown":
		return t.flat().render(p.w, renderer.NewMarkdown(), markdownCell)
	case "html":
		return t.flat().render(p.w, renderer.NewHTML(), cellText)
	}
	return t.screen(p.w, p.width)
}

// json writes any value as indented JSON.
func (p page) json(v any) error {
	enc := jsonEncoder(p.w)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

func jsonEncoder(w io.Writer) *json.Encoder {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	return enc
}

// MarshalJSON writes the rows as objects whose keys stand in the order of the
// columns.
func (t table) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	enc := jsonEncoder(&b)
	b.WriteByte('[')
	for i, row := range t.rows {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteByte('{')
		for j, cell := range row {
			if j > 0 {
				b.WriteByte(',')
			}
			fmt.Fprintf(&b, "%q:", t.columns[j].key)
			if err := enc.Encode(cell); err != nil {
				return nil, err
			}
		}
		b.WriteByte('}')
	}
	b.WriteByte(']')
	return b.Bytes(), nil
}

// csv writes RFC 4180: a header, CRLF, an empty cell where nothing is known.
// No cell is one that a spreadsheet would take for a formula.
func (t table) csv(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	record := make([]string, len(t.columns))
	for i, c := range t.columns {
		record[i] = c.key
	}
	out.Write(record)
	for _, row := range t.rows {
		for i, cell := range row {
			if record[i] = ""; cell != nil {
				record[i] = repertoire.SafeCell(harmless(fmt.Sprint(cell)))
			}
		}
		out.Write(record)
	}
	out.Flush()
	return out.Error()
}

// cellText returns what a person reads in a cell.
func cellText(cell any) string {
	switch v := cell.(type) {
	case nil:
		return "-"
	case bool:
		if v {
			return "yes"
		}
		return "no"
	}
	if text := harmless(fmt.Sprint(cell)); text != "" {
		return text
	}
	return "-"
}

// markdownCell escapes what Markdown would read as markup.
func markdownCell(cell any) string {
	return strings.NewReplacer(`\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "[", `\[`, "<", "&lt;", "\n", "<br>").Replace(cellText(cell))
}

// flat returns the table with each head on one line, for Markdown knows no other.
func (t table) flat() table {
	t.columns = slices.Clone(t.columns)
	for i, c := range t.columns {
		t.columns[i].head = strings.Join(strings.Fields(c.head), " ")
	}
	return t
}

// render writes the table through one of the library's renderers.
func (t table) render(w io.Writer, r tw.Renderer, text func(any) string) error {
	lib := tablewriter.NewTable(w, tablewriter.WithRenderer(r), tablewriter.WithConfig(tablewriter.Config{
		Header: tw.CellConfig{
			Formatting: tw.CellFormatting{AutoFormat: tw.Off, AutoWrap: tw.WrapNone},
			Alignment:  tw.CellAlignment{PerColumn: t.alignment()},
		},
		Row: tw.CellConfig{
			Formatting: tw.CellFormatting{AutoFormat: tw.Off, AutoWrap: tw.WrapNone},
			Alignment:  tw.CellAlignment{PerColumn: t.alignment()},
		},
	}))
	heads := make([]string, len(t.columns))
	for i, c := range t.columns {
		heads[i] = c.head
	}
	if t.hasHead() {
		lib.Header(heads)
	}
	for _, row := range t.rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = text(cell)
		}
		if err := lib.Append(cells); err != nil {
			return err
		}
	}
	return lib.Render()
}

func (t table) alignment() []tw.Align {
	aligns := make([]tw.Align, len(t.columns))
	for i, c := range t.columns {
		if aligns[i] = tw.AlignLeft; c.right {
			aligns[i] = tw.AlignRight
		}
	}
	return aligns
}

// screen writes the table for a terminal of that many columns: no frame, two
// spaces between columns, a rule under the header.
func (t table) screen(w io.Writer, width int) error {
	room := max(1, t.widthToGrow(width))
	growing := slices.IndexFunc(t.columns, func(c column) bool { return c.grow })
	fitted := table{columns: t.columns}
	for _, row := range t.rows {
		row = slices.Clone(row)
		if growing >= 0 {
			row[growing] = wrapLines(cellText(row[growing]), room)
		}
		fitted.rows = append(fitted.rows, row)
	}
	var b bytes.Buffer
	if err := fitted.render(&b, fitted.screenRenderer(), cellText); err != nil {
		return err
	}
	for line := range strings.Lines(b.String()) {
		if _, err := fmt.Fprintln(w, strings.TrimRight(line, " \n")); err != nil {
			return err
		}
	}
	return nil
}

func (t table) screenRenderer() tw.Renderer {
	rule := tw.Off
	if t.hasHead() {
		rule = tw.On
	}
	return renderer.NewBlueprint(tw.Rendition{
		Borders: tw.BorderNone,
		Symbols: tw.NewSymbolCustom("plain").WithRow("-").WithColumn("").WithCenter("-").
			WithHeaderMid("-").WithMidLeft("").WithMidRight(""),
		Settings: tw.Settings{
			Separators: tw.Separators{BetweenColumns: tw.Off, BetweenRows: tw.Off, ShowHeader: tw.Off},
			Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: rule},
		},
	})
}

func (t table) hasHead() bool {
	return slices.ContainsFunc(t.columns, func(c column) bool { return c.head != "" })
}

// widthToGrow returns how wide the growing column may be when the others have
// what they need.
func (t table) widthToGrow(width int) int {
	const padding = 2 // the library's, a space on each side
	for i, c := range t.columns {
		width -= padding
		if c.grow {
			continue
		}
		widest := cellWidth(c.head)
		for _, row := range t.rows {
			widest = max(widest, cellWidth(cellText(row[i])))
		}
		width -= widest
	}
	return width
}
