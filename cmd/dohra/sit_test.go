package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"pgregory.net/rapid"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

var sitDay = repertoire.DayOf(time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))

// keep makes a repertoire of those pieces.
func keep(t interface{ Fatal(...any) }, file string, pieces ...repertoire.Piece) {
	s, err := db.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for _, p := range pieces {
		p.Added, p.Resting = sitDay-9, repertoire.Never
		if _, err := s.AddPiece(p); err != nil {
			t.Fatal(err)
		}
	}
}

// sit runs a sitting that is fed those lines, by a clock that goes on 50 seconds
// whenever it is looked at, and returns what was said.
func sit(t interface{ Fatalf(string, ...any) }, file, lines string) string {
	var out, errs bytes.Buffer
	now := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	clock := func() time.Time {
		now = now.Add(50 * time.Second)
		return now
	}
	if status := run([]string{"--file", file, "sit"}, strings.NewReader(lines), &out, &errs, clock); status != 0 {
		t.Fatalf("status %d: %s", status, &errs)
	}
	return out.String()
}

var savedLine = regexp.MustCompile(`(?m)^(Saved|Noted|Marked): (.*), (\d+) (\w+)((?:, spoken)?(?:, lines? [\d-]+)?(?:, sore)?), (\d+) minutes?\.$`)

// saved are the plays that were confirmed on screen, as they were last.
func saved(screen string) (all []string) {
	for _, m := range savedLine.FindAllStringSubmatch(screen, -1) {
		play := strings.Join(m[2:], " ")
		if m[1] == "Saved" {
			all = append(all, play)
			continue
		}
		if last := all[len(all)-1]; m[1] == "Noted" || strings.HasSuffix(last, noted) {
			play += noted
		}
		all[len(all)-1] = play
	}
	return all
}

const noted = ", with a note"

// stored are the plays of the file, as they would be confirmed.
func stored(t interface{ Fatal(...any) }, file string) (all []string) {
	s, err := db.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	plays, err := s.PlaysOn(sitDay)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range plays {
		c, err := s.Piece(p.Piece)
		if err != nil {
			t.Fatal(err)
		}
		play := strings.Join([]string{c.Title, fmt.Sprint(p.Tempo), p.Clarity.String(), unusual(p), fmt.Sprint(p.Minutes)}, " ")
		if p.Note != "" {
			play += noted
		}
		all = append(all, play)
	}
	return all
}

func sitPieces() (pieces []repertoire.Piece) {
	for i, kind := range []repertoire.Kind{"kaida", "gat", "rela", "tihai"} {
		pieces = append(pieces, repertoire.Piece{Title: fmt.Sprintf("Lamp %d", i+1), Kind: kind, Tala: "teental", Start: 60, Goal: 100 + i,
			Bols: strings.Repeat("dhati dhage nadha tite ", 4) + "\n" + strings.Repeat("tati take nata tite ", 4+4*i)})
	}
	return pieces
}

// Whatever is typed, the plays stored, with their notes and marks, are exactly those
// confirmed on screen.
func TestSitKeepsWhatItConfirms(t *testing.T) {
	folder := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		file := filepath.Join(folder, fmt.Sprintf("%d.db", n))
		keep(t, file, sitPieces()...)
		line := rapid.OneOf(
			rapid.SampledFrom([]string{"", "", "", "", "4", "5", "0", "2", "a", "s", "n", "l", "h", "1", "1-2", "72", "9", "x", "e"}), rapid.String())
		var confirmed []string
		for range rapid.IntRange(1, 3).Draw(t, "sittings") {
			lines := rapid.SliceOfN(line, 0, 30).Draw(t, "lines")
			confirmed = append(confirmed, saved(sit(t, file, strings.Join(lines, "\n")))...)
		}
		if got := stored(t, file); !slices.Equal(got, confirmed) {
			t.Fatalf("stored %q, confirmed %q", got, confirmed)
		}
	})
}

// Broken off anywhere, in the middle of any prompt, a sitting loses nothing and
// goes on where it was: in the end each turn was played once.
func TestSitGoesOnWhereItWas(t *testing.T) {
	whole := ""
	for i := range 4 {
		whole += fmt.Sprintf("\n\n4\n\nn\nround %d\n", i)
	}
	file := filepath.Join(t.TempDir(), "whole.db")
	keep(t, file, sitPieces()...)
	want := saved(sit(t, file, whole+strings.Repeat("\n\n4\n\n", 20)))
	if len(want) < 12 || !strings.HasSuffix(want[3], noted) {
		t.Fatalf("a whole sitting saved only %q", want)
	}
	for cut := range len(whole) {
		file := filepath.Join(t.TempDir(), "r.db")
		keep(t, file, sitPieces()...)
		first := saved(sit(t, file, whole[:cut]))
		if got := stored(t, file); !slices.Equal(got, first) {
			t.Fatalf("cut after %q: stored %q, confirmed %q", whole[:cut], got, first)
		}
		sit(t, file, strings.Repeat("\n\n4\n\n", 20))
		got := stored(t, file)
		for i, play := range got {
			if i >= len(first) || play != first[i] {
				got[i] = strings.TrimSuffix(play, noted)
			}
		}
		for i, play := range want {
			if i >= len(first) || !strings.HasSuffix(first[i], noted) {
				play = strings.TrimSuffix(play, noted)
			}
			if i >= len(got) || got[i] != play {
				t.Fatalf("cut after %q: in the end %q, not %q", whole[:cut], got, want)
			}
		}
	}
}

// Killed at any moment, a sitting has lost nothing that it confirmed, and the
// next goes on after it.
func TestKilledSittingLosesNothing(t *testing.T) {
	folder, within := t.TempDir(), 60*time.Millisecond
	broken, plays := 0, 0
	for i := 0; broken < kills(); i++ {
		file := filepath.Join(folder, fmt.Sprintf("%d.db", i))
		keep(t, file, sitPieces()...)
		var confirmed []string
		for done := false; !done; {
			c := program(t, file, "sit")
			c.Stdin = strings.NewReader(strings.Repeat("\n\n4\n\n", 20))
			var out string
			if out, done = killed(t, c, &within); !done {
				broken++
			}
			confirmed = append(confirmed, saved(out)...)
			got := stored(t, file)
			if extra := len(got) - len(confirmed); extra < 0 || extra > 1 || !slices.Equal(got[:len(confirmed)], confirmed) {
				t.Fatalf("stored %q, confirmed %q", got, confirmed)
			}
			confirmed = got
		}
		if len(confirmed) < 12 {
			t.Errorf("in the end only %q", confirmed)
		}
		plays += len(confirmed)
	}
	t.Logf("%d sittings were killed; %d plays are there", broken, plays)
}

// When the file is moved away during a sitting and another put in its place, what
// was confirmed is in the one, the other stays sound, and nothing else writes to it
// while the sitting has its place.
func TestFileIsReplacedDuringASitting(t *testing.T) {
	folder := t.TempDir()
	file, moved, other := filepath.Join(folder, "r.db"), filepath.Join(folder, "moved.db"), filepath.Join(folder, "other.db")
	keep(t, file, sitPieces()...)
	shelf(t, other, 60, 3)
	want := sound(t, other).Digest
	c := program(t, file, "sit")
	keys, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	fmt.Fprint(keys, "\n\n4\n\n")
	confirmed := ""
	for part := make([]byte, 4096); !strings.Contains(confirmed, "Saved: "); {
		n, err := out.Read(part)
		if confirmed += string(part[:n]); err != nil {
			t.Fatalf("%v: %s", err, confirmed)
		}
	}
	if err := errors.Join(os.Rename(file, moved), os.Rename(other, file)); err != nil {
		t.Fatal(err)
	}
	if text := succeed(t, program(t, file, "list", "--format", "csv")); strings.Count(text, "Piece ") != 60 {
		t.Errorf("list gives %s", text)
	}
	refused, err := program(t, file, "played", "piece 12", "--tempo", "60", "--clarity", "clear").CombinedOutput()
	if err == nil || !strings.Contains(string(refused), "another program still has the file open that was at "+file+" before") {
		t.Errorf("%v, %s", err, refused)
	}
	fmt.Fprint(keys, "\n\n4\n\n")
	keys.Close()
	io.Copy(io.Discard, out)
	if err := c.Wait(); err == nil {
		t.Error("the sitting went on")
	}
	if r := sound(t, moved); r.Plays != 1 {
		t.Errorf("moved: %+v", r)
	}
	if r := sound(t, file); r.Digest != want {
		t.Errorf("in its place: %+v", r)
	}
	succeed(t, program(t, file, "played", "piece 12", "--tempo", "60", "--clarity", "clear"))
}

// longestOfDemo returns the piece of the demonstration with most matras, and the same
// in Devanagari.
func longestOfDemo(t *testing.T) (pieces []repertoire.Piece) {
	s, err := openDemo(sitDay)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	all, err := s.All()
	if err != nil {
		t.Fatal(err)
	}
	longest := slices.MaxFunc(all, func(a, b schedule.Candidate) int { return a.Matras - b.Matras }).Piece
	longest.After = 0
	n, err := repertoire.ReadBols(longest.Bols)
	if err != nil {
		t.Fatal(err)
	}
	deva := longest
	deva.Title, deva.Bols = "बवंडर", ""
	for _, line := range n.Lines {
		for _, m := range line.Matras {
			for _, c := range m.Cells {
				if c.Stroke == nil {
					deva.Bols += "-"
				} else {
					deva.Bols += strings.Fields(c.Stroke.Devanagari)[0]
				}
			}
			deva.Bols += " "
		}
		deva.Bols += "\n"
	}
	if len(n.Lines) < 2 {
		t.Fatal("the longest piece is not walked")
	}
	return []repertoire.Piece{longest, deva}
}

// On a terminal of 80 columns and 24 lines each step of the longest piece, line
// by line and whole, stands in both scripts, and one key does each thing.
func TestSitFitsATerminal(t *testing.T) {
	for _, piece := range longestOfDemo(t) {
		file := filepath.Join(t.TempDir(), "r.db")
		keep(t, file, piece)
		c, screen := typing(t, file)
		screen.await("Enter: begin")
		screen.press("x", "Which key?")
		screen.press("\x1b[A", "Which key?")
		screen.press("\x1a", "Enter: begin")
		steps := 0
		for last := ""; last != "Enter: end"; steps++ {
			screen.press("\r", "Playing.")
			screen.press("\r", "0 lost")
			screen.press("4", "Tempo")
			last = screen.press("7x\x7f2\r", "Enter: begin", "Enter: end")
			screen.press("n", "Note: ")
			screen.press(strings.Repeat("cold hands ", 12)+"\r", last)
		}
		screen.press("\r", "logged today")
		out := screen.rest()
		if err := c.Wait(); err != nil {
			t.Fatal(err)
		}
		if got := stored(t, file); len(got) != steps || steps < 3 || !strings.HasSuffix(got[steps-1], " 72 clear  1"+noted) {
			t.Errorf("stored %q", got)
		}
		for _, one := range strings.Split(out, "\x1b[H\x1b[2J") {
			rows := strings.Split(one, "\n")
			if n := len(rows) - strings.Count(one, up); n > 24 {
				t.Errorf("%d lines:\n%s", n, one)
			}
			for _, row := range rows {
				for _, part := range strings.Split(row, "\r") {
					if columns(strings.ReplaceAll(part, "\x1b[K", "")) > 80 {
						t.Errorf("%d columns: %q", columns(part), part)
					}
				}
			}
			if strings.Contains(one, "more: dohra show") {
				t.Errorf("bols were cut:\n%s", one)
			}
		}
	}
}

// Whatever prompt a sitting on a terminal is broken off at, by keys or because
// the terminal is closed, it has kept what it confirmed and nothing else.
func TestTerminalIsBrokenOff(t *testing.T) {
	ways := map[string]func(*typist){
		"Ctrl-C": func(y *typist) { y.press("\x03", "logged today") },
		"Ctrl-D": func(y *typist) { y.press("\x04", "logged today") },
		"closed": func(y *typist) { y.terminal.Close() },
	}
	type step struct{ keys, then string }
	played := []step{{"\r", "Playing."}, {"\r", "0 lost"}, {"4", "Tempo"}, {"\r", "Saved: "}}
	one := sitPieces()[:1]
	one[0].Bols = ""
	for name, c := range map[string]struct {
		pieces []repertoire.Piece
		steps  []step
	}{
		"many": {sitPieces(), append(played, step{"n", "Note: "}, step{"cold hands\r", "Noted: "}, step{"l", "Lines of"}, step{"\r", "begin"},
			step{"h", "go on with what"}, step{"\r", "begin"})},
		"one":  {one, append([]step{{"s", "Skipped: "}, {"\r", "begin"}}, append(played, step{"h", "go on with what"}, step{"\r", "Enter: end"})...)},
		"sore": {one, []step{{"\r", "Playing."}, {"h", "It hurt. How"}, {"2", "Tempo"}, {"\r", "Saved: "}}},
	} {
		for way, breakOff := range ways {
			for n := range len(c.steps) + 1 {
				file := filepath.Join(t.TempDir(), "r.db")
				keep(t, file, c.pieces...)
				cmd, screen := typing(t, file)
				screen.await("Enter: begin")
				want := 0
				for _, step := range c.steps[:n] {
					screen.press(step.keys, step.then)
					if step.then == "Saved: " {
						want = 1
					}
				}
				breakOff(screen)
				out := screen.rest()
				if err := cmd.Wait(); err != nil && way != "closed" {
					t.Fatal(err)
				}
				got := stored(t, file)
				if len(got) != want {
					t.Errorf("%s, %s after %d keys: %q stored", name, way, n, got)
				}
				for _, mark := range []struct{ said, kept string }{{"Noted: ", noted}, {"sore, ", "sore"}} {
					if want == 1 && strings.Contains(out, mark.said) != strings.Contains(got[0], mark.kept) {
						t.Errorf("%s, %s after %d keys: %q stored", name, way, n, got)
					}
				}
			}
		}
	}
}

// A turn takes the time from its beginning to its end, in whole minutes.
func TestSitTakesTheTime(t *testing.T) {
	for took, want := range map[time.Duration]int{0: 1, 20 * time.Second: 1, 90 * time.Second: 2, 7 * time.Minute: 7, 9 * time.Hour: 240} {
		file := filepath.Join(t.TempDir(), "r.db")
		keep(t, file, sitPieces()[0])
		now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
		clock := func() time.Time {
			now = now.Add(took)
			return now
		}
		run([]string{"--file", file, "sit", "--on", "2026-11-25"}, strings.NewReader("\n\n4\n\n"), io.Discard, io.Discard, clock)
		if got := stored(t, file); len(got) != 1 || !strings.HasSuffix(got[0], fmt.Sprintf(" %d", want)) {
			t.Errorf("%s: %q", took, got)
		}
	}
}

// A typist types on a terminal and reads what comes.
type typist struct {
	t        *testing.T
	terminal *os.File
	all      strings.Builder
}

// typing starts a sitting on a terminal of 80 columns and 24 lines.
func typing(t *testing.T, file string) (*exec.Cmd, *typist) {
	t.Helper()
	c := program(t, file, "sit")
	terminal, err := pty.StartWithSize(c, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Fatal(err)
	}
	stuck := time.AfterFunc(time.Minute, func() { c.Process.Kill() })
	t.Cleanup(func() { stuck.Stop() })
	return c, &typist{t: t, terminal: terminal}
}

// await reads until one of the texts comes, and returns it.
func (y *typist) await(texts ...string) string {
	y.t.Helper()
	from := y.all.Len()
	for b := make([]byte, 1024); ; {
		for _, text := range texts {
			if strings.Contains(y.all.String()[from:], text) {
				return text
			}
		}
		n, err := y.terminal.Read(b)
		y.all.Write(b[:n])
		if err != nil {
			y.t.Fatalf("%q did not come: %v in\n%s", texts, err, y.all.String()[from:])
		}
	}
}

func (y *typist) press(keys string, then ...string) string {
	y.t.Helper()
	if _, err := y.terminal.WriteString(keys); err != nil {
		y.t.Fatal(err)
	}
	return y.await(then...)
}

// rest reads to the end and returns all there was.
func (y *typist) rest() string {
	b := make([]byte, 1024)
	for {
		n, err := y.terminal.Read(b)
		y.all.Write(b[:n])
		if err != nil {
			y.terminal.Close()
			return y.all.String()
		}
	}
}
