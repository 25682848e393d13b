//go:build !unix

package main

// suspend does nothing where programs cannot be stopped.
func suspend() {}
