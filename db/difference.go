package db

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"dohra/repertoire"
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
// was kept of what both have but other has differently.
func Merged(before, other, after Archive) []Change {
	all := Changes(before, after)
	taken := map[string]bool{}
	for _, c := range all {
		taken[c.Title] = c.Differs != ""
	}
	settings := maps.Clone(after.Settings) // what other leaves unsaid is no difference
	maps.Copy(settings, other.Settings)
	other.Settings = settings
	for _, c := range Changes(after, other) {
		if c.State == Changed && c.Differs != "" && c.Differs != "added" && !taken[c.Title] {
			all = append(all, Change{Title: c.Title, State: Kept, Differs: c.Differs})
		}
	}
	return all
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
		all["the absence from "+away.From.String()] = thing{"to": away.To.String()}
	}
	for _, c := range a.Concerts {
		set, _ := json.Marshal(c.Set)
		all["the concert "+c.Name] = thing{"day": c.Day.String(), "minutes": strconv.Itoa(c.Minutes), "talas": strings.Join(c.Talas, "\n"),
			"note": c.Note, "set": string(set)}
	}
	return all
}

// settingTitle is what a setting is called: the flag that sets it, or a weekday.
func settingTitle(name string) string {
	for i, day := range []string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"} {
		if name == weekdaySetting(i) {
			return "the minutes of " + day
		}
	}
	return "the setting " + strings.ReplaceAll(name, "_", "-")
}

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

// differs tells in which fields a thing is not as other, with short values.
func (t thing) differs(other thing) string {
	var all []string
	for _, field := range slices.Sorted(maps.Keys(t)) {
		const short = 10 // characters, as a day has
		switch own, was := t[field], other[field]; {
		case own == was:
		case own == "" || was == "" || len(own) > short || len(was) > short:
			all = append(all, field)
		default:
			all = append(all, strings.TrimSpace(fmt.Sprintf("%s %s (now %s)", field, own, was)))
		}
	}
	return strings.Join(all, ", ")
}

// differs tells in what a record is not as other, apart from its plays.
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
	return strings.Join(all, ", ")
}
