package main

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"
)

// An independent parser reads what was written: whole days on the right dates,
// and the same identities when the concert is moved.
func TestCalendarIsReadByAnotherParser(t *testing.T) {
	file := filepath.Join(t.TempDir(), "r.db")
	now := func() time.Time { return time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC) }
	do := func(args ...string) string {
		var out, errs bytes.Buffer
		if status := run(append(args, "--file", file), nil, &out, &errs, now); status != 0 {
			t.Fatal(args, errs.String())
		}
		return out.String()
	}
	const name = "Spring recital; long of name, with every mark, in पाठशाला"
	do("concert", "add", name, "--day", "2027-01-06", "--minutes", "30")
	read := func() (ids, days []string) {
		text := do("concert", "calendar", "spring")
		for line := range strings.Lines(text) {
			if !strings.HasSuffix(line, "\r\n") || len(line) > 77 {
				t.Errorf("%q is no line of RFC 5545", line)
			}
		}
		cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range cal.Events() {
			begins, err := e.DateTimeStart(time.UTC)
			if err != nil || e.Props.Get(ical.PropDateTimeStart).ValueType() != ical.ValueDate {
				t.Fatal(err)
			}
			ends, err := e.DateTimeEnd(time.UTC)
			if err != nil || ends.Sub(begins) != 24*time.Hour {
				t.Errorf("from %v to %v, %v", begins, ends, err)
			}
			if got, err := e.Props.Text(ical.PropSummary); err != nil || !strings.HasPrefix(got, name) {
				t.Errorf("%q, %v", got, err)
			}
			id, _ := e.Props.Text(ical.PropUID)
			ids, days = append(ids, id), append(days, begins.Format(time.DateOnly))
		}
		return ids, days
	}
	ids, days := read()
	if want := []string{"2027-01-06", "2026-12-24", "2026-12-27", "2026-12-30", "2027-01-02", "2027-01-04", "2027-01-05"}; !slices.Equal(days, want) {
		t.Errorf("%v, want %v", days, want)
	}
	if distinct := slices.Compact(slices.Sorted(slices.Values(ids))); len(distinct) != len(ids) {
		t.Errorf("%v", ids)
	}
	do("concert", "edit", "spring", "--day", "2027-01-07", "--minutes", "20")
	moved, days := read()
	if !slices.Equal(moved, ids) || days[0] != "2027-01-07" {
		t.Errorf("%v %v", moved, days)
	}
}
