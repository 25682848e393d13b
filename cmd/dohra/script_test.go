package main

import (
	"os"
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/rogpeppe/go-internal/testscript"
)

// The scripts run the program as a player does. Their clock stands still at
// $CLOCK, a local time in $TZ.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"dohra": func() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, scriptClock)) },
	})
}

func scriptClock() time.Time {
	zone, err := time.LoadLocation(os.Getenv("TZ"))
	if err != nil {
		panic(err)
	}
	now, err := time.ParseInLocation("2006-01-02 15:04", os.Getenv("CLOCK"), zone)
	if err != nil {
		panic(err)
	}
	return now
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("CLOCK", "2026-11-25 18:00")
			env.Setenv("TZ", "Europe/Berlin")
			env.Setenv("XDG_DATA_HOME", env.WorkDir+"/data")
			return nil
		},
	})
}
