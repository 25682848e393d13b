package schedule

import "dohra/repertoire"

// An echo is what a play tells of another piece of the family: a palta or tihai
// keeps alive the phrases that it has in common with its kaida, and the kaida
// those of its paltas. It moves the belief in part, and nothing else: no
// interval, no stage.

// Share returns the part of the strokes of piece, in per cent, that also stand
// in phrases of other; 0 when the bols of either are not known.
func Share(piece, other repertoire.Piece) int {
	a, errA := repertoire.ReadBols(piece.Bols)
	b, errB := repertoire.ReadBols(other.Bols)
	if errA != nil || errB != nil {
		return 0
	}
	shared, of := repertoire.Shared(a.Strokes(), b.Strokes())
	if of == 0 {
		return 0
	}
	return 100 * shared / of
}

// Echo returns a play of another piece as piece hears it: at the same part of
// its own goal. share is what Share gives, in per cent.
func Echo(p Play, other, piece repertoire.Piece, share int) Play {
	p.Share = share
	p.Tempo = min(max(p.Tempo*piece.Goal/other.Goal, repertoire.MinTempo), repertoire.MaxTempo)
	return p
}

// echo returns the standing after an echo. Only a clear play is heard, for what
// goes wrong in a palta may be what is new in it; and an untouched piece hears
// nothing. What was only spoken is not heard. An echo brings back what had
// faded, and teaches nothing that is new.
func (s Standing) echo(p Play) Standing {
	if s.Stage == Untouched || p.Clarity < Clear || p.Spoken {
		return s
	}
	edge, _ := s.on(p.Day)
	most, room := max(edge, s.Peak), s.Room
	s.Belief = s.after(p, float64(p.Share)/100)
	s.Edge, s.Peak, s.Room = min(s.Edge, most), min(s.Peak, most), room
	s.Belief = s.rounded()
	return s
}
