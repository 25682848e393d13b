package repertoire

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"
)

func TestSafeCell(t *testing.T) {
	for cell, want := range map[string]string{
		"=1+1": "'=1+1", "+1": "'+1", "-dha": "'-dha", "@x": "'@x", "'=1": "''=1", "\t=1": "'\t=1",
		"dha": "dha", "": "", "'tis": "'tis", "1=1": "1=1",
	} {
		if got := SafeCell(cell); got != want {
			t.Errorf("%q becomes %q, want %q", cell, got, want)
		}
	}
}

func TestRowsAreCountedAsSpreadsheetsDo(t *testing.T) {
	s, err := OpenSheet([]byte("title;note\r\n\r\nfirst;\"over\r\ntwo lines\"\r\n;\r\n\r\nsecond;\r\n"), "title", "note")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct {
		row   int
		title string
	}{{3, "first"}, {6, "second"}} {
		if more, err := s.Next(); !more || err != nil || s.Row() != want.row || s.Cell("title") != want.title {
			t.Errorf("row %d, %q, %v; want %+v", s.Row(), s.Cell("title"), err, want)
		}
	}
	if more, err := s.Next(); more || err != nil {
		t.Error("there is more", err)
	}
}

func TestFaultsAreBounded(t *testing.T) {
	text := "title,kind,tala,goal\n" + strings.Repeat("x,y,z,"+strings.Repeat("9", 500)+"\n", 1000)
	_, s, err := ReadEntries([]byte(text), Talas)
	if err != nil || len(s.List) != MaxFaults || s.Count() != 3999 {
		t.Errorf("%d told of %d, %v", len(s.List), s.Count(), err)
	}
	for _, f := range s.List {
		if len(f.Value) > 50 {
			t.Fatalf("%+v", f)
		}
	}
}

// A sheet of pieces that reads without a fault is written so that it reads the
// same, and no cell of it begins a formula.
func FuzzReadEntries(f *testing.F) {
	f.Add([]byte("title,kind,tala,goal,start,note\nMill,gat,rupak,90,60,=1\n"))
	f.Add([]byte("\ufeffGoal tempo (matras/min);Name;Taal;TYPE;Bol\r\n90;Mill;tintal;Gat;\"- dha\r\ndha\"\r\n"))
	f.Add([]byte("sep=;\r\ntitle;kind;tala;goal\r\nMill;gat;rupak;90;5\r\n"))
	f.Add([]byte("title\tkind\ttala\tgoal\n\n'@x\tgat\trupak\t90\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		entries, s, err := ReadEntries(text, Talas)
		if err != nil || s.Count() > 0 {
			return
		}
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		var plain []Entry
		for _, e := range entries {
			plain = append(plain, e.Entry)
		}
		for _, row := range SheetOf(plain) {
			for i, cell := range row {
				row[i] = SafeCell(cell)
				if strings.IndexAny(row[i], "=+-@\t\r") == 0 {
					t.Errorf("%q begins a formula", row[i])
				}
			}
			w.Write(row)
		}
		w.Flush()
		for i, e := range entries {
			if e.Start == 0 {
				return // not as it is kept
			}
			if err := e.Check(); err != nil && e.After == "" {
				t.Errorf("entry %d: %v", i, err)
			}
		}
		again, s, err := ReadEntries(b.Bytes(), Talas)
		same := func(a, b RowEntry) bool { return a.Entry == b.Entry }
		if err != nil || s.Count() > 0 || !slices.EqualFunc(again, entries, same) {
			t.Errorf("%+v\nis written as %s\nand read as %+v, %+v, %v", entries, b.String(), again, s.List, err)
		}
	})
}
