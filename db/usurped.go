package db

import (
	"fmt"
	"os"
	"time"

	"golang.org/x/sys/unix"
)

// Where SQLite locks bytes of a file while it has it open, and of the index of
// its log (os_unix.c of SQLite, from memory).
const (
	openFrom, openBytes = 0x40000002, 510
	sharedByte          = 128
)

// usurped refuses a file that was put in the place of one that another program
// still has open: the two would share one log and the index of it, which is
// known by the path alone.
func usurped(path string) error {
	const times, pause = 5, 5 * time.Millisecond // for the other may be about to close it
	for range times {
		if !locked(path+"-shm", sharedByte, 1) || locked(path, openFrom, openBytes) {
			return nil
		}
		time.Sleep(pause)
	}
	return fmt.Errorf("another program still has the file open that was at %s before; end it first", path)
}

// locked reports whether another process holds a lock on those bytes of a file.
func locked(path string, from, bytes int64) bool {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return false
	}
	defer f.Close()
	lock := unix.Flock_t{Type: unix.F_WRLCK, Start: from, Len: bytes}
	return unix.FcntlFlock(f.Fd(), unix.F_GETLK, &lock) == nil && lock.Type != unix.F_UNLCK
}
