package schedule

// What a musician needs on top of SM-2. The published rule speaks of items
// repeated on the very day they are due; pieces are played when there is time.
// The figures below that carry no source are our choice.

// longest is the longest interval, in days. SM-2 has none, but it was made for
// facts: of a piece not played for a year no one can say that the hands keep it.
const longest = 365

// Repeat returns the state after a repetition at goal tempo, clarity 3 or
// better, waited days after the last one that counted.
//
//   - On its day: SM-2's next interval.
//   - Before its day: only the part of the growth that it has waited for, and
//     the same part of a gain in ease.
//   - After its day and clear: half of the days it waited beyond its day are
//     added, for it has held that long, once.
//   - After a slip from an interval of lost days: twice SM-2's interval until
//     it stands where it stood, because what was once known is relearned faster
//     (savings: H. Ebbinghaus, "Über das Gedächtnis", 1885; from memory).
//   - Never more than longest.
func (s SM2) Repeat(q Clarity, waited, lost int) SM2 {
	next := s.Next(q)
	if next.Interval < lost {
		next.Interval = min(2*next.Interval, lost)
	}
	switch {
	case s.N == 0:
	case waited < s.Interval:
		next.Interval = s.Interval + max(0, next.Interval-s.Interval)*waited/s.Interval
		if gain := next.Ease - s.Ease; gain > 0 {
			next.Ease = s.Ease + gain*waited/s.Interval
		}
	case q >= Clear:
		next.Interval += (waited - s.Interval) / 2
	}
	next.Interval = min(next.Interval, longest)
	return next
}
