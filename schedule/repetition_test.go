package schedule

import (
	"testing"

	"pgregory.net/rapid"
)

func TestRepeat(t *testing.T) {
	six := SM2{N: 2, Interval: 6, Ease: 250}
	for _, c := range []struct {
		name         string
		from         SM2
		q            Clarity
		waited, lost int
		want         SM2
	}{
		{"the first one", SM2{}, Clear, 0, 0, SM2{1, 1, 250}},
		{"on its day, SM-2 as published", six, Clear, 6, 0, SM2{3, 15, 250}},
		{"half the wait earns half the growth", six, Clear, 3, 0, SM2{3, 10, 250}}, // 6 + 9/2, down
		{"and half the gain in ease", six, Effortless, 3, 0, SM2{3, 11, 255}},      // 6 + (17-6)/2
		{"but a loss of ease is whole", six, Strained, 3, 0, SM2{3, 10, 236}},      // 6 + (15-6)/2
		{"ten days late and clear, five more", six, Clear, 16, 0, SM2{3, 20, 250}},
		{"ten days late and strained, none", six, Strained, 16, 0, SM2{3, 15, 236}},
		{"twice as fast after a slip", six, Clear, 6, 100, SM2{3, 30, 250}},
		{"but not beyond what was lost", six, Clear, 6, 20, SM2{3, 20, 250}},
		{"never over a year", SM2{8, 300, 250}, Clear, 300, 0, SM2{9, 365, 250}},
	} {
		if got := c.from.Repeat(c.q, c.waited, c.lost); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

func anySM2(t *rapid.T) SM2 {
	var s SM2
	for _, q := range rapid.SliceOfN(rapid.IntRange(3, 5), 1, 12).Draw(t, "passed") {
		s = s.Next(Clarity(q))
	}
	s.Interval = min(s.Interval, longest)
	return s
}

func TestWaitingLongerNeverEarnsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySM2(t)
		q := Clarity(rapid.IntRange(3, 5).Draw(t, "q"))
		waited := rapid.IntRange(1, 500).Draw(t, "waited")
		lost := rapid.IntRange(0, 300).Draw(t, "lost")
		sooner, later := s.Repeat(q, waited, lost), s.Repeat(q, waited+1, lost)
		if sooner.Interval > later.Interval {
			t.Fatalf("%d days earn %d, one more earns %d", waited, sooner.Interval, later.Interval)
		}
		if waited+sooner.Interval < s.Interval {
			t.Fatalf("played early, it is due sooner than if it had not been played")
		}
	})
}
