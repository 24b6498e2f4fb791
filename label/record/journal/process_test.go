package journal

import (
	"bufio"
	"errors"
	"flag"
	"fmt"
	"math/rand"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"
)

// role is set in the environment of a process that the tests start: the test program itself, doing as another
// writer would do. Its arguments are the folder of the book and more.
const role = "PANELWRIGHT_JOURNAL_ROLE"

var kills = flag.Int("kills", 40, "writers that TestKilledProcess kills")

// roles are what a started process can be. Each prints what it has done, line by line.
var roles = map[string]func(dir string, args []string) error{
	"writer": writer,
	"taker":  taker,
}

func TestMain(m *testing.M) {
	if name := os.Getenv(role); name != "" {
		if err := roles[name](os.Args[1], os.Args[2:]); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	flag.Parse()
	os.Exit(m.Run())
}

// process returns the test program in a role, not started yet.
func process(t *testing.T, name, dir string, args ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self, append([]string{dir}, args...)...)
	cmd.Env = append(os.Environ(), role+"="+name)
	cmd.Stderr = os.Stderr
	return cmd
}

// long is a document that takes so long to write that a writer may be killed in the middle.
var long = "one: of three\n" + strings.Repeat("# sixty bytes and more, a remark on every piece of a large lot\n", 40_000)

// writer appends without end, one document or three together, and says after each which entries are safe.
func writer(dir string, _ []string) error {
	for n := 1; ; n++ {
		docs := texts([]string{"one: alone\n"})
		if n%2 == 0 {
			docs = texts([]string{long, "two: of three\n", "three: of three\n"})
		}
		first, err := Append(dir, noon, docs...)
		if err != nil {
			return err
		}
		fmt.Printf("%d-%d\n", first, first+len(docs)-1)
	}
}

// Writers are killed by the system while they write. What they had said is safe is there, numbers run on, and
// what was appended together is there together or not at all.
func TestKilledProcess(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	dir, safe, all, torn := "", 0, 0, 0
	for n := range *kills {
		if n%4 == 0 { // before it becomes large
			dir, safe = t.TempDir(), 0
		}
		cmd := process(t, "writer", dir)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		for s, first := bufio.NewScanner(out), true; s.Scan(); {
			from, to, _ := strings.Cut(s.Text(), "-")
			if n, err := strconv.Atoi(from); err != nil || n <= safe {
				t.Fatalf("after entry %d was safe a writer says %q", safe, s.Text())
			}
			safe, err = strconv.Atoi(to)
			if err != nil {
				t.Fatal(err)
			}
			all++
			if first {
				first = false
				time.AfterFunc(time.Duration(rnd.Intn(15_000))*time.Microsecond, func() { cmd.Process.Kill() })
			}
		}
		cmd.Wait()
		entries, damage := mustRead(t, dir)
		torn += len(damage)
		if len(entries) < safe || len(damage) > 1 {
			t.Fatalf("%d entries of %d that were safe; %v", len(entries), safe, damage)
		}
		for i, e := range entries {
			if e.Number != i+1 || e.Changed {
				t.Fatalf("entry %d at place %d, changed %v", e.Number, i+1, e.Changed)
			}
		}
		if text := string(entries[len(entries)-1].Text); !strings.HasSuffix(text, "alone\n") && text != "three: of three\n" {
			t.Fatalf("the last entry is %q", text)
		}
	}
	t.Logf("%d writers killed after %d appends that were safe; %d tails torn", *kills, all, torn)
}

// taker appends fifty documents as its first argument says it is called. Every other one it appends only
// after the entry that it last read.
func taker(dir string, args []string) error {
	for n := range 50 {
		if n%2 == 0 {
			if _, err := Append(dir, noon, fmt.Appendf(nil, "from: %s %d\n", args[0], n)); err != nil {
				return err
			}
			continue
		}
		for {
			entries, _, err := Read(dir)
			if err != nil {
				return err
			}
			last := len(entries)
			_, err = AppendIf(dir, noon, last, fmt.Appendf(nil, "from: %s %d\nafter: %d\n", args[0], n, last))
			if _, moved := errors.AsType[*Moved](err); moved {
				fmt.Println("moved")
				continue
			}
			if err != nil {
				return err
			}
			break
		}
	}
	return nil
}

// Two processes append fifty each at the same time: all hundred are there once, in the order of each, and what
// was judged after an entry stands right below it.
func TestTwoWriters(t *testing.T) {
	dir := t.TempDir()
	names := []string{"bench", "shop"}
	var outs [2]strings.Builder
	var cmds []*exec.Cmd
	for i, name := range names {
		cmd := process(t, "taker", dir, name)
		cmd.Stdout = &outs[i]
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		cmds = append(cmds, cmd)
	}
	for i, cmd := range cmds {
		if err := cmd.Wait(); err != nil {
			t.Fatalf("%s: %v, %s", names[i], err, outs[i].String())
		}
	}
	entries, damage := mustRead(t, dir)
	if len(entries) != 100 || len(damage) > 0 {
		t.Fatalf("%d entries, %v", len(entries), damage)
	}
	next := map[string]int{}
	for i, e := range entries {
		if e.Number != i+1 || e.Changed {
			t.Errorf("entry %d at place %d, changed %v", e.Number, i+1, e.Changed)
		}
		line, rest, _ := strings.Cut(strings.TrimPrefix(string(e.Text), "from: "), "\n")
		name, n, _ := strings.Cut(line, " ")
		if want := strconv.Itoa(next[name]); n != want {
			t.Errorf("entry %d is %s of %s, want %s", e.Number, n, name, want)
		}
		next[name]++
		if after, ok := strings.CutPrefix(rest, "after: "); ok && strings.TrimSpace(after) != strconv.Itoa(e.Number-1) {
			t.Errorf("entry %d was judged after entry %s", e.Number, after)
		}
	}
	t.Logf("kept apart %d times", strings.Count(outs[0].String()+outs[1].String(), "moved"))
}
