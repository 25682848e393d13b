package repertoire

import (
	"reflect"
	"strings"
	"testing"
)

const smallPack = `# by hand
[[tala]]
name = "lamp" # a made-up one
vibhags = [3,
  2]
tali = [1]
khali = [4]

[[piece]]
title = '  Kite   kaida '
kind = "Kaida"
tala = "lamp"
teacher = " Aunt  Mira"
goal = 120
bols = """
dha dhin na | ta na
gaol = 7 is no key in here
"""
`

func TestReadPack(t *testing.T) {
	good := strings.Replace(smallPack, "gaol = 7 is no key in here", "dha - na | # na", 1)
	good = strings.Replace(good, "# na", "ta na", 1)
	p, err := ReadPack([]byte("\ufeff" + strings.ReplaceAll(good, "\n", "\r\n")))
	want := Pack{
		Talas:  []Tala{{Name: "lamp", Vibhags: []int{3, 2}, Tali: []int{1}, Khali: []int{4}}},
		Pieces: []Entry{{Title: "Kite kaida", Kind: "kaida", Tala: "lamp", Teacher: "Aunt Mira", Goal: 120, Bols: "dha dhin na | ta na\ndha - na | ta na"}},
	}
	if err != nil || !reflect.DeepEqual(p, want) {
		t.Errorf("%+v, %v", p, err)
	}
}

// What a pack cannot hold is refused with its place, and soon.
func TestReadPackRefuses(t *testing.T) {
	piece := func(more string) string {
		return "[[piece]]\ntitle = 'x'\nkind = 'gat'\ntala = 'rupak'\ngoal = 90\n" + more
	}
	for text, want := range map[string]string{
		smallPack:                                             "the bols",
		piece("gaol = 3"):                                     `line 6: "gaol" has no meaning`,
		piece("goal = 91"):                                    "line 6",
		piece("start = 91"):                                   "start tempo 91 is above goal tempo 90",
		piece("start = 99999999999999999999"):                 "line 6",
		piece("start = 60.5"):                                 "line 6",
		piece("note = '" + "\x01" + "'"):                      "line 6",
		piece("note = \"\\u202e\""):                           "hidden characters",
		piece("teacher = \"\\u202e\""):                        "hidden characters",
		piece("teacher = '" + strings.Repeat("x", 121) + "'"): "at most 120 characters",
		piece("bols = 'xyzzy'"):                               "the bols",
		piece("bols = '((((dha)x99)x99)x99)x99'"):             "the bols",
		piece("") + piece(""):                                 "it is there twice",
		"\xff":                                                "UTF-8",
		strings.Repeat("#", MaxPack+1):                        "longer than 4 MiB",
		"title = " + strings.Repeat("[", 1<<20):               "nested",
		"a." + strings.Repeat("a.", 1<<20) + "b=1":            "line 1",
		strings.Repeat("[[piece.x]]\n", 1<<18):                "line 1",
		strings.Repeat("x=1\n", 1<<18):                        "line 1",
		"piece = [{title='x'}]":                               "line 1",
		"[[tala]]\nname='lamp'\nvibhags=[-3]":                 "tala 1",
		"[[tala]]\nname='lamp'\nvibhags=[99999999]":           "tala 1",
	} {
		if _, err := ReadPack([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.80q: %v, want %q", text, err, want)
		}
	}
}

// A pack that reads is written so that it reads the same.
func FuzzReadPack(f *testing.F) {
	f.Add([]byte(smallPack))
	f.Add([]byte("[[piece]]\ntitle = 'x'\nkind = 'gat'\ntala = 'rupak'\ngoal = 90\nafter='y'\nnote='''n'''\nbols = \"dha dhin\\ndha\""))
	f.Add([]byte("# \"\"\"\n[[tala]]"))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := ReadPack(text)
		if err != nil {
			return
		}
		written, err := p.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		again, err := ReadPack(written)
		if len(p.Pieces) == 0 {
			p.Pieces, again.Pieces = nil, nil
		}
		if len(p.Talas) == 0 {
			p.Talas, again.Talas = nil, nil
		}
		for _, t := range [][]Tala{p.Talas, again.Talas} {
			for i := range t {
				if len(t[i].Khali) == 0 {
					t[i].Khali = nil
				}
				if len(t[i].Tali) == 0 {
					t[i].Tali = nil
				}
			}
		}
		if err != nil || !reflect.DeepEqual(again, p) {
			t.Errorf("%+v\nis written as %s\nand read as %+v, %v", p, written, again, err)
		}
	})
}
