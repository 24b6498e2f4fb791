package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"panelwright/formula/outside"
)

func init() { roles["tight"] = tight }

// tight mounts a disk of four pages, 16 KiB, in a name space of its own, and fills it with records.
func tight(dir string, _ []string) error {
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=16k"); err != nil {
		fmt.Println("no mount:", err)
		return nil
	}
	spare := filepath.Join(dir, "spare")
	if err := os.WriteFile(spare, make([]byte, 4096), 0o644); err != nil {
		return err
	}
	doc := []byte("made: hay fizz\n" + strings.Repeat("# cracked in the wet week\n", 30))
	name := filepath.Join(dir, File)
	last := 0
	for {
		first, err := Append(dir, noon, doc)
		if errors.Is(err, syscall.ENOSPC) {
			fmt.Println(err)
			break
		}
		if err != nil {
			return err
		}
		last = first
	}
	if err := unharmed(dir, last); err != nil {
		return err
	}
	// A torn tail, and no room to save it: it stays where it is.
	data, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	torn := len(data) - 400
	if err := os.Truncate(name, int64(torn)); err != nil {
		return err
	}
	if _, err := Append(dir, noon, doc); !errors.Is(err, syscall.ENOSPC) {
		return fmt.Errorf("with no room for the torn tail: %v", err)
	}
	if now, err := os.ReadFile(name); err != nil || string(now) != string(data[:torn]) {
		return fmt.Errorf("a torn tail that could not be saved was cut off: %v", err)
	}
	if err := os.Remove(spare); err != nil {
		return err
	}
	if _, err := Append(dir, noon, []byte("made: hay fizz\n")); err != nil {
		return err
	}
	saved, err := os.ReadFile(filepath.Join(dir, Folder, "torn-1.txt"))
	if err != nil || len(saved) == 0 || !strings.HasSuffix(string(data[:torn]), string(saved)) {
		return fmt.Errorf("the torn tail was saved as %q: %v", saved, err)
	}
	if err := unharmed(dir, last); err != nil {
		return err
	}
	fmt.Println("goes on at", last)
	return nil
}

// unharmed says what is wrong with a journal that should hold so many entries and nothing else.
func unharmed(dir string, last int) error {
	entries, damage, err := Read(dir)
	if err != nil || len(damage) > 0 || len(entries) != last || last == 0 {
		return fmt.Errorf("%d entries of %d, %v, %v", len(entries), last, damage, err)
	}
	for _, e := range entries {
		if e.Changed {
			return fmt.Errorf("entry %d is changed", e.Number)
		}
	}
	return nil
}

// TestFullDisk fills a disk that is really small, in a name space of its own. TestFull and TestFullAtEveryByte need no
// disk.
func TestFullDisk(t *testing.T) {
	out, err := inNameSpace(t, &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
		UidMappings: []syscall.SysProcIDMap{{HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{HostID: os.Getgid(), Size: 1}},
	})
	if refused(out, err) && os.Getuid() == 0 { // root needs no name space of users
		out, err = inNameSpace(t, &syscall.SysProcAttr{Unshareflags: syscall.CLONE_NEWNS}) // which keeps the mount from the rest of the system
	}
	if refused(out, err) {
		outside.Missing(t, fmt.Sprintf("no small disk may be mounted here (%v %s)", err, strings.TrimSpace(out)))
	}
	if err != nil || !strings.Contains(out, "the disk is full; make room") || !strings.Contains(out, "goes on at") {
		t.Errorf("%v\n%s", err, out)
	}
	t.Log(out)
}

func inNameSpace(t *testing.T, attr *syscall.SysProcAttr) (string, error) {
	cmd := process(t, "tight", t.TempDir())
	cmd.SysProcAttr = attr
	out, err := cmd.Output()
	return string(out), err
}

// refused reports whether the system let nobody make a name space or mount a disk in it.
func refused(out string, err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOSPC) || strings.HasPrefix(out, "no mount:")
}
