package main

import (
	"fmt"
	"os"
	"runtime/debug"
	"strings"

	"golang.org/x/term"
)

// progress returns what a long work tells how far it is, and what wipes the bar
// away. Only a terminal gets one.
func (k *call) progress(what string) (tick func(done, total int), wipe func()) {
	f, ok := k.errs.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return func(int, int) {}, func() {}
	}
	const width = 40
	shown := -1
	tick = func(done, total int) {
		if percent := 100 * done / max(total, 1); percent != shown {
			shown = percent
			fmt.Fprintf(f, "\r%-10s [%-*s] %3d %%", what, width, strings.Repeat("#", width*percent/100), percent)
		}
	}
	return tick, func() { fmt.Fprintf(f, "\r%s\r", strings.Repeat(" ", leastWidth-1)) }
}

// bulky is for what holds a whole repertoire in memory: much is read and stays,
// so the collector, which main keeps idle, shall be busy.
func bulky() { debug.SetGCPercent(50) }
