package main

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"time"

	ics "github.com/arran4/golang-ical"

	"dohra/repertoire"
	"dohra/schedule"
)

// calendarOf writes a concert, its run-throughs and the light day before it as
// iCalendar (RFC 5545): whole days, whose identities hang on the concert's name
// alone, so that a second import moves them and doubles none. What a changed date
// or a fuller week leaves no room for is cancelled, and so is what was due on a day
// past on which nothing of the set was played. The sequence is the day of
// asking and the stamp its moment, so that what was written later counts.
func calendarOf(k *call) error {
	c, err := k.concert(words(k.Context))
	if err != nil {
		return err
	}
	practice, _, err := k.store.Calendar(k.settings.Minutes)
	if err != nil {
		return err
	}
	cal := ics.NewCalendar()
	cal.SetProductId("-//dohra//concert//EN")
	cal.SetMethod(ics.MethodPublish)
	add := func(identity, summary, text string, day repertoire.Day, takesPlace bool) {
		e := cal.AddEvent(uid(c, identity))
		e.SetDtStampTime(k.now())
		e.SetSequence(int(k.today))
		e.SetAllDayStartAt(time.Unix(int64(day)*86400, 0).UTC())
		e.SetAllDayEndAt(time.Unix(int64(day+1)*86400, 0).UTC())
		e.SetSummary(harmless(summary))
		e.SetDescription(harmless(text))
		e.SetTimeTransparency(ics.TransparencyTransparent)
		status := ics.ObjectStatusConfirmed
		if !takesPlace {
			status = ics.ObjectStatusCancelled
		}
		e.SetStatus(status)
	}
	add("concert", c.Name, fmt.Sprintf("%s, a slot of %s.", plural(len(c.Set), "piece"), plural(c.Minutes, "minute")), c.Day, true)
	runs := c.RunThroughs(practice)
	slices.Reverse(runs) // counted from the concert back, so that what falls out is the first
	for i := schedule.MostRunThroughs - 1; i >= 0; i-- {
		day, takesPlace := c.Day-14, i < len(runs)
		if takesPlace {
			day = runs[i]
			if takesPlace, err = k.mayRun(c, day); err != nil {
				return err
			}
		}
		add(fmt.Sprintf("run-through %d", i+1), c.Name+": run-through", "The whole set once, as on the day.", day, takesPlace)
	}
	add("light", c.Name+": light day", "The whole set once, lightly, in half of the minutes.", c.Day-1, practice.Minutes(c.Day-1) > 0)
	return cal.SerializeTo(k.out, ics.WithNewLineWindows)
}

// mayRun reports whether the set may have been run through on a day, or may be yet.
func (k *call) mayRun(c schedule.Concert, day repertoire.Day) (bool, error) {
	if day >= k.day {
		return true, nil
	}
	plays, err := k.store.PlaysOn(day)
	return slices.ContainsFunc(plays, func(p schedule.Play) bool { return c.At(p.Piece) >= 0 }), err
}

// uid returns the identity of an event of a concert.
func uid(c schedule.Concert, event string) string {
	sum := sha256.Sum256([]byte(repertoire.Fold(c.Name) + "\n" + event))
	return fmt.Sprintf("%x@dohra", sum[:12])
}
