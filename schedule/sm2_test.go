package schedule

import (
	"slices"
	"testing"
)

// The values below are published or computed from the published rules:
// P. A. Woźniak, "Optimization of learning", master's thesis, University of
// Technology in Poznań, 1990, section 3.2.

func TestEaseChange(t *testing.T) {
	for q, want := range []int{-80, -54, -32, -14, 0, 10} { // hundredths
		if got := easeChange(Clarity(q)); got != want {
			t.Errorf("q = %d: EF changes by %d hundredths, published %d", q, got, want)
		}
	}
}

func TestIntervals(t *testing.T) {
	for q, want := range map[Clarity][]int{
		4: {1, 6, 15, 38, 95, 238},
		5: {1, 6, 17, 50, 150},
		3: {1, 6, 13, 26, 47},
	} {
		var s SM2
		var got []int
		for range want {
			s = s.Next(q)
			got = append(got, s.Interval)
		}
		if !slices.Equal(got, want) {
			t.Errorf("q = %d always: %v days, published %v", q, got, want)
		}
	}
}

func TestEaseFallsTo130(t *testing.T) {
	var s SM2
	var got []int
	for range 12 {
		s = s.Next(3)
		got = append(got, s.Ease)
	}
	if want := []int{236, 222, 208, 194, 180}; !slices.Equal(got[:5], want) {
		t.Errorf("q = 3 always: EF %v hundredths, published %v", got[:5], want)
	}
	if got[11] != 130 {
		t.Errorf("EF falls to %d hundredths, published 130", got[11])
	}
}

func TestFailureBeginsAgain(t *testing.T) {
	for q := Lost; q < Strained; q++ {
		s := SM2{}.Next(5).Next(5).Next(5)
		failed := s.Next(q)
		if failed.Interval != 1 || failed.Ease != s.Ease {
			t.Errorf("q = %d: %+v becomes %+v; published: I(1) = 1, EF unchanged", q, s, failed)
		}
		if again := failed.Next(4); again.Interval != 6 {
			t.Errorf("q = %d, then 4: %d days, published I(2) = 6", q, again.Interval)
		}
	}
}
