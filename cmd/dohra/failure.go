package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"

	"dohra/db"
	"dohra/repertoire"
)

// A failure is why a command did not do what was asked: one line, and at most
// one line of what to try.
type failure struct {
	text, try string
	status    int
	cause     error // or nil
}

func (f *failure) Error() string { return f.text }
func (f *failure) Unwrap() error { return f.cause }

const (
	couldNot   = 1 // bad input, a bad file
	wrongUsage = 2
)

// refuse is a failure over what was given.
func refuse(format string, args ...any) *failure {
	return &failure{text: fmt.Sprintf(format, args...), status: couldNot}
}

// misuse is a failure over how the command was written.
func misuse(format string, args ...any) *failure {
	return &failure{text: fmt.Sprintf(format, args...), status: wrongUsage}
}

// trying adds what to try instead.
func (f *failure) trying(format string, args ...any) *failure {
	f.try = fmt.Sprintf(format, args...)
	return f
}

// because tells a failure what it comes from.
func (f *failure) because(err error) *failure {
	f.cause = db.Plain(err)
	return f
}

// report prints a failure and returns the exit status.
func report(w io.Writer, err error) int {
	var f *failure
	if !errors.As(err, &f) {
		f = refuse("%v", db.Plain(err))
	}
	fmt.Fprintf(w, "dohra: %s\n", harmless(f.text))
	if f.try != "" {
		fmt.Fprintf(w, "dohra: try: %s\n", harmless(f.try))
	}
	return f.status
}

// quoted writes a word as a shell reads it whole.
func quoted(word string) string {
	plain := func(r rune) bool {
		return r > unicode.MaxASCII || unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("/._-+,:@%", r)
	}
	if word != "" && strings.IndexFunc(word, func(r rune) bool { return !plain(r) }) < 0 {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

// harmless replaces what could act on a terminal, for a file may hold what this
// program never let in.
func harmless(text string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && repertoire.Unprintable(r) {
			return '\ufffd'
		}
		return r
	}, text)
}
