// Package testdata carries the demonstration repertoire inside the binary: a
// made-up player's pieces, and about 14 months of plays.
package testdata

import _ "embed"

// DemoPieces is the repertoire, in TOML.
//
//go:embed demo/pieces.toml
var DemoPieces []byte

// DemoPlays is the log, in CSV: days before the day asked for, title, tempo,
// clarity, minutes, note. It is written by generate.
//
//go:embed demo/plays.csv
var DemoPlays []byte
