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
	clock := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	now := func() time.Time { return clock }
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
	first := do("concert", "calendar", "spring")
	if second := do("concert", "calendar", "spring"); second != first {
		t.Errorf("asked twice at one moment it is\n%s\nand\n%s", first, second)
	}

	// Moved, and written later: the same events, and what is newer counts.
	clock = clock.Add(24 * time.Hour)
	do("concert", "edit", "spring", "--day", "2027-01-07", "--minutes", "20")
	moved, days := read()
	if !slices.Equal(moved, ids) || days[0] != "2027-01-07" {
		t.Errorf("%v %v", moved, days)
	}
	before, after := events(t, first), events(t, do("concert", "calendar", "spring"))
	for id, e := range after {
		if before[id].sequence >= e.sequence || before[id].stamp >= e.stamp || e.status != "CONFIRMED" {
			t.Errorf("%s: %+v, then %+v", id, before[id], e)
		}
	}

	// With practice on two days of the week alone, a run-through and the light
	// day fall out; the others keep their identities.
	do("week", "0", "30", "0", "0", "30", "0", "0")
	cancelled := 0
	for id, e := range events(t, do("concert", "calendar", "spring")) {
		if _, known := after[id]; !known {
			t.Errorf("%s is new", id)
		}
		if e.status == "CANCELLED" {
			cancelled++
		}
	}
	if cancelled != 2 {
		t.Errorf("%d are cancelled, want 2", cancelled)
	}
}

// A revision is what tells an event from an older one with its identity.
type revision struct {
	sequence      int
	stamp, status string
}

// events returns the events of a calendar by identity.
func events(t *testing.T, text string) map[string]revision {
	cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]revision{}
	for _, e := range cal.Events() {
		sequence, err := e.Props.Get(ical.PropSequence).Int()
		if err != nil {
			t.Fatal(err)
		}
		id, _ := e.Props.Text(ical.PropUID)
		all[id] = revision{sequence, e.Props.Get(ical.PropDateTimeStamp).Value, e.Props.Get(ical.PropStatus).Value}
	}
	return all
}
