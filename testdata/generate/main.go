// Command generate makes data for demonstration and measurement. It is not part
// of the program. Run from the project's root:
//
//	go run ./testdata/generate demo        writes testdata/demo/plays.csv
//	go run ./testdata/generate large FILE  makes a repertoire of 10,000 pieces
//	                                       and 1,000,000 plays
package main

import (
	"log"
	"os"
)

func main() {
	log.SetFlags(0)
	switch {
	case len(os.Args) == 2 && os.Args[1] == "demo":
		demo()
	case len(os.Args) == 3 && os.Args[1] == "large":
		large(os.Args[2])
	default:
		log.Fatal("usage: generate demo | generate large FILE")
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return v
}
