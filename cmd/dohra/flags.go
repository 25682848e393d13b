package main

import (
	"errors"
	"io"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
)

// number reads a flag that is a whole number. Numbers are read here and not by
// the cli library, which takes 010 for 8.
func number(c *cli.Context, flag string) (int, error) {
	n, ok := wholeNumber(c.String(flag))
	if !ok {
		return 0, refuse("--%s takes a whole number, not %q", flag, c.String(flag))
	}
	return n, nil
}

// wholeNumber reads a whole number of at most nine characters.
func wholeNumber(text string) (n int, ok bool) {
	n, err := strconv.Atoi(text)
	return n, err == nil && len(text) <= 9
}

// minutesFlag reads --minutes within 1 to most, or returns otherwise.
func minutesFlag(c *cli.Context, otherwise, most int) (int, error) {
	if !c.IsSet("minutes") {
		return otherwise, nil
	}
	n, err := number(c, "minutes")
	if err == nil && (n < 1 || n > most) {
		err = refuse("minutes %d are outside 1 to %d", n, most)
	}
	return n, err
}

// pieceFlags are the flags of what a piece is; add and edit share them.
func pieceFlags() []cli.Flag {
	kinds := make([]string, len(repertoire.Kinds))
	for i, kind := range repertoire.Kinds {
		kinds[i] = string(kind)
	}
	return []cli.Flag{
		&cli.StringFlag{Name: "kind", Usage: "`KIND`: " + strings.Join(kinds, ", ")},
		&cli.StringFlag{Name: "tala", Usage: "the `TALA` it is in"},
		&cli.StringFlag{Name: "goal", Usage: "goal `TEMPO`, where it counts as mastered, matras/min"},
		&cli.StringFlag{Name: "start", Usage: "start `TEMPO`, where it begins, matras/min (about half the goal if not given)"},
		&cli.StringFlag{Name: "after", Usage: "the `PIECE` that must come first, or none"},
		&cli.StringFlag{Name: "teacher", Usage: "the `TEACHER` it was learned from, or none"},
		&cli.StringFlag{Name: "bols", Usage: "read its bols from `FILE`, or - for standard input; none for none"},
		&cli.StringFlag{Name: "note", Usage: "a `NOTE`, one line"},
	}
}

// applyFlags changes the piece as the flags say.
func (k *call) applyFlags(p *repertoire.Piece) (err error) {
	if k.IsSet("kind") {
		if p.Kind, err = repertoire.ParseKind(k.String("kind")); err != nil {
			return refuse("%v", err)
		}
	}
	if k.IsSet("tala") {
		tala, err := k.findTala(k.String("tala"))
		if err != nil {
			return err
		}
		p.Tala = tala.Name
	}
	for flag, tempo := range map[string]*int{"goal": &p.Goal, "start": &p.Start} {
		if k.IsSet(flag) {
			if *tempo, err = number(k.Context, flag); err != nil {
				return err
			}
		}
	}
	if k.IsSet("teacher") {
		if p.Teacher, err = repertoire.CleanTeacher(k.String("teacher")); err != nil {
			return refuse("%v", err)
		}
		if strings.EqualFold(p.Teacher, "none") {
			p.Teacher = ""
		}
	}
	if k.IsSet("note") {
		if p.Note, err = repertoire.CleanNote(k.String("note")); err != nil {
			return refuse("%v", err)
		}
	}
	if k.IsSet("bols") {
		if p.Bols, err = k.readBols(k.String("bols")); err != nil {
			return err
		}
	}
	if k.IsSet("after") {
		if p.After, err = k.findAfter(k.String("after")); err != nil {
			return err
		}
	}
	return nil
}

// findAfter returns the id of what must come first; "none" or "" is nothing.
func (k *call) findAfter(text string) (int64, error) {
	if text == "" || strings.EqualFold(text, "none") {
		return 0, nil
	}
	first, err := k.find(text)
	return first.ID, err
}

// readBols reads a file of bols, or standard input; "none" is none.
func (k *call) readBols(path string) (string, error) {
	switch path {
	case "none":
		return "", nil
	case "":
		return "", misuse("--bols needs a file, - or none")
	}
	in := k.in
	if path != "-" {
		f, err := openFile(path)
		if err != nil {
			return "", refuse("the bols in %s cannot be read: %v", path, err)
		}
		defer f.Close()
		in = f
	}
	text, err := io.ReadAll(io.LimitReader(in, repertoire.MaxBols+1))
	if err != nil {
		return "", refuse("the bols in %s cannot be read", path)
	}
	bols, err := repertoire.CleanBols(string(text))
	if err == nil && bols == "" {
		err = errors.New("the bols: there is no bol in it")
	}
	if err != nil {
		return "", refuse("%v", err)
	}
	return bols, nil
}
