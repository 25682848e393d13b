package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"unicode"
	"unicode/utf8"

	"golang.org/x/term"
)

// A keyboard gives keys as they are pressed on a terminal, which it holds raw
// until it is closed, and otherwise one a line, so that a program can play too.
type keyboard struct {
	in    io.Reader
	out   io.Writer
	lines *bufio.Scanner // where there is no terminal
	typed []byte         // read and not taken yet
	edit  *term.Terminal // reads a line on the terminal
	close func()
	open  func() // makes a terminal that was closed raw again

	redraw func() // shows again what another program wrote over
}

// errGone says that there will be no more keys: Ctrl-C, Ctrl-D, the end of the
// input, a closed terminal.
var errGone = errors.New("no more keys")

func newKeyboard(in io.Reader, out io.Writer) (*keyboard, error) {
	b := &keyboard{in: in, out: out, close: func() {}}
	f, ok := in.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		b.lines = bufio.NewScanner(in)
		return b, nil
	}
	was, err := term.MakeRaw(int(f.Fd()))
	if err != nil {
		return nil, refuse("the terminal gives no keys: %v", err)
	}
	b.edit = term.NewTerminal(b, "")
	b.close = func() { term.Restore(int(f.Fd()), was) }
	b.open = func() { term.MakeRaw(int(f.Fd())) }
	told := make(chan os.Signal, 1)
	signal.Notify(told, syscall.SIGTERM, syscall.SIGHUP)
	go func() {
		<-told
		b.close()
		os.Exit(couldNot)
	}()
	return b, nil
}

// A rawWriter writes lines to a raw terminal, which does not go back to the left
// by itself.
type rawWriter struct{ io.Writer }

func (w rawWriter) Write(p []byte) (int, error) {
	_, err := w.Writer.Write(bytes.ReplaceAll(p, []byte("\n"), []byte("\r\n")))
	return len(p), err
}

// Read gives the line editor one byte, so that it takes none that belongs to a
// key after the line.
func (b *keyboard) Read(p []byte) (int, error) {
	if err := b.fill(); err != nil {
		return 0, err
	}
	p[0] = b.typed[0]
	b.typed = b.typed[1:]
	return 1, nil
}

func (b *keyboard) Write(p []byte) (int, error) { return b.out.Write(p) }

// fill waits until something is typed.
func (b *keyboard) fill() error {
	for len(b.typed) == 0 {
		read := make([]byte, 256)
		n, err := b.in.Read(read)
		if b.typed = read[:n]; n == 0 && err != nil {
			return err
		}
	}
	return nil
}

// key returns the next key, small, and '\n' for Enter; utf8.RuneError for what
// is no single key.
func (b *keyboard) key(prompt string) (key rune, err error) {
	if b.lines != nil {
		line, err := b.line(prompt)
		switch key, size := utf8.DecodeRuneInString(line); {
		case err != nil:
			return 0, err
		case line == "":
			return '\n', nil
		case size == len(line):
			return unicode.ToLower(key), nil
		}
		return utf8.RuneError, nil
	}
	fmt.Fprint(b.out, wiped, prompt)
	if b.fill() != nil {
		return 0, errGone
	}
	const escape, carriageReturn, ctrlC, ctrlD, ctrlZ = 0x1b, '\r', 0x03, 0x04, 0x1a
	key, size := utf8.DecodeRune(b.typed)
	if key == escape {
		size = len(b.typed) // an arrow, say, is several bytes
	}
	b.typed = b.typed[size:]
	switch key {
	case carriageReturn:
		key = '\n'
	case ctrlC, ctrlD:
		return 0, errGone
	case ctrlZ:
		fmt.Fprint(b.out, wiped)
		b.close()
		suspend()
		b.open()
		b.redraw()
		return b.key(prompt)
	}
	return unicode.ToLower(key), nil
}

// On a terminal all prompts stand on one line: wiped empties it, and up goes back
// to it from the next.
const (
	wiped = "\r\x1b[K"
	up    = "\x1b[A" + wiped
)

// line returns the next line.
func (b *keyboard) line(prompt string) (line string, err error) {
	if b.lines != nil {
		fmt.Fprintln(b.out, prompt)
		if !b.lines.Scan() {
			return "", errGone
		}
		return strings.TrimSpace(b.lines.Text()), nil
	}
	fmt.Fprint(b.out, wiped)
	b.edit.SetPrompt(prompt)
	line, err = b.edit.ReadLine()
	fmt.Fprint(b.out, up)
	if err != nil && !errors.Is(err, term.ErrPasteIndicator) {
		return "", errGone
	}
	return strings.TrimSpace(line), nil
}
