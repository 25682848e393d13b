package main

import (
	"crypto/sha256"
	"fmt"
	"time"

	ics "github.com/arran4/golang-ical"

	"dohra/repertoire"
	"dohra/schedule"
)

// calendarOf writes a concert, its run-throughs and the light day before it as
// iCalendar (RFC 5545): whole days, whose identities hang on the concert's name
// alone, so that a second import moves them and doubles none.
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
	add := func(identity, summary, text string, day repertoire.Day) {
		e := cal.AddEvent(uid(c, identity))
		e.SetDtStampTime(k.now())
		e.SetAllDayStartAt(time.Unix(int64(day)*86400, 0).UTC())
		e.SetAllDayEndAt(time.Unix(int64(day+1)*86400, 0).UTC())
		e.SetSummary(harmless(summary))
		e.SetDescription(harmless(text))
	}
	add("concert", c.Name, fmt.Sprintf("%s, a slot of %s.", plural(len(c.Set), "piece"), plural(c.Minutes, "minute")), c.Day)
	for i, day := range c.RunThroughs(practice) {
		add(fmt.Sprintf("run-through %d", i+1), c.Name+": run-through", "The whole set once, as on the day.", day)
	}
	add("light", c.Name+": light day", "Half of the minutes, nothing new.", c.Day-1)
	return cal.SerializeTo(k.out, ics.WithNewLineWindows)
}

// uid returns the identity of an event of a concert.
func uid(c schedule.Concert, event string) string {
	sum := sha256.Sum256([]byte(repertoire.Fold(c.Name) + "\n" + event))
	return fmt.Sprintf("%x@dohra", sum[:12])
}
