package repertoire

import (
	"fmt"
	"slices"
	"strings"
)

// A Technique is a movement of the hands that a composition exercises. Runs
// holds the strokes, by name, that show it.
type Technique struct {
	Name string
	Runs []string
}

// Techniques are those that are read from bols (common practice, no source). A
// stroke counts for the first technique that it shows: the te te between two
// tirakitas is no titi.
var Techniques = []Technique{
	{"tirakita", []string{"te re ke te"}},
	{"dhere-dhere", []string{"dhe re dhe re", "te re te re", "dhe re ke te"}},
	{"kitataka", []string{"ke te ta ke"}},
	{"titi", []string{"te te"}},
	{"dhinagina", []string{"dhin na ge na", "tin na ke na"}},
	{"gadigana", []string{"ge di ge na"}},
	{"dhati", []string{"dha te", "ta te"}},
	{"takataka", []string{"ta ke ta ke"}},
	{"flams", []string{"kra", "dhra", "tra"}},
	{"kat", []string{"kat"}},
}

// enough is in how many strokes of a hundred a technique must be at work for a
// composition to be said to exercise it (our choice).
const enough = 10

// Techniques returns the names of what the composition exercises, the most
// present first.
func (n Notation) Techniques() []string {
	strokes := n.Strokes()
	names := make([]string, len(strokes))
	for i, s := range strokes {
		names[i] = s.Name
	}
	type found struct {
		name  string
		count int
	}
	var all []found
	claimed := make([]bool, len(names))
	for _, t := range Techniques {
		if count := claim(names, t.Runs, claimed); count*100 >= enough*len(names) && count > 0 {
			all = append(all, found{t.Name, count})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return b.count - a.count })
	tags := make([]string, len(all))
	for i, f := range all {
		tags[i] = f.name
	}
	return tags
}

// claim counts the strokes that stand in any of the runs and were not claimed,
// and claims them.
func claim(names, runs []string, claimed []bool) int {
	count := 0
	for _, run := range runs {
		words := strings.Fields(run)
		for i := 0; i+len(words) <= len(names); i++ {
			if slices.Equal(names[i:i+len(words)], words) && !slices.Contains(claimed[i:i+len(words)], true) {
				for j := range words {
					claimed[i+j] = true
				}
				count += len(words)
			}
		}
	}
	return count
}

// FindTechnique returns the technique of that name. The error lists the names.
func FindTechnique(name string) (string, error) {
	var names []string
	for _, t := range Techniques {
		if plain := strings.ReplaceAll(Fold(name), " ", "-"); t.Name == plain {
			return t.Name, nil
		}
		names = append(names, t.Name)
	}
	return "", fmt.Errorf("%q is no technique known here; known are %s", name, strings.Join(names, ", "))
}
