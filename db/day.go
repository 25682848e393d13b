package db

import (
	"database/sql/driver"
	"fmt"

	"dohra/repertoire"
)

// day is a repertoire.Day in a column: YYYY-MM-DD, or NULL for Never.
type day repertoire.Day

// Scan implements sql.Scanner.
func (d *day) Scan(value any) error {
	var text string
	switch v := value.(type) {
	case nil:
		*d = day(repertoire.Never)
		return nil
	case string:
		text = v
	case []byte:
		text = string(v)
	default:
		return fmt.Errorf("a day is kept as text, not %T", value)
	}
	parsed, err := repertoire.ParseDay(text)
	*d = day(parsed)
	return err
}

// Value implements driver.Valuer.
func (d day) Value() (driver.Value, error) {
	if repertoire.Day(d) == repertoire.Never {
		return nil, nil
	}
	return repertoire.Day(d).String(), nil
}
