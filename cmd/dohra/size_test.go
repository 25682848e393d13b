package main

import (
	"fmt"
	"io"
	"path/filepath"
	"testing"
	"time"
)

// How commands grow with the repertoire, 100 plays of each piece:
//
//	go test ./cmd/dohra -run XXX -bench Size -benchmem
//
// What is played must be as quick in a large file as in a small one; what plans
// reads only claims that are due; show reads one piece.
func BenchmarkSize(b *testing.B) {
	for _, pieces := range []int{100, 1000, 10_000} {
		file := filepath.Join(b.TempDir(), "r.db")
		shelf(b, file, pieces, 100)
		now := func() time.Time { return time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC) }
		for name, args := range map[string][]string{
			"today":  {"today"},
			"played": {"played", "7", "--tempo", "60", "--clarity", "clear"},
			"show":   {"show", "7"},
			"check":  {"check"},
		} {
			b.Run(fmt.Sprintf("%s/%d", name, pieces), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if status := run(append(args, "--file", file), nil, io.Discard, io.Discard, now); status != 0 {
						b.Fatal(status)
					}
				}
			})
		}
	}
}
