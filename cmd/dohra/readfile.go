package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// readFile reads a file of at most limit bytes.
func readFile(path string, limit int) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, plainFile(err)
	}
	defer f.Close()
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, plainFile(err)
	case !info.Mode().IsRegular():
		return nil, errors.New("it is no file")
	case info.Size() > int64(limit):
		return nil, fmt.Errorf("it is longer than %d MiB", limit>>20)
	}
	return io.ReadAll(io.LimitReader(f, int64(limit)))
}

// plainFile drops the path and the call from an error of a file.
func plainFile(err error) error {
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) {
		return pathErr.Err
	}
	return err
}
