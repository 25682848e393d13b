package schedule

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"dohra/repertoire"
)

// A NamedPlay is a play of a sheet, whose piece is a title.
type NamedPlay struct {
	Row   int
	Title string
	Play
}

var playColumns = []string{"title", "day", "tempo", "clarity", "minutes", "note", "sore", "spoken", "line"}

// ReadPlays reads a sheet of plays, of today at the latest; now and then it
// tells tick how far it is. Faults are in the sheet; an error is one of the
// sheet as a whole.
func ReadPlays(text []byte, today repertoire.Day, tick func(done, total int)) (plays []NamedPlay, s *repertoire.Sheet, err error) {
	if s, err = repertoire.OpenSheet(text, playColumns...); err != nil {
		return nil, nil, err
	}
	if err := s.Need("title", "day", "tempo", "clarity"); err != nil {
		return nil, nil, err
	}
	titles := map[string]string{} // so that a title is kept once
	for {
		more, err := s.Next()
		if err != nil || !more {
			return plays, s, err
		}
		p := readPlay(s, today)
		if known, ok := titles[p.Title]; ok {
			p.Title = known
		} else {
			p.Title = strings.Clone(p.Title)
			titles[p.Title] = p.Title
		}
		plays = append(plays, p)
		if len(plays)%10_000 == 0 {
			tick(s.Done())
		}
	}
}

// readPlay reads a row.
func readPlay(s *repertoire.Sheet, today repertoire.Day) NamedPlay {
	p := NamedPlay{Row: s.Row(), Title: s.Cell("title")}
	var err error
	if strings.TrimSpace(p.Title) == "" {
		s.Bad("title", "the title of a piece")
	}
	if p.Day, err = sheetDay(s.Cell("day")); err != nil {
		s.Bad("day", err.Error())
	} else if p.Day > today {
		s.Bad("day", fmt.Sprintf("a day until today, %s", today))
	}
	p.Tempo = s.Int("tempo", repertoire.MinTempo, repertoire.MaxTempo, -1)
	if p.Clarity, err = ParseClarity(s.Cell("clarity")); err != nil {
		s.Bad("clarity", strings.Join(clarities, ", ")+", or 0 to 5")
	}
	p.Minutes = s.Int("minutes", 1, MaxMinutes, 0)
	p.Sore, p.Spoken = s.Yes("sore"), s.Yes("spoken")
	if lines := strings.TrimSpace(s.Cell("line")); lines != "" {
		part, err := ParsePart(lines)
		if err != nil {
			s.Bad("line", "a line such as 2, or lines such as 1-2")
		}
		p.Play = p.Of(part)
	}
	if note := s.Cell("note"); note != "" {
		if p.Note, err = repertoire.CleanNote(strings.Clone(note)); err != nil {
			s.Bad("note", err.Error())
		}
	}
	return p
}

// sheetDay reads a day as it stands in sheets: year-month-day, or day, month
// and year where it cannot be month, day and year. With dots between, the day
// comes first everywhere (common practice, no source).
func sheetDay(text string) (repertoire.Day, error) {
	if day, err := repertoire.ParseDay(text); err == nil {
		return day, nil
	}
	fields := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("./-", r) })
	if len(fields) == 3 && len(fields[2]) == 4 && len(fields[0]) <= 2 && len(fields[1]) <= 2 {
		first, err1 := strconv.Atoi(fields[0])
		second, err2 := strconv.Atoi(fields[1])
		t, err3 := time.Parse("2 1 2006", strings.Join(fields, " "))
		switch {
		case err1 != nil || err2 != nil || err3 != nil || t.Year() < 1000:
		case first <= 12 && second <= 12 && first != second && !strings.Contains(text, "."):
			return 0, fmt.Errorf("%s, if that is day-month-year; it may be month-day-year", repertoire.DayOf(t))
		default:
			return repertoire.DayOf(t), nil
		}
	}
	return 0, fmt.Errorf("a day such as 2026-11-25 or 25.11.2026")
}

// Cells returns the play as a row of a sheet.
func (p NamedPlay) Cells() []string {
	return []string{p.Title, p.Day.String(), strconv.Itoa(p.Tempo), p.Clarity.String(), unlessZero(p.Minutes), p.Note,
		unlessZero(one(p.Sore)), unlessZero(one(p.Spoken)), p.Part().Lines()}
}

func unlessZero(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// PlayColumns are the head of a sheet of plays.
func PlayColumns() []string { return playColumns }
