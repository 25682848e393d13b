package main

import (
	"strings"
	"unicode"

	"github.com/clipperhouse/displaywidth"
)

// How many columns text takes on a terminal. Terminals count characters one by
// one, as wcwidth of the C library does: a vowel sign that stands beside its
// letter takes a column of its own, one above or below it none. The table
// library counts what a reader sees as one letter, so the difference is filled
// up for it and taken away again when the table is done.

const filler = '\ue000' // private use, which repertoire.Unprintable keeps out

// columns returns how many columns a line takes.
func columns(line string) int {
	n := 0
	for _, r := range line {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case unicode.Is(unicode.Mc, r):
			n++
		default:
			n += displaywidth.Rune(r)
		}
	}
	return n
}

// measured returns text whose lines the table library takes for as wide as they
// are.
func measured(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if missing := columns(line) - displaywidth.String(line); missing > 0 {
			lines[i] = line + strings.Repeat(string(filler), missing)
		}
	}
	return strings.Join(lines, "\n")
}

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
