//go:build unix

package journal

import (
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

func init() { roles["limited"] = limited }

// limited may write files of so many bytes only, as if the disk were full there, and appends until it is told
// that nothing was recorded.
func limited(dir string, args []string) error {
	most, err := strconv.ParseUint(args[0], 10, 64)
	if err != nil {
		return err
	}
	signal.Ignore(syscall.SIGXFSZ)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: most, Max: most}); err != nil {
		return err
	}
	for {
		first, err := Append(dir, noon, []byte("made: hay fizz\nlot: 0614\n"))
		if err != nil {
			return err
		}
		fmt.Println(first)
	}
}

func TestFull(t *testing.T) {
	for _, size := range []int{0, 50, 120, 1000, 1001, 1002, 1100} {
		t.Run(strconv.Itoa(size), func(t *testing.T) {
			dir := t.TempDir()
			out, err := process(t, "limited", dir, strconv.Itoa(size)).Output()
			if err == nil {
				t.Fatal("a full disk was written to")
			}
			lines := strings.Split(strings.TrimSpace(string(out)), "\n")
			said := lines[len(lines)-1]
			if !strings.HasPrefix(said, "nothing was recorded: the disk is full; make room and record again") {
				t.Errorf("said %q", said)
			}
			var want []string
			for range lines[1:] {
				want = append(want, "made: hay fizz\nlot: 0614\n")
			}
			whole(t, dir, want...)
			mustAppend(t, dir, "made: hay fizz\nlot: 0615\n")
			if entries, damage := mustRead(t, dir); len(entries) != len(lines) || len(damage) > 0 {
				t.Errorf("when there is room: %d entries, %v", len(entries), damage)
			}
			if names, _ := os.ReadDir(filepath.Join(dir, Folder)); len(names) != 1 {
				t.Errorf("%v", names)
			}
		})
	}
}
