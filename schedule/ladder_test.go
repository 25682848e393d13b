package schedule

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

// The traditional metronome scale, as described in several places: 40-60 by 2,
// 60-72 by 3, 72-120 by 4, 120-144 by 6, 144-208 by 8.
func TestMarks(t *testing.T) {
	scale := []int{
		40, 42, 44, 46, 48, 50, 52, 54, 56, 58, 60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116,
		120, 126, 132, 138, 144, 152, 160, 168, 176, 184, 192, 200, 208,
	}
	from := slices.Index(marks, 40)
	if got := marks[from : from+len(scale)]; !slices.Equal(got, scale) {
		t.Errorf("the marks are %v,\nthe traditional scale %v", got, scale)
	}
	if marks[0] != repertoire.MinTempo || marks[len(marks)-1] != repertoire.MaxTempo {
		t.Errorf("the marks run from %d to %d", marks[0], marks[len(marks)-1])
	}
	for i := from + len(scale); i < len(marks)-1; i++ {
		if step := float64(marks[i])/float64(marks[i-1]) - 1; step < 0.03 || step > 0.05 {
			t.Errorf("from %d to %d is a step of %.3f, not about 4 per cent", marks[i-1], marks[i], step)
		}
	}
}

func TestTargetsStandOnTheLadder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		goal := rapid.IntRange(20, 400).Draw(t, "goal")
		start := rapid.IntRange(20, goal).Draw(t, "start")
		s := New(start)
		for day, p := range rapid.SliceOf(anyPlay(repertoire.Never)).Draw(t, "plays") {
			p.Day = repertoire.Day(day / 2)
			s = s.Add(goal, p)
			target := s.Target(p.Day, goal)
			if target > goal {
				t.Fatalf("target %d is above the goal %d", target, goal)
			}
			if target != goal && !slices.Contains(marks, target) {
				t.Fatalf("target %d is no mark", target)
			}
			if begin := s.Begin(p.Day, goal); begin > target || begin < repertoire.MinTempo {
				t.Fatalf("a turn begins at %d for a target of %d", begin, target)
			}
		}
	})
}

// A steady player has one edge and learns nothing: the chance of a clear play
// falls with the tempo. Learning is fastest at about 85 per cent (Wilson et al.
// 2019), and there the targets are to keep such a player.
func TestSteadyPlayerPlaysAbout85PerCentClear(t *testing.T) {
	for _, edge := range []float64{64, 93, 130, 170} {
		for _, slope := range []float64{0.04, 0.07, 0.10} {
			share := shareClear(edge, slope, 20_000)
			t.Logf("edge %3.0f, slope %.2f: %.3f of targets clear", edge, slope, share)
			if math.Abs(share-0.85) > 0.04 {
				t.Errorf("edge %.0f, slope %.2f: %.3f of targets are clear, want about 0.85", edge, slope, share)
			}
		}
	}
}

// shareClear plays targets with a player whose control, the distance from the
// edge in natural logarithms over slope with a normal error, gives the clarity.
func shareClear(edge, slope float64, plays int) float64 {
	const goal, warmup = 400, 200
	rng := rand.New(rand.NewPCG(85, 15))
	s, clear := New(40), 0
	for n := range plays + warmup {
		day := repertoire.Day(n)
		tempo := s.Target(day, goal)
		control := math.Log(edge/float64(tempo))/slope + rng.NormFloat64()
		q := Smudged
		switch {
		case control >= 1.4:
			q = Effortless
		case control >= 0:
			q = Clear
		case control >= -0.5:
			q = Strained
		}
		if n >= warmup && q >= Clear {
			clear++
		}
		s = s.Add(goal, Play{Day: day, Tempo: tempo, Clarity: q})
	}
	return float64(clear) / float64(plays)
}

func TestSteps(t *testing.T) {
	for _, c := range []struct{ from, to, want int }{
		{96, 104, 2}, {104, 104, 0}, {110, 104, 0}, {126, 130, 1}, {120, 130, 2}, {97, 104, 2},
	} {
		if got := stepsBetween(c.from, c.to); got != c.want {
			t.Errorf("from %d to %d are %d steps, want %d", c.from, c.to, got, c.want)
		}
	}
}

func TestStartFor(t *testing.T) {
	for _, c := range []struct{ goal, want int }{{120, 60}, {160, 80}, {130, 63}, {60, 40}, {30, 30}, {400, 200}} {
		if got := StartFor(c.goal); got != c.want {
			t.Errorf("a goal of %d starts at %d, want %d", c.goal, got, c.want)
		}
	}
}
