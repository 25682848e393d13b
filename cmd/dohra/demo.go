package main

import (
	"dohra/db"
	"dohra/repertoire"
)

func openDemo(day repertoire.Day) (*db.Store, error) { return db.OpenMemory() }
