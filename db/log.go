package db

import (
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
)

// The log beside the file, in which SQLite keeps what is newest until it is moved
// into the file. It belongs to the file that it was written for, and is known by
// the path alone.

// ErrStray says that beside a file lies the log of another, which SQLite would
// take for its own.
var ErrStray = errors.New("is left over from a file that is gone; it belongs beside that file")

// settle moves what was written from the log into the file. So a process that is
// killed leaves no log beside it that counts, which would be taken for that of a
// file put in its place. It does not wait: what another terminal keeps it from
// doing, the next to write or to close does.
func (s *Store) settle() {
	if s.path == "" {
		return
	}
	s.wrote = true
	s.db.Exec("PRAGMA busy_timeout = 0")
	defer s.db.Exec(fmt.Sprintf("PRAGMA busy_timeout = %d", patience))
	var busy, frames, moved int
	err := s.db.QueryRow("PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &frames, &moved)
	s.unsettled = err != nil || busy != 0
}

// untouched refuses a damaged file before opening it would change it: when a log
// lies beside it, and when it does not keep one yet, as a copy does not. ErrStray
// when it is damaged by the log alone.
func untouched(path string) error {
	if !logged(path) && keepsLog(path) {
		return nil
	}
	if damage := examinePages(path, "mode=ro"); !errors.Is(damage, ErrDamaged) {
		return nil // what opens it for writing tells of the rest
	}
	if logged(path) && examinePages(path, "immutable=1") == nil {
		return noStray(path)
	}
	return fmt.Errorf("%s: %w", path, ErrDamaged)
}

// unread refuses a file that keeps no log yet and holds what cannot be read or
// brought up to date: to open it for writing would mark it as one that keeps one.
func unread(path string) error {
	if keepsLog(path) {
		return nil
	}
	s, err := read(path)
	if err != nil {
		return fmt.Errorf("%s: %w", path, Plain(err))
	}
	defer s.Close()
	if len(s.faults()) > 0 {
		return fmt.Errorf("%s: %w", path, errDamaged)
	}
	return nil
}

// examinePages refuses a file whose pages do not fit together, without changing
// it.
func examinePages(path, how string) error {
	conn, err := readOnly(path, how)
	if err == nil {
		defer conn.Close()
		err = sound(conn, "integrity_check")
	}
	return Plain(err)
}

// readOnly opens a file that is not to be changed.
func readOnly(path, how string) (*sql.DB, error) {
	conn, err := sql.Open("sqlite3", fmt.Sprintf("file:%s?_busy_timeout=%d&%s", escape(path), patience, how))
	if err != nil {
		return nil, err
	}
	conn.SetMaxOpenConns(1)
	if _, err := schemaOf(conn); err != nil { // which locks it
		conn.Close()
		return nil, err
	}
	return conn, nil
}

// keepsLog reports whether a file is marked as one that keeps its newest pages in
// a log beside it.
func keepsLog(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	return marksLog(f)
}

// marksLog reads the mark: a copy that was written over the file has another.
func marksLog(f *os.File) bool {
	var version [1]byte
	_, err := f.ReadAt(version[:], 18)
	return err == io.EOF || version[0] == 2
}

// logged reports whether a log that holds something lies beside the file.
func logged(path string) bool {
	log, err := os.Stat(path + "-wal")
	return err == nil && log.Size() > 0
}

// noStray refuses the place of a file beside which the log of another lies.
func noStray(path string) error {
	if !logged(path) {
		return nil
	}
	return fmt.Errorf("%s-wal %w", path, ErrStray)
}
