package repertoire

import "testing"

func TestParseKind(t *testing.T) {
	if kind, err := ParseKind(" Kaida"); err != nil || kind != "kaida" {
		t.Errorf("%q, %v", kind, err)
	}
	if kind, err := ParseKind("sonata"); err == nil {
		t.Errorf("sonata is the kind %q", kind)
	}
	if len(Kinds) != 15 {
		t.Errorf("%d kinds, the design names 15", len(Kinds))
	}
}

func TestPieceCheck(t *testing.T) {
	for _, c := range []struct {
		start, goal int
		kind        Kind
		ok          bool
	}{
		{60, 120, "kaida", true}, {20, 400, "gat", true}, {120, 120, "gat", true},
		{19, 120, "gat", false}, {60, 401, "gat", false}, {121, 120, "gat", false}, {60, 120, "sonata", false},
	} {
		if err := (Piece{Start: c.start, Goal: c.goal, Kind: c.kind}).Check(); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c, err)
		}
	}
}
