package schedule

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"dohra/repertoire"
)

const today = repertoire.Day(1000)

// piece makes a candidate from what the player did with it.
func piece(id int64, kind repertoire.Kind, goal int, plays ...[3]int) Candidate {
	var list []Play
	for _, p := range plays {
		list = append(list, Play{Day: today + repertoire.Day(p[0]), Tempo: p[1], Clarity: Clarity(p[2])})
	}
	return Candidate{
		Piece:    repertoire.Piece{ID: id, Title: fmt.Sprint("piece ", id), Kind: kind, Goal: goal, Start: min(60, goal), Resting: repertoire.Never},
		Standing: Replay(min(60, goal), goal, list),
	}
}

// kept is a piece kept at an interval of 15 days, due that many days ago.
func kept(id int64, kind repertoire.Kind, goal, due int) Candidate {
	return piece(id, kind, goal, [3]int{-22 - due, goal, 4}, [3]int{-21 - due, goal, 4}, [3]int{-15 - due, goal, 4})
}

func building(id int64, kind repertoire.Kind, clean int) Candidate {
	return piece(id, kind, 120, [3]int{-1, clean, 4})
}

func titles(turns []Turn) (ids []int64) {
	for _, t := range turns {
		ids = append(ids, t.ID)
	}
	return ids
}

func TestOrderOfADay(t *testing.T) {
	plan := PlanDay(today, 60, []Candidate{
		kept(1, "gat", 160, 0), kept(2, "kaida", 100, 1), kept(3, "gat", 120, 2), kept(4, "tukda", 120, 0),
		building(5, "kaida", 108), building(6, "rela", 66), building(7, "kaida", 96),
	})
	turns := plan.Turns
	if len(turns) != 7 {
		t.Fatalf("%d turns, want 7: %v", len(turns), titles(turns))
	}
	if turns[0].ID != 2 || !strings.HasPrefix(turns[0].Why, "warm up: ") {
		t.Errorf("the slowest kept piece warms up, not %d (%s)", turns[0].ID, turns[0].Why)
	}
	if turns[1].ID != 6 {
		t.Errorf("the hardest climb comes early, not %d", turns[1].ID)
	}
	if last := turns[6]; last.ID != 1 || last.Target != 160 {
		t.Errorf("the fastest kept piece ends the day at full tempo, not %d", last.ID)
	}
	for i := 1; i < len(turns); i++ {
		if turns[i].Kind == turns[i-1].Kind {
			t.Errorf("two turns of %s in a row: %v", turns[i].Kind, titles(turns))
		}
	}
}

func TestTechniquesAlternate(t *testing.T) {
	var all []Candidate
	for id, bols := range []string{"", "tirakita dha tirakita dha", "tirakita dha", "dhatite dhatite", "dhatite ge"} {
		c := building(int64(id+1), repertoire.Kinds[id], 60+id)
		c.Bols, c.Matras = bols, repertoire.Length(bols)
		all = append(all, c)
	}
	turns := PlanDay(today, 120, all).Turns
	for i := 1; i < len(turns); i++ {
		if a, b := turns[i-1].technique, turns[i].technique; a != "" && a == b {
			t.Errorf("two turns of %s in a row: %v", a, titles(turns))
		}
	}
}

func TestMinutesComeFromLength(t *testing.T) {
	for _, c := range []struct {
		candidate   Candidate
		matras      int
		least, most int
	}{
		{kept(1, "gat", 120, 0), 0, 2, 4},
		{kept(1, "gat", 120, 0), 16, 2, 4},     // 2 rounds at 104, 6 at 120: 67 s
		{kept(1, "gat", 120, 0), 64, 5, 7},     // 268 s
		{kept(1, "gat", 120, 0), 320, 8, 8},    // never longer
		{kept(1, "gat", 120, 0), 1024, 19, 19}, // but for one round at 104 and one at 120: 591 s and 512 s
		{building(1, "gat", 60), 16, 6, 12},    // 4 rounds at five marks around 58: some 330 s
		{building(1, "gat", 60), 6, 3, 6},
		{piece(1, "gat", 120), 16, 3, 6}, // 4 rounds at 60: 64 s, and never shorter than 3
	} {
		c.candidate.Matras = c.matras
		if least, most := c.candidate.Least(), c.candidate.Most(); least != c.least || most != c.most {
			t.Errorf("%s, %d matras: %d to %d minutes, want %d to %d", c.candidate.Stage, c.matras, least, most, c.least, c.most)
		}
	}
}

func TestWhy(t *testing.T) {
	carried := piece(9, "palta", 120)
	carried.First = "Mill kaida"
	for _, c := range []struct {
		candidate Candidate
		want      string
	}{
		{kept(1, "gat", 120, 0), "kept, played 15 days ago, due today"},
		{kept(1, "gat", 120, 1), "kept, played 16 days ago, due yesterday"},
		{kept(1, "gat", 120, -4), "kept, played 11 days ago, due in 4 days"},
		{kept(1, "gat", 120, 90), "slipped, clean at 106 by now, last played 105 days ago"},
		{building(1, "gat", 108), "clean at 111, three steps to go"},
		{building(1, "gat", 116), "clean at 119, one step to go"},
		{piece(1, "gat", 120, [3]int{-1, 60, 2}), "smudged at 60, so 54 first"},
		{piece(1, "gat", 120, [3]int{-9, 96, 4}), "clean at 95 by now, last played 9 days ago"},
		{piece(1, "gat", 120, [3]int{-2, 120, 4}, [3]int{-1, 120, 1}), "slipped, broken at 120, so 112 first"},
		{piece(1, "gat", 120), "new, for few pieces are building"},
		{carried, "new, and Mill kaida carries it"},
	} {
		if got := why(today, c.candidate); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestNewPieces(t *testing.T) {
	waiting := piece(20, "palta", 120)
	waiting.After, waiting.First = 5, "piece 5"
	plan := func(first int, building ...Candidate) Plan {
		all := append(building, piece(10, "gat", 120), piece(11, "gat", 120), waiting)
		return PlanDay(today, 300, append(all, piece(5, "kaida", 120, [3]int{-1, first, 4})))
	}
	left := func(p Plan) map[int64]string {
		why := map[int64]string{}
		for _, l := range p.Left {
			why[l.ID] = l.Why
		}
		return why
	}
	if got := left(plan(90)); got[20] != "new, waits for piece 5" {
		t.Errorf("a kaida clean at 90 of 120 carries no palta: %v", got)
	}
	if got := left(plan(100)); len(got) != 0 {
		t.Errorf("a kaida clean at 100 of 120 carries its palta: %v", got)
	}
	var four []Candidate
	for id := range int64(4) {
		four = append(four, building(id+1, "gat", 60))
	}
	if got := left(plan(100, four...)); len(got) != 2 || got[11] != "new, six are building already" {
		t.Errorf("with five building one more may enter: %v", got)
	}
}

// New pieces come in by the length of their way.
func TestShortestWayEntersFirst(t *testing.T) {
	long, short := piece(1, "gat", 160), piece(2, "gat", 80)
	if got := titles(PlanDay(today, 4, []Candidate{long, short}).Turns); !slices.Equal(got, []int64{2}) {
		t.Errorf("%v entered first", got)
	}
}

// Overloaded, the day holds on to what has just slipped, but every fifth turn
// goes to what was left alone longest.
func TestOverload(t *testing.T) {
	var all []Candidate
	for id := range int64(40) {
		all = append(all, kept(id+1, "gat", 120, 10+int(id)*10))
	}
	plan := PlanDay(today, 20, all)
	got := titles(plan.Turns)
	slices.Sort(got)
	if len(got) != 10 || got[8] != 39 || got[9] != 40 || got[7] > 25 {
		t.Errorf("twenty minutes hold %v, want eight that slipped not long ago and the two left alone longest", got)
	}
	if len(plan.Left) != 30 {
		t.Errorf("%d left out", len(plan.Left))
	}
}

// Nothing is neglected: a player who never gets anything clear is still shown
// every piece within as many turns as the bound says.
func TestBoundOnNeglect(t *testing.T) {
	for _, c := range [][2]repertoire.Day{{2, 1}, {7, 1}, {20, 1}, {2, 2}, {2, 5}, {4, 5}, {2, 7}, {2, 8}, {6, 10}, {20, 5}, {2, 30}} {
		const pieces = 60
		minutes, every := int(c[0]), c[1]
		var all []Candidate
		for id := range int64(pieces) {
			all = append(all, kept(id+1, "gat", 120, int(id)))
		}
		seen := make([]int, pieces+1) // turns given before the piece's last
		turns := 0
		for day := today; turns < 4*Visits*pieces; day += every {
			for _, turn := range PlanDay(day, minutes, all).Turns {
				turns++
				seen[turn.ID] = turns
				c := &all[turn.ID-1]
				c.Standing = c.Add(c.Goal, Play{Day: day, Tempo: turn.Target, Clarity: Broken})
			}
			for id := range pieces {
				if gap := turns - seen[id+1]; gap > Visits*pieces+30 {
					t.Fatalf("%d minutes every %d days: piece %d was left alone for %d turns", minutes, every, id+1, gap)
				}
			}
		}
	}
}

// Clear on every day that SM-2 names, a piece is not believed to have slipped
// before the next, up to an interval of 38 days; then the belief is the more
// careful of the two.
func TestBeliefAgreesWithSM2(t *testing.T) {
	s := played([3]int{0, goal, 4})
	for s.SM2.Interval <= 38 {
		if s.DueOn(goal) != s.Due {
			t.Errorf("at an interval of %d days it is believed to slip after %d", s.SM2.Interval, s.DueOn(goal)-s.Last)
		}
		s = s.Add(goal, Play{Day: s.Due, Tempo: goal, Clarity: Clear})
	}
}

func TestRestingPiecesAreNotPlanned(t *testing.T) {
	c := kept(1, "gat", 120, 3)
	c.Resting = today
	if plan := PlanDay(today, 45, []Candidate{c}); len(plan.Turns)+len(plan.Left) != 0 {
		t.Errorf("a resting piece was planned: %+v", plan)
	}
	if plan := PlanDay(today-1, 45, []Candidate{c}); len(plan.Turns) != 1 {
		t.Error("before it rested it was not planned")
	}
}

func anyRepertoire(t *rapid.T) []Candidate {
	var all []Candidate
	for id := range int64(rapid.IntRange(0, 40).Draw(t, "pieces")) {
		goal := rapid.IntRange(40, 200).Draw(t, "goal")
		plays := anyPlays(t, goal)
		for i := range plays {
			plays[i].Day += today - 1 - plays[len(plays)-1].Day
		}
		start := StartFor(goal)
		c := Candidate{
			Piece: repertoire.Piece{ID: id + 1, Kind: rapid.SampledFrom(repertoire.Kinds).Draw(t, "kind"), Start: start, Goal: goal,
				After: rapid.Int64Range(0, id).Draw(t, "after"), Resting: repertoire.Never},
			Standing: Replay(start, goal, plays),
		}
		if rapid.IntRange(0, 9).Draw(t, "rests") == 0 {
			c.Resting = today - 3
		}
		all = append(all, c)
	}
	return all
}

func TestLawsOfPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := anyRepertoire(t)
		minutes := rapid.IntRange(1, 120).Draw(t, "minutes")
		plan := PlanDay(today, minutes, all)
		if plan.Minutes() > minutes {
			t.Fatalf("a plan of %d minutes for %d", plan.Minutes(), minutes)
		}
		shuffled := slices.Clone(all)
		rng := rand.New(rand.NewPCG(1, uint64(minutes)))
		rng.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		if again := PlanDay(today, minutes, shuffled); !slices.Equal(titles(again.Turns), titles(plan.Turns)) {
			t.Fatalf("asked twice: %v, then %v", titles(plan.Turns), titles(again.Turns))
		}
		more := titles(PlanDay(today, minutes+rapid.IntRange(1, 60).Draw(t, "more"), all).Turns)
		seen := map[int64]bool{}
		for _, turn := range plan.Turns {
			if !slices.Contains(more, turn.ID) {
				t.Fatalf("more minutes drop piece %d", turn.ID)
			}
			if seen[turn.ID] || turn.Rests(today) {
				t.Fatalf("piece %d has two turns, or rests", turn.ID)
			}
			if turn.Begin > turn.Target || turn.Target > turn.Goal || turn.Minutes < min(turn.Least()-shortened, minutes) || turn.Minutes > max(turn.Least(), turn.Most()) || turn.Why == "" {
				t.Fatalf("a bad turn: %+v", turn)
			}
			seen[turn.ID] = true
		}
		for _, l := range plan.Left {
			if seen[l.ID] || l.Why == "" || l.Rests(today) {
				t.Fatalf("left out, and has a turn, or no reason: %+v", l)
			}
			seen[l.ID] = true
		}
		for _, c := range all {
			if due := c.DueOn(c.Goal) <= today && c.Stage != Untouched; due && !c.Rests(today) && !seen[c.ID] {
				t.Fatalf("piece %d is due, and is neither played nor left out", c.ID)
			}
		}
	})
}

func BenchmarkPlanDay(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 16))
	var all []Candidate
	for id := range int64(10_000) {
		switch rng.IntN(10) {
		case 0:
			all = append(all, piece(id+1, "kaida", 120))
		case 1, 2:
			all = append(all, building(id+1, "gat", 60+rng.IntN(56)))
		default:
			all = append(all, kept(id+1, "rela", 100+rng.IntN(60), rng.IntN(100)))
		}
	}
	b.Run(fmt.Sprint(len(all)), func(b *testing.B) {
		for b.Loop() {
			PlanDay(today, 45, all)
		}
	})
}

// Where kinds alternate either way, a piece of another family goes first.
func TestFamilyTurnsStandApart(t *testing.T) {
	turn := func(id, after int64, kind repertoire.Kind, steps int) Turn {
		return Turn{Candidate: Candidate{Piece: repertoire.Piece{ID: id, After: after, Kind: kind}}, stage: Building, steps: steps, Target: 90}
	}
	var got []int64
	for _, turn := range order([]Turn{turn(9, 0, "gat", 0), turn(1, 0, "kaida", 9), turn(2, 1, "palta", 1), turn(4, 3, "palta", 1)}) {
		got = append(got, turn.ID)
	}
	if want := []int64{9, 1, 4, 2}; !slices.Equal(got, want) {
		t.Errorf("%v, not %v", got, want)
	}
}

// A family's turns stand apart where others can stand between them.
func TestFamiliesStandApart(t *testing.T) {
	for _, c := range []struct {
		turns string // a family's letter each, 0 for none; the last is at the end
		want  bool   // some neighbours are of one family
	}{{"000aa0", false}, {"0000aab0", false}, {"00ab0ba0aa00", false}, {"00aaa0", true}, {"0", false}, {"00", false}, {"aa0", true}} {
		var turns []Turn
		for i, family := range c.turns {
			turn := Turn{Candidate: Candidate{Piece: repertoire.Piece{ID: int64(i + 1)}}}
			if family != '0' {
				turn.After = 1000 + int64(family)
			}
			turns = append(turns, turn)
		}
		sunder(turns)
		beside, seen := false, map[int64]bool{}
		for i, turn := range turns {
			seen[turn.ID] = true
			beside = beside || i > 0 && related(turns[i-1], turn)
		}
		if beside != c.want || len(seen) != len(c.turns) {
			t.Errorf("%s: %v, %v", c.turns, beside, seen)
		}
	}
}
