package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"panelwright/formula/date"
)

// The scripts run the command with a fixed clock.
var scriptDay = date.Of(2026, 11, 25)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"panelwright": func() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, scriptDay)) },
	})
}

// TestScripts runs the scripts of testdata/script: one behaviour each, to be
// read as documentation of the command.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", Setup: func(e *testscript.Env) error {
		if !strings.HasPrefix(filepath.Base(e.WorkDir), "script-year") {
			return nil
		}
		// An invented year of 60 lots: what its scripts have in common.
		return os.CopyFS(filepath.Join(e.WorkDir, "year"), os.DirFS("testdata/year"))
	}})
}
