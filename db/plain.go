package db

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/mattn/go-sqlite3"
)

// Errors of files and of SQLite, in a player's words.

// PlainFile drops the path and the call from an error of the file system, for a
// line that names the file itself.
func PlainFile(err error) error {
	var pathErr *fs.PathError
	var linkErr *os.LinkError
	switch {
	case errors.As(err, &pathErr):
		return pathErr.Err
	case errors.As(err, &linkErr):
		return linkErr.Err
	}
	return err
}

// Plain turns an error of SQLite into a line for the player; other errors are
// returned as they are.
func Plain(err error) error {
	var se sqlite3.Error
	if !errors.As(err, &se) {
		return err
	}
	switch se.Code & 0xff { // a backup gives the extended code
	case sqlite3.ErrFull:
		return errors.New("the disk is full; nothing was written")
	case sqlite3.ErrReadonly, sqlite3.ErrPerm:
		return errors.New("the file is read-only; nothing was written")
	case sqlite3.ErrBusy, sqlite3.ErrLocked:
		return fmt.Errorf("another program has been writing for over %d seconds; nothing was written", patience/1000)
	case sqlite3.ErrCorrupt, sqlite3.ErrNotADB:
		return ErrDamaged
	case sqlite3.ErrError:
		return fmt.Errorf("%w: %s", ErrDamaged, se.Error())
	case sqlite3.ErrIoErr, sqlite3.ErrCantOpen:
		if se.SystemErrno == 0 && (se.ExtendedCode == sqlite3.ErrIoErrWrite || se.Code == sqlite3.ErrNo(sqlite3.ErrIoErrWrite)) {
			return errors.New("writing failed; is the disk full?")
		}
		return errors.New("the file cannot be read or written: " + ioReason(se))
	}
	return err
}

func ioReason(se sqlite3.Error) string {
	if se.SystemErrno != 0 {
		return se.SystemErrno.Error()
	}
	return se.Error()
}
