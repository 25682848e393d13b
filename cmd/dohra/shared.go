package main

import (
	"path/filepath"
	"slices"
	"strings"
)

// syncedWords are parts of the names of folders that programs copy between
// machines as soon as a file in them changes, and syncedNames whole names of some
// (from memory).
var (
	syncedWords = []string{"sync", "cloud", "drive", "dropbox", "seafile", "mobile documents"}
	syncedNames = []string{"box", "mega"}
)

// shared reports whether a file seems to lie where two machines may write it: on
// a network share, or in a folder that is copied between machines. SQLite's
// locks do not reach from one machine to another.
func shared(path string) bool {
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	folder := filepath.Dir(path)
	if real, err := filepath.EvalSymlinks(folder); err == nil {
		folder = real
	}
	for part := range strings.SplitSeq(strings.ToLower(folder), string(filepath.Separator)) {
		if slices.Contains(syncedNames, part) {
			return true
		}
		for _, word := range syncedWords {
			if strings.Contains(part, word) {
				return true
			}
		}
	}
	return onNetwork(folder)
}
