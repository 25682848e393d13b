package db

import (
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"dohra/repertoire"
	"dohra/schedule"
)

// The states of a piece, or of another thing of the player's, in a change.
const (
	New     = "new"
	Changed = "changed"
	Same    = "same"
	Gone    = "gone"
	Kept    = "kept" // as it is, though another file says otherwise
)

// A Change is what becomes of one piece, or of another thing: a concert, a tala,
// a setting, an absence.
type Change struct {
	Title   string
	State   string
	Plays   int    // how many more
	Differs string // in what
	Why     string // it was kept, a clause
}

// Changes returns what becomes of every piece, by title, and then of those other
// things that change.
func Changes(before, after Archive) []Change {
	old, found := map[string]Record{}, map[string]bool{}
	for _, r := range before.Pieces {
		old[repertoire.Fold(r.Title)] = r
	}
	var all []Change
	for _, r := range after.Pieces {
		key := repertoire.Fold(r.Title)
		was, known := old[key]
		found[key] = true
		c := Change{Title: r.Title, State: New, Plays: len(r.Plays) - len(was.Plays)}
		if known {
			c.State, c.Differs = Same, r.differs(was)
			if c.Differs != "" || samePlays(r.Plays, was.Plays) < max(len(r.Plays), len(was.Plays)) {
				c.State = Changed
			}
		}
		all = append(all, c)
	}
	for _, r := range before.Pieces {
		if !found[repertoire.Fold(r.Title)] {
			all = append(all, Change{Title: r.Title, State: Gone, Plays: -len(r.Plays)})
		}
	}
	slices.SortStableFunc(all, func(a, b Change) int { return foldedOrder(a.Title, b.Title) })
	return append(all, thingChanges(before.things(), after.things())...)
}

// Merged returns the changes that a merge of other into before made, and what
// was kept of what both have but other has differently, and why.
func Merged(before, other, after Archive) []Change {
	all := Changes(before, after)
	taken := map[string]bool{}
	for _, c := range all {
		taken[repertoire.Fold(c.Title)] = c.says()
	}
	settings := maps.Clone(after.Settings) // what other leaves unsaid is no difference
	maps.Copy(settings, other.Settings)
	other.Settings = settings
	here, there := before.weights(), other.weights()
	for _, c := range Changes(after, other) {
		if key := repertoire.Fold(c.Title); c.State == Changed && c.says() && !taken[key] {
			all = append(all, Change{Title: c.Title, State: Kept, Differs: c.Differs, Why: whyKept(here[key], there[key])})
		}
	}
	return all
}

// says reports whether what differs is something that the player said, and not
// only when.
func (c Change) says() bool { return c.Differs != "" && c.Differs != "added" && c.Differs != "edited" }

// weights returns by which weight each thing is believed, by its folded name.
// Absences have none, for they are joined.
func (a Archive) weights() map[string]weight {
	all := map[string]weight{}
	whole := a.weight()
	for name := range a.things() {
		all[repertoire.Fold(name)] = whole
	}
	for _, away := range a.Absences {
		all[repertoire.Fold(absenceName(away))] = weight{}
	}
	for _, c := range a.Concerts {
		all[repertoire.Fold(concertName(c))] = weight{c.Edited, whole.last, whole.plays}
	}
	for _, r := range a.Pieces {
		all[repertoire.Fold(r.Title)] = r.weight()
	}
	return all
}

// whyKept says why what is here was believed. What was not was joined.
func whyKept(here, there weight) string {
	switch order := here.compare(there); {
	case order < 0 || here == weight{}:
		return "the two are joined"
	case here.edited > there.edited:
		return "it was changed here later"
	case order > 0:
		return "more was played here, or later"
	}
	return "neither file has it newer"
}

// A thing is what the player gave besides pieces, field by field.
type thing map[string]string

// things returns them by what they are called.
func (a Archive) things() map[string]thing {
	all := map[string]thing{}
	values := DefaultSettings.values()
	maps.Copy(values, a.Settings)
	for name, value := range values {
		all[settingTitle(name)] = thing{"": strconv.Itoa(value)}
	}
	for _, t := range a.Talas {
		all["the tala "+t.Name] = thing{"vibhags": joined(t.Vibhags), "tali": joined(t.Tali), "khali": joined(t.Khali), "theka": t.Theka}
	}
	for _, away := range a.Absences {
		all[absenceName(away)] = thing{"to": away.To.String()}
	}
	for _, c := range a.Concerts {
		set, _ := json.Marshal(c.Set)
		all[concertName(c)] = thing{"day": c.Day.String(), "minutes": strconv.Itoa(c.Minutes), "talas": strings.Join(c.Talas, "\n"),
			"note": c.Note, "set": string(set), "edited": fmt.Sprint(c.Edited)}
	}
	return all
}

func absenceName(a schedule.Absence) string { return "the absence from " + a.From.String() }

func concertName(c Concert) string { return "the concert " + c.Name }

func thingChanges(before, after map[string]thing) (all []Change) {
	for name, now := range after {
		switch was, known := before[name]; {
		case !known:
			all = append(all, Change{Title: name, State: New})
		case !maps.Equal(was, now):
			all = append(all, Change{Title: name, State: Changed, Differs: now.differs(was)})
		}
	}
	for name := range before {
		if _, known := after[name]; !known {
			all = append(all, Change{Title: name, State: Gone})
		}
	}
	slices.SortFunc(all, func(a, b Change) int { return foldedOrder(a.Title, b.Title) })
	return all
}

// differs tells in which fields a thing is not as other, with short values; that
// it was edited at another time, when nothing else differs.
func (t thing) differs(other thing) string {
	var all []string
	for _, field := range slices.Sorted(maps.Keys(t)) {
		const short = 10 // characters, as a day has
		switch own, was := t[field], other[field]; {
		case own == was || field == "edited":
		case own == "" || was == "" || len(own) > short || len(was) > short:
			all = append(all, field)
		default:
			all = append(all, strings.TrimSpace(fmt.Sprintf("%s %s (now %s)", field, own, was)))
		}
	}
	return cmp.Or(strings.Join(all, ", "), "edited")
}

// differs tells in what a record is not as other, apart from its plays; likewise.
func (r Record) differs(other Record) string {
	var all []string
	if text := r.Entry.Differs(other.Entry); text != "" {
		all = append(all, text)
	}
	if r.Added != other.Added {
		all = append(all, "added")
	}
	if r.Resting != other.Resting {
		all = append(all, "resting")
	}
	if all == nil && r.Edited != other.Edited {
		return "edited"
	}
	return strings.Join(all, ", ")
}
