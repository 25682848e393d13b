package schedule

import "dohra/repertoire"

// Before a planned absence what would not survive it is played once more; after
// a long one the first days are shorter, for hands out of use hurt sooner
// (common practice, no source; the figures are our choice).
const (
	lead     = 5 // days before an absence on which it is looked ahead to
	longAway = 7 // days of an absence after which the return is eased
)

// eased are the parts of their minutes, in quarters, that the first days after a
// long absence have.
var eased = [...]int{2, 3}

// ease returns what is left of the minutes of a day, rounded up.
func (c Calendar) ease(day repertoire.Day, minutes int) int {
	if quarters := c.quarters(day); quarters < 4 {
		return (minutes*quarters + 3) / 4
	}
	return minutes
}

// Eased reports whether the day comes so soon after a long absence that it has
// fewer minutes.
func (c Calendar) Eased(day repertoire.Day) bool { return c.quarters(day) < 4 }

func (c Calendar) quarters(day repertoire.Day) int {
	for _, a := range c.Absences {
		if since := int(day-a.To) - 1; since >= 0 && since < len(eased) && a.Days() >= longAway {
			return eased[since]
		}
	}
	return 4
}

// Horizon returns the last day that the plan of the day looks ahead to: the
// return from an absence that begins soon, or the day itself.
func (c Calendar) Horizon(day repertoire.Day) repertoire.Day {
	if a, soon := c.leaving(day); soon {
		return a.To + 1
	}
	return day
}

// leaving returns the absence that begins within lead days after the day.
func (c Calendar) leaving(day repertoire.Day) (Absence, bool) {
	for _, a := range c.Absences {
		if day < a.From && a.From-day <= lead {
			return a, true
		}
	}
	return Absence{}, false
}

// BeforeAway marks the kept pieces that are believed to hold, but not until the
// return from an absence that begins soon. Each is asked for once.
func (c Calendar) BeforeAway(day repertoire.Day, claims []Claim) {
	a, soon := c.leaving(day)
	for i := range claims {
		claim := &claims[i]
		claim.Away = 0
		if soon && claim.Last < a.From-lead && claim.stageOn(day) == Kept && claim.stageOn(a.To+1) == Slipped {
			claim.Away = int(a.To + 1 - day)
		}
	}
}
