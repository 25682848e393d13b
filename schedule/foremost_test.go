package schedule

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// A day chosen from the foremost claims is the day chosen from all.
func TestForemostAreEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var claims []Claim
		for id := range int64(rapid.IntRange(1, 80).Draw(t, "pieces")) {
			var c Candidate
			switch rapid.IntRange(0, 4).Draw(t, "stage") {
			case 0:
				c = piece(id+1, "gat", 120)
			case 1:
				c = building(id+1, "gat", rapid.IntRange(60, 119).Draw(t, "clean"))
			default:
				c = kept(id+1, "gat", 120, rapid.IntRange(-30, 300).Draw(t, "due"))
			}
			claims = append(claims, c.Claim(false))
		}
		minutes := rapid.IntRange(0, 60).Draw(t, "minutes")
		if rapid.Bool().Draw(t, "place") {
			KeepPlace(today, claims)
		}
		want, _ := Choose(today, minutes, claims)
		got, _ := Choose(today, minutes, Rehearsal{Day: today}.foremost(minutes, claims, nil))
		if !slices.Equal(got, want) {
			t.Fatalf("%d turns of the foremost, %d of all", len(got), len(want))
		}
	})
}
