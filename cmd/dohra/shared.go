package main

import (
	"path/filepath"
	"slices"
	"strings"
	"unicode"
)

// syncedWords are words in the names of folders that programs copy between
// machines as soon as a file in them changes, and syncedNames whole names of some
// (from memory).
var (
	syncedWords = []string{
		"sync", "syncthing", "dropbox", "onedrive", "googledrive", "icloud", "nextcloud", "owncloud", "pcloud",
		"cloudstorage", "seafile", "tresorit", "filen", "syncdrive",
	}
	syncedNames = []string{
		"box", "mega", "cloud", "drive", "google drive", "my drive", "proton drive", "protondrive", "icloud drive", "mobile documents",
	}
)

// shared reports whether a file seems to lie where two machines may write it: on
// a network share, or in a folder that is copied between machines. SQLite's
// locks do not reach from one machine to another.
func shared(path string) bool {
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	folder := filepath.Dir(realPath(path))
	for part := range strings.SplitSeq(strings.ToLower(folder), string(filepath.Separator)) {
		words := strings.FieldsFunc(part, func(r rune) bool { return !unicode.IsLetter(r) })
		if slices.Contains(syncedNames, part) || slices.ContainsFunc(words, func(word string) bool { return slices.Contains(syncedWords, word) }) {
			return true
		}
	}
	return onNetwork(folder)
}

// realPath returns where a file, or a new one's folder, really lies.
func realPath(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	if real, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		return filepath.Join(real, filepath.Base(path))
	}
	return path
}
