package schedule

// A turn climbs by two to four tempos from where it begins to where it should
// come (common practice, no source; how many is our choice).

// A Rung is one tempo of a turn, in matras/min, and how many rounds it is
// played; 0 rounds where the bols are not known.
type Rung struct{ Tempo, Rounds int }

// Ladder returns the rungs of a turn of that many minutes: in a single one, the
// target alone.
func (t Turn) Ladder(minutes int) []Rung {
	var between []int
	for _, mark := range marks[markBelow(t.Begin):] {
		if mark > t.Begin && mark < t.Target {
			between = append(between, mark)
		}
	}
	tempos := append([]int{t.Begin}, between...)
	if t.Target > t.Begin {
		tempos = append(tempos, t.Target)
	}
	n := min(len(tempos), 4, minutes/2+1)
	for n > 2 && t.Matras > 0 && 60*minutes < n*t.seconds(t.Begin) {
		n--
	}
	rungs := make([]Rung, n)
	for i := range rungs {
		at := len(tempos) - 1
		if n > 1 {
			at = (2*i*(len(tempos)-1) + n - 1) / (2 * (n - 1))
		}
		rungs[i].Tempo = tempos[at]
		if t.Matras > 0 {
			rungs[i].Rounds = max(1, 60*minutes/n/t.seconds(rungs[i].Tempo))
		}
	}
	return rungs
}

// Slower returns the tempo at which to play again what went wrong at a tempo,
// both in matras/min: two marks below it (our choice).
func Slower(tempo int) int { return slower(tempo, 2) }

// SlowerBy returns the turn with its tempos lowered so that it comes to target.
func (t Turn) SlowerBy(target int) Turn {
	t.Target, t.Begin = target, min(t.Begin, slower(target, warmBy))
	return t
}
