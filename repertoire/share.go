package repertoire

// sharedRun is the shortest run of strokes that counts as a phrase in common.
const sharedRun = 4

// Shared returns how many of the strokes of piece also stand, in runs of at
// least four, in other, and how many strokes piece has. Pauses and the speed at
// which strokes are written do not count.
func Shared(piece, other []*Stroke) (shared, of int) {
	type run [sharedRun]*Stroke
	known := map[run]bool{}
	for i := 0; i+sharedRun <= len(other); i++ {
		known[run(other[i:i+sharedRun])] = true
	}
	covered := 0 // strokes before this place that are counted
	for i := 0; i+sharedRun <= len(piece); i++ {
		if known[run(piece[i:i+sharedRun])] {
			shared += i + sharedRun - max(i, covered)
			covered = i + sharedRun
		}
	}
	return shared, len(piece)
}
