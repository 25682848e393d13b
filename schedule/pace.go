package schedule

import (
	"math"
	"slices"
)

// How fast the player learns, by their own log: the slope of a line through the
// logarithms of the tempos that were clear, over the plays of a piece while it
// climbed. The line is Theil's and Sen's, whose slope is the median of the
// slopes between all pairs of points, so that a few bad days do not bend it
// (P. K. Sen, "Estimates of the regression coefficient based on Kendall's tau",
// J. Am. Stat. Assoc. 63, 1968; from memory).

// A Point is a tempo over plays, or whatever else a line is laid through.
type Point struct{ X, Y float64 }

// TheilSen returns the slope; ok is false where no two points have different X.
func TheilSen(points []Point) (slope float64, ok bool) {
	var slopes []float64
	for i, a := range points {
		for _, b := range points[:i] {
			if a.X != b.X {
				slopes = append(slopes, (a.Y-b.Y)/(a.X-b.X))
			}
		}
	}
	if len(slopes) == 0 {
		return 0, false
	}
	return median(slopes), true
}

func median(values []float64) float64 {
	slices.Sort(values)
	n := len(values)
	return (values[n/2] + values[(n-1)/2]) / 2
}

// A Pace is what the log tells of the player.
type Pace struct {
	Speed  float64 // ln of how many times as fast they learn as is believed of anybody
	Doubt  float64 // its standard deviation
	Begins float64 // how far above what is believed at first a new piece turns out, ln tempo
	Shows  float64 // the part of the days with minutes on which they play
}

// The figures of a pace are our choice.
const (
	finding   = 4   // first plays of a piece, in which its edge is only found
	fewPoints = 5   // with fewer a piece tells nothing
	mostSeen  = 40  // plays of a piece that are looked at
	unlike    = 0.5 // how far apart players are, ln
	blurred   = 0.5 // how far apart the pieces of one player seem, ln
)

// PaceOf returns the pace of a player with those pieces, whose plays are by
// piece, by day. shows is the part of the days on which they play.
func PaceOf(pieces []Candidate, plays map[int64][]Play, shows float64) Pace {
	var speeds, begins []float64
	for _, c := range pieces {
		if own := plays[c.ID]; len(own) > finding && own[0].Tempo < c.Goal {
			found := Replay(c.Start, c.Goal, own[:finding])
			begins = append(begins, found.Edge-firstBelief(c.Start).Edge-finding*learned)
		}
		if slope, ok := TheilSen(climbed(plays[c.ID], c.Goal)); ok && slope > 0 {
			speeds = append(speeds, math.Log(slope/learned))
		}
	}
	p := Pace{Doubt: unlike, Shows: shows}
	if n := float64(len(speeds)); n > 0 {
		weight := n / (blurred * blurred) / (n/(blurred*blurred) + 1/(unlike*unlike))
		p.Speed = weight * median(speeds)
		p.Doubt = max(0.15, unlike*math.Sqrt(1-weight))
	}
	if len(begins) > 0 {
		p.Begins = median(begins)
	}
	return p
}

// climbed returns the clear plays of a piece until it is first clear at its goal,
// with what was lost between them, and not relearned, given back.
func climbed(plays []Play, goal int) (points []Point) {
	faded := 0.0
	for i, p := range plays {
		if i > 0 {
			faded += (1 - relearned) * lost(float64(p.Day-plays[i-1].Day), newHold)
		}
		if i >= mostSeen+finding {
			break
		}
		if p.Clarity < Clear || i < finding {
			continue
		}
		if p.Tempo >= goal {
			break
		}
		points = append(points, Point{float64(i), lnOf(p.Tempo) + faded})
	}
	if len(points) < fewPoints {
		return nil
	}
	return points
}
