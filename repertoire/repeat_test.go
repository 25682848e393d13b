package repertoire

import "testing"

func TestFindRepeat(t *testing.T) {
	for bols, want := range map[string]Repeat{
		"dha dhin dhin dha | dha dhin dhin dha |":                               {"dha dhin dhin dha", 4, 2},
		"dhati dhage nadha tite dha - dhati dhage nadha tite dha -":             {"dhati dhage nadha tite", 4, 2},
		"tirakita dha tirakita tuna tirakita kata":                              {"tirakita", 1, 3},
		"dhatite dhatite kata gadi dhatite dhatite gena kata dhatite dhatite -": {"dhatite dhatite", 2, 3},
		"dhati dhage nadha tite":                                                {},
		"dha dha dha":                                                           {},
	} {
		n, err := ReadBols(bols)
		if err != nil {
			t.Fatal(err)
		}
		if got, ok := FindRepeat(n); got != want || ok != (want.Times > 0) {
			t.Errorf("%s: %+v %v", bols, got, ok)
		}
	}
}
