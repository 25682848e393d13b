package db

import (
	"database/sql"
	"errors"
	"slices"
	"strconv"
	"strings"

	"dohra/repertoire"
)

// ErrInUse says that pieces are in the tala.
var ErrInUse = errors.New("there are pieces in that tala")

// Talas returns the talas that are known: the common ones, then the player's
// own by name.
func (s *Store) Talas() ([]repertoire.Tala, error) {
	own, err := ownTalas(s.db)
	return append(slices.Clone(repertoire.Talas), own...), err
}

// ownTalas returns the talas that the player defined, by name.
func ownTalas(q querier) ([]repertoire.Tala, error) {
	return collect(q, scanTala, talaColumns+" ORDER BY folded")
}

const talaColumns = "SELECT name, vibhags, tali, khali, theka FROM tala"

func scanTala(rows *sql.Rows) (t repertoire.Tala, err error) {
	var vibhags, tali, khali string
	if err := rows.Scan(&t.Name, &vibhags, &tali, &khali, &t.Theka); err != nil {
		return t, err
	}
	t.Vibhags, t.Tali, t.Khali = numbers(vibhags), numbers(tali), numbers(khali)
	return t, t.Check()
}

// AddTala keeps a tala of the player's. ErrTaken when one of its name is there.
func (s *Store) AddTala(t repertoire.Tala) error {
	return s.inTx(func(tx *sql.Tx) error { return saveTala(tx, t, "INSERT") })
}

func saveTala(tx *sql.Tx, t repertoire.Tala, verb string) error {
	_, err := tx.Exec(verb+" INTO tala (name, folded, vibhags, tali, khali, theka) VALUES (?, ?, ?, ?, ?, ?)",
		t.Name, repertoire.Fold(t.Name), joined(t.Vibhags), joined(t.Tali), joined(t.Khali), t.Theka)
	return taken(err)
}

// RemoveTala removes a tala of the player's. ErrInUse when pieces are in it.
func (s *Store) RemoveTala(name string) error {
	return s.inTx(func(tx *sql.Tx) error {
		var used bool
		if err := tx.QueryRow("SELECT EXISTS (SELECT 1 FROM piece WHERE tala = ?)", name).Scan(&used); err != nil {
			return err
		}
		if used {
			return ErrInUse
		}
		_, err := tx.Exec("DELETE FROM tala WHERE name = ?", name)
		return err
	})
}

// numbers reads what joined wrote.
func numbers(text string) []int {
	var list []int
	for _, field := range strings.Fields(text) {
		if n, err := strconv.Atoi(field); err == nil {
			list = append(list, n)
		}
	}
	return list
}

func joined(list []int) string {
	fields := make([]string, len(list))
	for i, n := range list {
		fields[i] = strconv.Itoa(n)
	}
	return strings.Join(fields, " ")
}
