package main

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

// columns returns how many columns a line takes on a terminal. It is the table
// library's own count, which goes by characters, as terminals do: a vowel sign
// that stands beside its letter takes a column, one above or below it none.
func columns(line string) int { return twwidth.Width(line) }

// cellWidth returns how many columns the widest line of a cell takes.
func cellWidth(text string) int {
	widest := 0
	for line := range strings.SplitSeq(text, "\n") {
		widest = max(widest, columns(line))
	}
	return widest
}

// wrapLines wraps each line of text.
func wrapLines(text string, width int) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = wrap(line, width)
	}
	return strings.Join(lines, "\n")
}

// wrap breaks text into lines of at most width columns: between words, and
// within a word that is longer than a line.
func wrap(text string, width int) string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && columns(line)+1+columns(word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = word
		for columns(line) > width {
			head := widthOf(line, width)
			lines, line = append(lines, line[:head]), line[head:]
		}
	}
	return strings.Join(append(lines, line), "\n")
}

// widthOf returns how many bytes of a word, in whole letters, fit in that many
// columns; at least one letter.
func widthOf(word string, width int) int {
	bytes, used := 0, 0
	letters := displaywidth.StringGraphemes(word)
	for letters.Next() {
		used += columns(letters.Value())
		if used > width && bytes > 0 {
			break
		}
		bytes += len(letters.Value())
	}
	return bytes
}
