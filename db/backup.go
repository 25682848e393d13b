package db

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/mattn/go-sqlite3"
)

// Backups are made with SQLite's online backup: they hold the file as it was at
// one moment, whoever else is writing.

// keptBackups is how many backups are kept beside a file.
const keptBackups = 10

// Backup writes the repertoire to a new file at path, readable by its owner
// only, which appears whole. A file that is there already is left alone, and a
// damaged repertoire is not copied.
func (s *Store) Backup(path string) error {
	if err := s.backup(path); errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s is there already", path)
	} else if err != nil {
		return fmt.Errorf("no backup at %s: %w", path, PlainFile(Plain(err)))
	}
	return nil
}

func (s *Store) backup(path string) error {
	if err := noStray(path); err != nil {
		return err
	}
	return aside(path, func(name string) error {
		to, err := sql.Open("sqlite3", "file:"+escape(name))
		if err != nil {
			return err
		}
		defer to.Close()
		if err := copyInto(to, s.db); err != nil {
			return err
		}
		to.Close() // and open it again, for it is another file now
		if to, err = sql.Open("sqlite3", "file:"+escape(name)+"?_journal_mode=DELETE"); err != nil {
			return err
		}
		defer to.Close()
		return cmp.Or(sound(to, "quick_check"), legible(to))
	})
}

// legible refuses a file in which a piece says what this program would not keep,
// and which most commands cannot read; of an older schema the migration tells.
func legible(conn *sql.DB) error {
	schema, err := schemaOf(conn)
	if err != nil || schema != latest() {
		return err
	}
	if faults := pieceFaults(conn); len(faults) > 0 {
		return fmt.Errorf("%w: %s", ErrDamaged, faults[0])
	}
	return nil
}

// sound refuses a file whose pages do not fit together, by quick_check or by
// integrity_check, which looks into the indexes too.
func sound(conn querier, check string) error {
	problems, err := collect(conn, scanText, "PRAGMA "+check+"(1)")
	if err == nil && (len(problems) != 1 || problems[0] != "ok") {
		err = ErrDamaged
	}
	return err
}

// copyInto makes to what from is, in one step.
func copyInto(to, from *sql.DB) error {
	ctx := context.Background()
	source, err := from.Conn(ctx)
	if err != nil {
		return err
	}
	defer source.Close()
	target, err := to.Conn(ctx)
	if err != nil {
		return err
	}
	defer target.Close()
	return target.Raw(func(t any) error {
		return source.Raw(func(s any) error {
			b, err := t.(*sqlite3.SQLiteConn).Backup("main", s.(*sqlite3.SQLiteConn), "main")
			if err != nil {
				return err
			}
			return cmp.Or(stepThrough(b), b.Finish())
		})
	})
}

func trimDB(path string) string { return strings.TrimSuffix(path, ".db") }

// stepThrough copies all pages, and waits while another terminal is writing.
func stepThrough(b *sqlite3.SQLiteBackup) error {
	const pause = 20 * time.Millisecond
	for waited := time.Duration(0); waited < patience*time.Millisecond; waited += pause {
		if done, err := b.Step(-1); done || err != nil {
			return err
		}
		time.Sleep(pause)
	}
	return sqlite3.Error{Code: sqlite3.ErrBusy}
}

// backupName is where the backup of that number is kept: beside the file.
func backupName(path string, number int) string {
	return fmt.Sprintf("%s.backup-%04d.db", trimDB(path), number)
}

// BackupsOf returns the backups that are kept beside the file at path, the
// newest last. They are numbered, for a clock may be set back.
func BackupsOf(path string) []string {
	numbers := backupNumbers(path)
	paths := make([]string, len(numbers))
	for i, n := range numbers {
		paths[i] = backupName(path, n)
	}
	return paths
}

func backupNumbers(path string) []int {
	entries, _ := os.ReadDir(filepath.Dir(path))
	before := trimDB(filepath.Base(path)) + ".backup-"
	var numbers []int
	for _, e := range entries {
		rest, ok := strings.CutPrefix(e.Name(), before)
		n, err := strconv.Atoi(trimDB(rest))
		if ok && err == nil && filepath.Base(backupName(path, n)) == e.Name() {
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)
	return numbers
}

// Keep makes a backup beside the file, keeps the newest ten, and returns its
// path: "" for a repertoire in memory.
func (s *Store) Keep() (path string, err error) {
	if s.path == "" {
		return "", nil
	}
	sweep(filepath.Dir(s.path))
	for err = fs.ErrExist; errors.Is(err, fs.ErrExist); { // another terminal may take the number
		number := 1
		if taken := backupNumbers(s.path); len(taken) > 0 {
			number = taken[len(taken)-1] + 1
		}
		path = backupName(s.path, number)
		err = s.backup(path)
	}
	if err != nil {
		return "", fmt.Errorf("no backup could be made: %w", PlainFile(Plain(err)))
	}
	all := BackupsOf(s.path)
	for _, old := range all[:max(len(all)-keptBackups, 0)] {
		os.Remove(old)
	}
	return path, nil
}

// asidePattern names what is being built beside a file.
const asidePattern = ".dohra-*"

// aside has make fill a file built beside path, and moves it there when it is
// whole. fs.ErrExist when there is one already.
func aside(path string, make func(name string) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), asidePattern)
	if err != nil {
		return err
	}
	defer func() {
		for _, end := range []string{"", "-wal", "-shm", "-journal"} {
			os.Remove(f.Name() + end)
		}
	}()
	if err := f.Close(); err != nil {
		return err
	}
	if err := make(f.Name()); err != nil {
		return err
	}
	err = os.Link(f.Name(), path)
	if _, missing := os.Lstat(path); err != nil && errors.Is(missing, fs.ErrNotExist) {
		return os.Rename(f.Name(), path) // a disk that knows no links
	}
	return err
}

// sweep removes what was left half built by a process that was killed over a
// day ago.
func sweep(folder string) {
	left, _ := filepath.Glob(filepath.Join(folder, asidePattern))
	for _, path := range left {
		if info, err := os.Lstat(path); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > 24*time.Hour {
			os.Remove(path)
		}
	}
}

// Read returns a copy, in memory, of the repertoire at path, brought up to date.
// The file itself is left as it is; it need not be writable.
func Read(path string) (*Store, error) {
	switch info, err := os.Stat(path); {
	case err != nil:
		return nil, fmt.Errorf("%s cannot be opened: %w", path, PlainFile(err))
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no file", path)
	case info.Size() == 0:
		return nil, fmt.Errorf("%s: %w: it is empty", path, ErrDamaged)
	}
	if err := checkHeader(path); err != nil {
		return nil, err
	}
	s, err := read(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, PlainFile(Plain(err)))
	}
	return s, nil
}

func read(path string) (*Store, error) {
	// Without a log beside it, SQLite need not try to make one.
	how := "immutable=1"
	if logged(path) {
		how = "mode=ro"
	}
	from, err := readOnly(path, how)
	if err != nil {
		return nil, err
	}
	defer from.Close()
	s, err := inMemory(from)
	if err != nil {
		return nil, err
	}
	if err = sound(s.db, "quick_check"); err == nil {
		err = migrate(s.db)
	}
	if err == nil {
		err = plainSchema(s.db)
	}
	if err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

// plainSchema refuses a file that holds more than the migrations make, such as
// a trigger, which would act on what is written later.
func plainSchema(conn querier) error {
	other, err := otherSchema(conn)
	if err == nil && len(other) > 0 {
		err = errors.New(other[0])
	}
	return err
}

// otherSchema tells what is in a file besides, or otherwise than, what the
// migrations make, and what is missing.
func otherSchema(conn querier) (all []string, err error) {
	const schema = "SELECT type || ' ' || name, coalesce(sql, '') FROM sqlite_schema WHERE name NOT LIKE 'sqlite_stat%' ORDER BY name"
	pure, err := OpenMemory()
	if err != nil {
		return nil, err
	}
	defer pure.Close()
	want, err1 := collect(pure.db, scanPair, schema)
	got, err2 := collect(conn, scanPair, schema)
	if err := cmp.Or(err1, err2); err != nil {
		return nil, err
	}
	for _, one := range got {
		if !slices.Contains(want, one) {
			all = append(all, "it holds more, or other, than a repertoire does: the "+one[0])
		}
	}
	for _, one := range want {
		if !slices.ContainsFunc(got, func(there [2]string) bool { return there[0] == one[0] }) {
			all = append(all, "the "+one[0]+" is missing")
		}
	}
	return all, nil
}

func scanPair(rows *sql.Rows) (pair [2]string, err error) {
	return pair, rows.Scan(&pair[0], &pair[1])
}

// inMemory returns a copy of a file.
func inMemory(from *sql.DB) (*Store, error) {
	s, err := open(":memory:")
	if err != nil {
		return nil, err
	}
	if err := copyInto(s.db, from); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

// Restore makes the repertoire what other is, ids and all.
func (s *Store) Restore(other *Store) error {
	if err := s.unmoved(); err != nil {
		return err
	}
	defer s.settle()
	return copyInto(s.db, other.db)
}
