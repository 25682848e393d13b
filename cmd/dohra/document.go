package main

import (
	"fmt"
	"html"
	"strings"
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
		fmt.Fprintf(p.w, "\n%s\n", strings.ReplaceAll(harmless(text), "<", "&lt;"))
	}
}
