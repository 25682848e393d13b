package repertoire

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// A Tala is a cycle of matras in vibhags, each begun by a clap (tali) or a
// wave (khali). Sam is matra 1.
type Tala struct {
	Name    string `toml:"name" json:"name"`
	Vibhags []int  `toml:"vibhags" json:"vibhags"`       // matras of each
	Tali    []int  `toml:"tali" json:"tali"`             // the matras that are clapped
	Khali   []int  `toml:"khali" json:"khali"`           // the matras that are waved
	Theka   string `toml:"theka,omitempty" json:"theka"` // its bols, or ""
}

// Matras returns the length of one cycle.
func (t Tala) Matras() int {
	n := 0
	for _, v := range t.Vibhags {
		n += v
	}
	return n
}

// Talas are the cycles that are known without being told.
//
// The structure of the first four was seen in the CompMusic Hindustani Rhythm
// Dataset (Srinivasamurthy et al., ICASSP 2016); the others are from memory of
// handbooks in Bhatkhande's notation. The thekas are common forms, from memory.
var Talas = []Tala{
	{"teental", []int{4, 4, 4, 4}, []int{1, 5, 13}, []int{9},
		"dha dhin dhin dha | dha dhin dhin dha | dha tin tin ta | ta dhin dhin dha |"},
	{"ektal", []int{2, 2, 2, 2, 2, 2}, []int{1, 5, 9, 11}, []int{3, 7},
		"dhin dhin | dhage tirakita | tu na | kat ta | dhage tirakita | dhin na |"},
	{"jhaptal", []int{2, 3, 2, 3}, []int{1, 3, 8}, []int{6},
		"dhi na | dhi dhi na | ti na | dhi dhi na |"},
	{"rupak", []int{3, 2, 2}, []int{4, 6}, []int{1},
		"tin tin na | dhi na | dhi na |"},
	{"keherwa", []int{4, 4}, []int{1}, []int{5},
		"dha ge na ti | na ka dhi na |"},
	{"dadra", []int{3, 3}, []int{1}, []int{4},
		"dha dhin na | dha tin na |"},
	{"chautal", []int{2, 2, 2, 2, 2, 2}, []int{1, 5, 9, 11}, []int{3, 7},
		"dha dha | din ta | kita dha | din ta | tita kata | gadi gana |"},
	{"sultal", []int{2, 2, 2, 2, 2}, []int{1, 5, 7}, []int{3, 9},
		"dha dha | din ta | kita dha | tita kata | gadi gana |"},
	{"tivra", []int{3, 2, 2}, []int{1, 4, 6}, nil,
		"dha din ta | tita kata | gadi gana |"},
	{"dhamar", []int{5, 2, 3, 4}, []int{1, 6, 11}, []int{8},
		"ka dhi ta dhi ta | dha - | ga di na | di na ta - |"},
	{"jhumra", []int{3, 4, 3, 4}, []int{1, 4, 11}, []int{8},
		"dhin -dha tirakita | dhin dhin dhage tirakita | tin -ta tirakita | dhin dhin dhage tirakita |"},
	{"deepchandi", []int{3, 4, 3, 4}, []int{1, 4, 11}, []int{8},
		"dha dhin - | dha dha dhin - | ta tin - | dha dha dhin - |"},
	{"ada chautal", []int{2, 2, 2, 2, 2, 2, 2}, []int{1, 3, 7, 11}, []int{5, 9, 13},
		"dhin tirakita | dhin na | tu na | kat ta | tirakita dhin | na dhin | dhin na |"},
	{"tilwada", []int{4, 4, 4, 4}, []int{1, 5, 13}, []int{9},
		"dha tirakita dhin dhin | dha dha tin tin | ta tirakita dhin dhin | dha dha dhin dhin |"},
	{"pancham sawari", []int{3, 4, 4, 4}, []int{1, 4, 12}, []int{8},
		"dhin na dhidhi | kat dhidhi nadhi dhina | tin- tra- tinna tirakita | kat dhidhi nadhi dhina |"},
}

// talaSpellings are other common Latin spellings (common practice, no source).
var talaSpellings = map[string]string{
	"tintal": "teental", "tritaal": "teental", "trital": "teental", "teentaal": "teental", "tintaal": "teental",
	"ektaal": "ektal", "jhaptaal": "jhaptal", "rupak tal": "rupak", "roopak": "rupak",
	"kaharwa": "keherwa", "kaherva": "keherwa", "keharwa": "keherwa", "chowtal": "chautal",
	"chautaal": "chautal", "sool tal": "sultal", "sooltal": "sultal", "teevra": "tivra",
	"dipchandi": "deepchandi", "ada chowtal": "ada chautal", "tilvada": "tilwada",
	"panchamsawari": "pancham sawari", "rupaktal": "rupak", "rupak taal": "rupak", "dadra tal": "dadra", "keherwa tal": "keherwa", "adachautal": "ada chautal",
}

// FindTala returns the tala of that name among known, in any case and common
// spelling. The error lists the names.
func FindTala(name string, known []Tala) (Tala, error) {
	folded := Fold(name)
	if s, ok := talaSpellings[folded]; ok {
		folded = s
	}
	if i := slices.IndexFunc(known, func(t Tala) bool { return Fold(t.Name) == folded }); i >= 0 {
		return known[i], nil
	}
	return Tala{}, fmt.Errorf("%q %w; known are %s", name, ErrNoTala, talaNames(known))
}

// ErrNoTala says that a name is no tala's.
var ErrNoTala = errors.New("is no tala known here")

func talaNames(known []Tala) string {
	names := make([]string, len(known))
	for i, t := range known {
		names[i] = t.Name
	}
	return strings.Join(names, ", ")
}

// longestTala is the most matras that one cycle may have.
const longestTala = 128

// Check refuses a tala without a name or vibhags, with more than 128 matras,
// whose vibhags do not each begin with one sign, or whose theka does not read
// or does not fill one cycle.
func (t Tala) Check() error {
	if _, err := CleanTitle(t.Name); err != nil {
		return fmt.Errorf("the name: %w", err)
	}
	if len(t.Vibhags) == 0 {
		return errors.New("a tala needs vibhags, such as 4 4 4 4")
	}
	matra := 1
	for _, size := range t.Vibhags {
		if size < 1 || size > longestTala || matra > longestTala {
			return fmt.Errorf("a tala has vibhags of at least 1 matra and at most %d matras in all", longestTala)
		}
		claps, waves := occurrences(t.Tali, matra), occurrences(t.Khali, matra)
		if claps+waves != 1 {
			return fmt.Errorf("the vibhag that begins on matra %d needs one sign, and only one: give the matra to tali or to khali", matra)
		}
		matra += size
	}
	if t.Matras() > longestTala {
		return fmt.Errorf("a tala has at most %d matras", longestTala)
	}
	if len(t.Tali)+len(t.Khali) != len(t.Vibhags) {
		return errors.New("a tali or khali stands where no vibhag begins")
	}
	if t.Theka == "" {
		return nil
	}
	n, err := ReadBols(t.Theka)
	if err != nil {
		return fmt.Errorf("the theka: %w", err)
	}
	if got := len(n.Matras()); got != t.Matras() {
		return fmt.Errorf("the theka has %s, the tala %d", matrasOf(got), t.Matras())
	}
	if spot := misplacedBar(t, n); spot != "" {
		return fmt.Errorf("the theka: %s", spot)
	}
	return nil
}

func occurrences(list []int, n int) int {
	count := 0
	for _, x := range list {
		if x == n {
			count++
		}
	}
	return count
}
