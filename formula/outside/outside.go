// Package outside finds the independent programs that tests use as a second opinion: solvers, readers of
// what the project draws, decoders. Only tests import it.
//
// The rule it keeps is the project's: go test needs nothing but Go, so a missing program skips the test
// with a word that says which. A run that sets PANELWRIGHT_ALL_TOOLS=1 has promised to have them all, and
// there a missing program fails the test, so that a check cannot be lost in silence.
package outside

import (
	"errors"
	"os"
	"os/exec"
	"testing"
)

// AllTools is the environment variable that turns every skip for a missing program into a failure when
// it is set to 1.
const AllTools = "PANELWRIGHT_ALL_TOOLS"

// Tool returns the path of the program called name. When the program is missing the test that asked is
// skipped, or fails if the environment sets PANELWRIGHT_ALL_TOOLS=1.
func Tool(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	Missing(t, "the program "+name+" is missing")
	return ""
}

// Missing skips a test that asks for something which this machine lacks, a program or a kind of file, and says what.
// It fails the test instead if the environment sets PANELWRIGHT_ALL_TOOLS=1.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv(AllTools) == "1" {
		t.Fatalf("%s, and %s=1 says that nothing is", what, AllTools)
	}
	t.Skipf("%s: this check was not made", what)
}

// Run runs the program called name with args and returns what it printed to standard output. A missing
// program skips or fails as Tool says; a program that ends with an error fails the test.
func Run(t testing.TB, name string, args ...string) string {
	t.Helper()
	path := Tool(t, name)
	out, err := exec.Command(path, args...).Output()
	if err != nil {
		said := ""
		if exit, ok := errors.AsType[*exec.ExitError](err); ok {
			said = string(exit.Stderr)
		}
		t.Fatalf("%s %q: %v\n%s%s", name, args, err, out, said)
	}
	return string(out)
}
