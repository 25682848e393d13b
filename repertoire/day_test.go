package repertoire

import (
	"testing"
	"time"
	_ "time/tzdata"
)

func TestParseDay(t *testing.T) {
	for _, text := range []string{"1970-01-01", "2026-11-25", "2024-02-29", "1000-01-01", "9999-12-31"} {
		day, err := ParseDay(text)
		if err != nil || day.String() != text {
			t.Errorf("%s reads as %s, %v", text, day, err)
		}
	}
	for _, text := range []string{"", "2026-13-01", "2025-02-29", "25-11-2026", "2026-1-1", "0999-12-31", "0000-00-00", "2026-11-25x"} {
		if day, err := ParseDay(text); err == nil {
			t.Errorf("%q was read as %s", text, day)
		}
	}
	if a, _ := ParseDay("2026-03-01"); a-1 != mustDay("2026-02-28") {
		t.Error("days cannot be subtracted")
	}
}

func mustDay(text string) Day {
	day, err := ParseDay(text)
	if err != nil {
		panic(err)
	}
	return day
}

// In Berlin clocks go from 02:00 to 03:00 on 2026-03-29 and from 03:00 to 02:00
// on 2026-10-25 (IANA time zone database).
func TestDayAt(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		at     time.Time
		begins int
		want   string
	}{
		{time.Date(2026, 11, 25, 4, 0, 0, 0, berlin), 4, "2026-11-25"},
		{time.Date(2026, 11, 25, 3, 59, 59, 0, berlin), 4, "2026-11-24"},
		{time.Date(2026, 11, 25, 0, 30, 0, 0, berlin), 0, "2026-11-25"},
		{time.Date(2026, 1, 1, 2, 0, 0, 0, berlin), 4, "2025-12-31"},
		{time.Date(2026, 3, 29, 3, 30, 0, 0, berlin), 4, "2026-03-28"},
		{time.Date(2026, 3, 29, 4, 0, 0, 0, berlin), 4, "2026-03-29"},
		{time.Date(2026, 10, 25, 3, 59, 0, 0, berlin), 4, "2026-10-24"},
		{time.Date(2026, 10, 25, 4, 0, 0, 0, berlin), 4, "2026-10-25"},
	} {
		if got := DayAt(c.at, c.begins); got.String() != c.want {
			t.Errorf("%s, a day beginning at %d: %s, want %s", c.at, c.begins, got, c.want)
		}
	}
}

func FuzzParseDay(f *testing.F) {
	f.Add("2026-11-25")
	f.Add("9999-99-99")
	f.Fuzz(func(t *testing.T, text string) {
		if day, err := ParseDay(text); err == nil && day.String() != text {
			t.Errorf("%q reads as %s", text, day)
		}
	})
}
