package main

import (
	"bufio"
	"fmt"
	"strings"
)

// agreed asks on the terminal, unless --yes was given, and reports whether the
// answer is yes.
func (k *call) agreed(question string) bool {
	if k.Bool("yes") {
		return true
	}
	fmt.Fprint(k.errs, wrap(harmless(question+" Type yes:"), leastWidth-4), " ")
	answer, err := bufio.NewReader(k.in).ReadString('\n')
	if err != nil {
		fmt.Fprintln(k.errs)
	}
	return strings.EqualFold(strings.TrimSpace(answer), "yes")
}
