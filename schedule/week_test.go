package schedule

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

func day(t *testing.T, text string) repertoire.Day {
	t.Helper()
	d, err := repertoire.ParseDay(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestCalendar(t *testing.T) {
	c := Calendar{
		Week:     Week{45, 45, 30, 0, 45, 90, 60},
		Absences: []Absence{{day(t, "2026-12-20"), day(t, "2027-01-06")}},
	}
	for _, want := range []struct {
		day     string
		minutes int
		next    string
	}{
		{"2026-11-23", 45, "2026-11-23"}, // a Monday
		{"2026-11-25", 30, "2026-11-25"},
		{"2026-11-26", 0, "2026-11-27"}, // the Thursday off
		{"2026-12-19", 90, "2026-12-19"},
		{"2026-12-20", 0, "2027-01-08"}, // away, and back on a Thursday
		{"2027-01-06", 0, "2027-01-08"},
		{"2027-01-08", 34, "2027-01-08"}, // eased: three quarters of 45
		{"2027-01-09", 90, "2027-01-09"},
	} {
		on := day(t, want.day)
		if got := c.Minutes(on); got != want.minutes {
			t.Errorf("%s has %d minutes, want %d", want.day, got, want.minutes)
		}
		if next, ok := c.Next(on); !ok || next.String() != want.next {
			t.Errorf("after %s comes %s, want %s", want.day, next, want.next)
		}
	}
	if next, ok := (Calendar{}).Next(0); ok {
		t.Errorf("a week of zeros goes on on %s", next)
	}
}

// The weekday is that of Go's calendar.
func TestWeekday(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		when := time.Unix(86400*rapid.Int64Range(-300_000, 300_000).Draw(t, "day"), 0).UTC()
		if got, want := Weekday(repertoire.DayOf(when)), (int(when.Weekday())+6)%7; got != want {
			t.Fatalf("%s is day %d of its week, want %d", when, got, want)
		}
	})
}

// Absences are a set of days: leaving adds to it, returning takes from it, and
// it is written in the fewest absences, in order.
func TestAbsencesAreASetOfDays(t *testing.T) {
	const days = 40
	rapid.Check(t, func(t *rapid.T) {
		var absences []Absence
		var away [days + 1]bool
		for range rapid.IntRange(1, 12).Draw(t, "changes") {
			from := rapid.IntRange(0, days-1).Draw(t, "from")
			to := rapid.IntRange(from, days-1).Draw(t, "to")
			a, leaves := Absence{repertoire.Day(from), repertoire.Day(to)}, rapid.Bool().Draw(t, "leaves")
			if leaves {
				absences = Leave(absences, a)
			} else {
				absences = Return(absences, a)
			}
			for d := from; d <= to; d++ {
				away[d] = leaves
			}
		}
		for i := range absences {
			if i > 0 && absences[i].From <= absences[i-1].To+1 {
				t.Fatalf("not in order, or not apart: %v", absences)
			}
		}
		for d := range away {
			if _, got := (Calendar{Absences: absences}).Away(repertoire.Day(d)); got != away[d] {
				t.Fatalf("day %d: away %v, want %v, by %v", d, got, away[d], absences)
			}
		}
	})
}
