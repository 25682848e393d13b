//go:build unix

package main

import "syscall"

// suspend stops the program, as Ctrl-Z does where keys are not read raw, until it
// is told to go on.
func suspend() { syscall.Kill(0, syscall.SIGTSTP) }
