// Package db keeps a repertoire in one SQLite file. It is the only package that
// knows SQLite. What it keeps besides the player's own data, the standings, is
// derived by package schedule and can be rebuilt at any time.
package db

import (
	"bytes"
	"cmp"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

// A Store is an open repertoire.
type Store struct {
	db   *sql.DB
	path string      // "" in memory
	info fs.FileInfo // of the file that was opened
	head *os.File    // which it is; to close it any earlier than SQLite's would drop the locks

	wrote     bool // something
	unsettled bool // and it is in the log alone
}

// applicationID marks the file as ours in SQLite's header: "dohr".
const applicationID = 0x646f6872

// sqliteHead is what every file of SQLite begins with.
var sqliteHead = []byte("SQLite format 3\x00")

// ErrMissing says that there is no file at the path.
var ErrMissing = errors.New("there is no repertoire yet")

// ErrDamaged says that a file does not hold together; see Salvage.
var ErrDamaged = errors.New("the file is damaged")

// ErrForeign says that a file does not begin as a repertoire does.
var ErrForeign = errors.New("is no dohra file")

// ErrMarked says that a file is marked as another program's, or as a newer
// version's; it may be that the mark alone is damaged.
var ErrMarked = errors.New("the file is marked otherwise")

// A marked error is what is said of such a file.
type marked string

func (m marked) Error() string { return string(m) }

func (marked) Is(err error) bool { return err == ErrMarked }

// Open opens the repertoire at path, bringing an older schema up to date. A
// missing file is ErrMissing. A file that others may read is made private.
// Whatever is not a repertoire this version can write is refused with a line that
// names the path, and not one byte of it is changed.
func Open(path string) (*Store, error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(filepath.Dir(path)); err != nil {
			return nil, fmt.Errorf("the folder %s does not exist", filepath.Dir(path))
		}
		if _, err := os.Lstat(path); err == nil {
			return nil, fmt.Errorf("%s is a link that leads nowhere", path)
		}
		return nil, cmp.Or(noStray(path), ErrMissing)
	}
	if err != nil {
		return nil, fmt.Errorf("%s cannot be opened: %w", path, PlainFile(err))
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no file", path)
	}
	if err := checkWritable(path, info); err != nil {
		return nil, err
	}
	if err := checkHeader(path); err != nil {
		return nil, err
	}
	if info.Mode().Perm()&0o077 != 0 {
		if err := os.Chmod(path, 0o600); err != nil {
			return nil, fmt.Errorf("%s cannot be made private: %w", path, PlainFile(err))
		}
	}
	if err := usurped(path); err != nil {
		return nil, err
	}
	if err := cmp.Or(untouched(path), unread(path)); err != nil {
		return nil, err
	}
	s, err := open(escape(path))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, Plain(err))
	}
	s.path, s.info = path, info
	if s.head, err = os.Open(path); err != nil {
		s.Close()
		return nil, fmt.Errorf("%s: %w", path, PlainFile(err))
	}
	if err := s.update(); err != nil {
		s.Close()
		return nil, fmt.Errorf("%s: %w", path, Plain(err))
	}
	return s, nil
}

// update brings an older schema up to date, after a backup of what was there. It
// is tried out in memory first: a file that cannot be brought up to date is left
// as it is, and pushes no backup out, however often it is opened.
func (s *Store) update() error {
	schema, err := schemaOf(s.db)
	if err != nil {
		return err
	}
	if schema >= latest() {
		return nil
	}
	if schema > 0 {
		trial, err := inMemory(s.db)
		if err != nil {
			return err
		}
		defer trial.Close()
		if err := migrate(trial.db); err != nil {
			return err
		}
		if _, err := s.Keep(); err != nil {
			return err
		}
	}
	if err := migrate(s.db); err != nil {
		return err
	}
	s.settle()
	return nil
}

// errReplaced says that the path now leads to another file than the one opened.
var errReplaced = errors.New("the file was replaced while it was open; nothing was written")

// unmoved refuses a file that was replaced since it was opened: what is written
// to it would be in no file that anybody can find again.
func (s *Store) unmoved() error {
	if s.path == "" {
		return nil
	}
	if now, err := os.Stat(s.path); err != nil || !os.SameFile(now, s.info) || s.head != nil && !marksLog(s.head) {
		return errReplaced
	}
	return nil
}

// Create makes the file at path, readable by its owner only, and opens it. The
// folder must exist. The file is built aside and appears whole, so another
// terminal never sees half of it; when one is there already, that is opened.
// Beside the log of a file that is gone none is made: ErrStray.
func Create(path string) (*Store, error) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if err := cmp.Or(noStray(path), usurped(path)); err != nil {
			return nil, err
		}
	}
	if err := build(path); err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, fmt.Errorf("%s cannot be made: %w", path, PlainFile(Plain(err)))
	}
	return Open(path)
}

func build(path string) error {
	return aside(path, func(name string) error {
		s, err := open(escape(name))
		if err != nil {
			return err
		}
		return errors.Join(migrate(s.db), s.Close())
	})
}

// escape writes a path as a file URI has it.
func escape(path string) string { return (&url.URL{Path: path}).EscapedPath() }

// OpenMemory opens an empty repertoire that is gone when it is closed.
func OpenMemory() (*Store, error) {
	s, err := open(":memory:")
	if err == nil {
		err = migrate(s.db)
	}
	return s, err
}

// Close closes the file. Where nothing was written it changes nothing: a log that
// was left beside the file stays as it is. SQLite writes it into the file when the
// last closes that, unless the last may only read.
func (s *Store) Close() error {
	if s.path != "" && !s.wrote && logged(s.path) {
		if last, err := readOnly(s.path, "mode=ro"); err == nil {
			defer last.Close()
		}
	}
	err := s.db.Close()
	if s.head != nil {
		err = errors.Join(err, s.head.Close())
	}
	return err
}

// patience is how long a terminal waits for another that is writing, in
// milliseconds.
const patience = 10_000

func open(name string) (*Store, error) {
	conn, err := sql.Open("sqlite3", fmt.Sprintf(
		"file:%s?_busy_timeout=%d&_foreign_keys=1&_journal_mode=WAL&_synchronous=FULL&_txlock=immediate", name, patience))
	if err != nil {
		return nil, err
	}
	conn.SetMaxOpenConns(1) // one player at one terminal; and one memory is one connection
	if err := conn.Ping(); err != nil {
		conn.Close()
		return nil, err
	}
	return &Store{db: conn}, nil
}

// checkWritable refuses a file without the right to read or to write, and a folder
// in which SQLite cannot keep its log. It looks at the mode too before writing, for
// the superuser is never denied.
func checkWritable(path string, info fs.FileInfo) error {
	if unix.Access(path, unix.R_OK) != nil {
		return fmt.Errorf("you may not read %s", path)
	}
	if info.Mode().Perm()&0o222 == 0 || unix.Access(path, unix.W_OK) != nil {
		return fmt.Errorf("%s is read-only", path)
	}
	if err := unix.Access(filepath.Dir(path), unix.W_OK); err != nil {
		return fmt.Errorf("the folder %s is read-only", filepath.Dir(path))
	}
	return nil
}

// checkHeader looks at the first 100 bytes of the file, as SQLite's file format
// lays them out (sqlite.org/fileformat2.html, from memory), before SQLite may
// touch it. An empty file is a repertoire not yet begun, unless it has backups or a
// log beside it.
func checkHeader(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("%s cannot be opened: %w", path, PlainFile(err))
	}
	defer f.Close()
	var header [100]byte
	switch _, err := io.ReadFull(f, header[:]); {
	case err == io.EOF && (len(BackupsOf(path)) > 0 || logged(path)):
		return fmt.Errorf("%s: %w: it is empty", path, ErrDamaged)
	case err == io.EOF:
		return nil
	case err != nil || !bytes.HasPrefix(header[:], sqliteHead):
		return fmt.Errorf("%s %w", path, ErrForeign)
	}
	return checkMarks(path, int(binary.BigEndian.Uint32(header[68:])), int(binary.BigEndian.Uint32(header[60:])))
}

// checkMarks refuses the database of another program, and a newer schema.
func checkMarks(path string, application, schema int) error {
	switch {
	case application != applicationID:
		return marked(path + " is a database, but not dohra's")
	case schema > latest():
		return marked(fmt.Sprintf("%s is from a newer dohra (schema %d; this one knows %d)", path, schema, latest()))
	}
	return nil
}
