package schedule

import (
	"bytes"
	"encoding/csv"
	"slices"
	"testing"

	"dohra/repertoire"
)

func TestSheetDay(t *testing.T) {
	for text, want := range map[string]string{
		"2026-11-25": "2026-11-25", "25.11.2026": "2026-11-25", "5.3.2026": "2026-03-05", "25/11/2026": "2026-11-25", "25-11-2026": "2026-11-25",
		"5/5/2026": "2026-05-05", "3/4/2026": "", "03-04-2026": "", "11/25/2026": "", "25.11.26": "", "31.2.2026": "", "2026/11/25": "",
		"": "", "1.1": "", "+1.1.2026": "", "0.1.2026": "", "yesterday": "",
	} {
		day, err := sheetDay(text)
		if (err == nil) != (want != "") || err == nil && day.String() != want {
			t.Errorf("%q is %s, %v; want %q", text, day, err, want)
		}
	}
}

// A sheet of plays that reads without a fault holds plays that can be kept, and
// is written so that it reads the same.
func FuzzReadPlays(f *testing.F) {
	const today = 20000
	f.Add([]byte("title,day,tempo,clarity,minutes,note\nMill,2024-01-02,60,clear,5,=x\n"))
	f.Add([]byte("Date;Composition;BPM;quality\r\n25.11.2023;Mill;60;4\r\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		plays, s, err := ReadPlays(text, today, func(int, int) {})
		if err != nil || s.Count() > 0 {
			return
		}
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Write(playColumns)
		for i := range plays {
			if err := plays[i].Check(); err != nil || plays[i].Day > today {
				t.Errorf("%+v: %v", plays[i], err)
			}
			row := plays[i].Cells()
			for j := range row {
				row[j] = repertoire.SafeCell(row[j])
			}
			w.Write(row)
			plays[i].Row = 0
		}
		w.Flush()
		again, s, err := ReadPlays(b.Bytes(), today, func(int, int) {})
		for i := range again {
			again[i].Row = 0
		}
		if err != nil || s.Count() > 0 || !slices.Equal(again, plays) {
			t.Errorf("%+v\nis written as %s\nand read as %+v, %+v, %v", plays, b.String(), again, s, err)
		}
	})
}
