package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"dohra/db"
)

// readFile reads a file of at most limit bytes.
func readFile(path string, limit int) ([]byte, error) {
	f, err := openFile(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, int64(limit)+1))
	if err == nil && len(text) > limit {
		err = fmt.Errorf("it is longer than %d MiB", limit>>20)
	}
	return text, db.PlainFile(err)
}

// openFile opens a file to read it, and nothing else: a pipe would keep waiting
// for what may never come.
func openFile(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		return nil, errors.New("it is a folder, or no ordinary file")
	}
	if err != nil {
		return nil, db.PlainFile(err)
	}
	f, err := os.Open(path)
	return f, db.PlainFile(err)
}
