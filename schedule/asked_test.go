package schedule

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

// Whatever was heard, each day is planned from the standings of its morning, with
// the minutes of its weekday, and without what was added later and not played yet.
func TestAskedIsThePlanOfEachMorning(t *testing.T) {
	const from, days = repertoire.Day(20000), 12
	calendar := Calendar{Week{45, 45, 30, 0, 45, 90, 60}, []Absence{{from + 4, from + 5}}}
	rapid.Check(t, func(t *rapid.T) {
		var pieces []Candidate
		for i := range rapid.IntRange(1, 5).Draw(t, "pieces") {
			pieces = append(pieces, Candidate{Standing: New(60), Piece: repertoire.Piece{
				ID: int64(i + 1), Start: 60, Goal: 90, Resting: repertoire.Never,
				Added: from + repertoire.Day(rapid.IntRange(-3, 3).Draw(t, "added")),
			}})
		}
		heard := map[int64][]Play{}
		for day := from; day < from+days; day++ {
			for _, share := range []int{0, 0, 50} { // a day's echoes come after its plays
				id := int64(rapid.IntRange(0, len(pieces)).Draw(t, "piece")) // 0 for none
				heard[id] = append(heard[id], Play{
					Piece: id, Day: day, Share: share, Line: rapid.IntRange(0, 1).Draw(t, "line"),
					Tempo: rapid.SampledFrom([]int{60, 80, 90}).Draw(t, "tempo"), Clarity: Clarity(rapid.IntRange(0, 5).Draw(t, "clarity")),
				})
			}
		}
		var concerts []Concert
		if rapid.Bool().Draw(t, "concert") && len(pieces) > 0 {
			concerts = []Concert{{Name: "Spring", Day: from + 2, Minutes: 20, Set: []Place{{Piece: pieces[0].ID, Tempo: 90}}}}
		}
		next := from
		for day, got := range Asked(from, from+days-1, calendar, false, concerts, pieces, heard) {
			if day != next {
				t.Fatalf("day %d comes where %d is next", day, next)
			}
			next++
			var there []Candidate
			for _, p := range pieces {
				for _, play := range heard[p.ID] {
					if play.Day < day {
						p.Standing = p.Add(p.Goal, play)
						if play.Share == 0 && p.Begun == 0 && play.Day < p.Added {
							p.Begun = play.Day
						}
					}
				}
				if p.Added <= day || p.Begun > 0 {
					there = append(there, p)
				}
			}
			sets := concerts
			if !slices.ContainsFunc(there, func(p Candidate) bool { return p.ID == pieces[0].ID }) {
				sets = nil
			}
			r := Rehearse(day, calendar, sets, nil)
			if want := r.PlanDay(r.Minutes(calendar.Minutes(day)), there); !reflect.DeepEqual(got, want) {
				t.Fatalf("day %d\nasked %+v\nplan  %+v", day, got, want)
			}
		}
		if next != from+days {
			t.Fatalf("planned until %d, not %d", next, from+days)
		}
	})
}
