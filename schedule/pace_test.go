package schedule

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// The data are Sen's own example, 1968, section 6, as it stands in handbooks of
// robust statistics: X = 1, 2, 3, 4, 10, 12, 18 and Y = 9, 15, 19, 20, 45, 55,
// 78, with the slope 4 (from memory; the slope was worked out again by hand).
func TestTheilSenOnPublishedData(t *testing.T) {
	var points []Point
	y := []float64{9, 15, 19, 20, 45, 55, 78}
	for i, x := range []float64{1, 2, 3, 4, 10, 12, 18} {
		points = append(points, Point{x, y[i]})
	}
	if slope, ok := TheilSen(points); !ok || math.Abs(slope-4) > 1e-12 {
		t.Errorf("%v, %v, want 4", slope, ok)
	}
	if _, ok := TheilSen([]Point{{1, 2}, {1, 3}}); ok {
		t.Error("a slope through points above one another")
	}
}

// A line is found again although every fourth point is anywhere.
func TestTheilSenIsNotBent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		slope := rapid.Float64Range(-2, 2).Draw(t, "slope")
		var points []Point
		for i := range 16 {
			y := slope * float64(i)
			if i%4 == 3 {
				y = rapid.Float64Range(-1000, 1000).Draw(t, "astray")
			}
			points = append(points, Point{float64(i), y})
		}
		if got, _ := TheilSen(points); math.Abs(got-slope) > 1e-9 {
			t.Fatalf("%v, want %v", got, slope)
		}
	})
}

// A player whose log climbs twice as fast is believed to learn faster.
func TestPace(t *testing.T) {
	pace := func(times float64) Pace {
		rng := rand.New(rand.NewPCG(1, 2))
		plays := map[int64][]Play{}
		var pieces []Candidate
		for id := int64(1); id <= 8; id++ {
			c := Candidate{Standing: New(40)}
			c.ID, c.Start, c.Goal = id, 40, 400
			pieces = append(pieces, c)
			for i := range 20 {
				tempo := 40 * math.Exp(times*learned*float64(i)+0.02*rng.NormFloat64())
				plays[id] = append(plays[id], Play{Piece: id, Tempo: int(tempo), Clarity: Clear})
			}
		}
		return PaceOf(pieces, plays, 0.9)
	}
	once, twice := pace(1), pace(2)
	if math.Abs(once.Speed) > 0.2 || twice.Speed < once.Speed+0.4 || twice.Doubt >= unlike || once.Shows != 0.9 {
		t.Errorf("%+v, %+v", once, twice)
	}
	if none := PaceOf(nil, nil, 1); none.Speed != 0 || none.Doubt != unlike {
		t.Errorf("%+v", none)
	}
}
