package main

import "fmt"

// What single cells and words of a screen say.

// known is a cell: empty while nothing is known, which the zero value says.
func known[T comparable](value T) any {
	var nothing T
	if value == nothing {
		return nil
	}
	return value
}

// orDash writes a number, or a dash while it is unknown.
func orDash(n int) string {
	if n == 0 {
		return "-"
	}
	return fmt.Sprint(n)
}

// plural writes a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
