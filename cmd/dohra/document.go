package main

import (
	"fmt"
	"html"
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// What stands between the tables of a Markdown or HTML answer.

// heading writes the title of an answer.
func (p page) heading(text string) {
	if p.format == "html" {
		fmt.Fprintf(p.w, "<h1>%s</h1>\n", html.EscapeString(harmless(text)))
		return
	}
	fmt.Fprintf(p.w, "# %s\n\n", markdownCell(text))
}

// block writes text as it is, with its lines.
func (p page) block(text string) {
	switch {
	case text == "":
		fmt.Fprintln(p.w)
	case p.format == "html":
		fmt.Fprintf(p.w, "<pre>%s</pre>\n", html.EscapeString(harmless(text)))
	default:
		fmt.Fprintf(p.w, "\n    %s\n\n", strings.ReplaceAll(harmless(text), "\n", "\n    "))
	}
}

// paragraph writes a sentence or two.
func (p page) paragraph(text string) {
	switch {
	case text == "":
	case p.format == "html":
		fmt.Fprintf(p.w, "<p>%s</p>\n", html.EscapeString(harmless(text)))
	default:
		fmt.Fprintf(p.w, "\n%s\n", harmless(text))
	}
}

// wrap breaks text between words into lines of at most width columns.
func wrap(text string, width int) string {
	var b strings.Builder
	at := 0
	for i, word := range strings.Fields(text) {
		n := displaywidth.String(word)
		switch {
		case i == 0:
		case at+1+n > width:
			b.WriteByte('\n')
			at = 0
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += n
	}
	return b.String()
}
