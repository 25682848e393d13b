package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// How commands grow with the repertoire, 100 plays of each piece:
//
//	go test ./cmd/dohra -run XXX -bench Size -benchmem
//	DOHRA_LARGE=/tmp/large.db go test ./cmd/dohra -run XXX -bench Size/100000 -benchmem -timeout 1h
//
// The second is on 100,000 pieces and 10,000,000 plays, in a file of 0.9 GB that
// is made when it is not there. What is played must be as quick in a large file
// as in a small one; what plans reads only claims that are due; show reads one
// piece; fading reads what was kept.
func BenchmarkSize(b *testing.B) {
	for _, pieces := range []int{100, 1000, 10_000, 100_000} {
		b.Run(fmt.Sprint(pieces), func(b *testing.B) {
			file := filepath.Join(b.TempDir(), "r.db")
			if pieces == 100_000 {
				if file = os.Getenv("DOHRA_LARGE"); file == "" {
					b.Skip("$DOHRA_LARGE names no file")
				}
			}
			if _, err := os.Stat(file); err != nil {
				shelf(b, file, pieces, 100)
			}
			for _, command := range [][]string{
				{"today"}, {"played", "7", "--tempo", "60", "--clarity", "clear"}, {"fading"}, {"show", "7"}, {"check"},
			} {
				if command[0] == "check" && pieces == 100_000 {
					continue // it takes the archive into memory, all of it
				}
				b.Run(command[0], func(b *testing.B) { benchmarkCommand(b, file, command) })
			}
		})
	}
}

func benchmarkCommand(b *testing.B, file string, command []string) {
	now := func() time.Time { return time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC) }
	b.ReportAllocs()
	for b.Loop() {
		if status := run(append(command, "--file", file), nil, io.Discard, io.Discard, now); status != 0 {
			b.Fatal(status)
		}
	}
}
