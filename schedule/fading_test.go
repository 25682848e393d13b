package schedule

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

func TestFading(t *testing.T) {
	resting := kept(3, "gat", 120, 90)
	resting.Resting = today
	losses := Fading(today, []Candidate{
		kept(1, "gat", 120, 20), kept(2, "gat", 120, 600), resting, building(4, "gat", 100), piece(5, "gat", 120),
	})
	if len(losses) != 2 || losses[0].ID != 1 || losses[1].ID != 2 {
		t.Fatalf("fading are %v", losses)
	}
	soon, long := losses[0], losses[1]
	if soon.Untouched != 35 || soon.Now >= soon.Then || soon.Lasts == 0 {
		t.Errorf("after 35 days: %+v", soon)
	}
	if long.Now >= soon.Now || long.Lasts != 0 || long.Minutes <= soon.Minutes {
		t.Errorf("after 615 days: %+v", long)
	}
}

// The day on which a piece falls is the one that the belief of that day shows.
func TestLastsUntilItFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := kept(1, "gat", rapid.IntRange(40, 300).Draw(t, "goal"), rapid.IntRange(-10, 400).Draw(t, "due"))
		n := c.lastsAbove(fallen, today, c.Goal)
		bar := math.Log(fallen * float64(c.Goal))
		if edge, _ := c.on(today + repertoire.Day(n+1)); n < longest && edge-c.Room > bar {
			t.Fatalf("not yet below after %d days", n+1)
		}
		if edge, _ := c.on(today + repertoire.Day(n)); n > 0 && edge-c.Room < bar-1e-9 {
			t.Fatalf("below already after %d days", n)
		}
	})
}

// However short the day, the old piece that was left alone longest is in it.
func TestStandingPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var claims []Claim
		for id := range int64(rapid.IntRange(1, 30).Draw(t, "pieces")) {
			claims = append(claims, kept(id+1, "gat", 120, rapid.IntRange(-10, 200).Draw(t, "due")).Claim(false))
		}
		old := KeepPlace(today, claims)
		taken, _ := Choose(today, rapid.IntRange(standingPlace, 30).Draw(t, "minutes"), claims)
		for _, c := range claims {
			if c.Wants <= today && (old == 0 || taken[0].Piece != old || c.Last < taken[0].Last) {
				t.Fatalf("piece %d has the place, %v the first turn; piece %d was left alone longer", old, taken[0].Piece, c.Piece)
			}
		}
	})
}
