package journal

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"syscall"
	"testing"
)

// disk is a file in memory that can stop the writer at any moment: each byte written, each cut and each sync
// takes one from what is left, and where that is used up the writer is killed, or the disk is full.
type disk struct {
	data  []byte
	read  int
	torn  string // what was saved
	left  int    // moments until it happens; the disk is sound if neither kill nor full
	kill  bool   // the writer is killed
	full  bool   // the disk is full, and stays so
	spent int
}

type killed struct{}

func (d *disk) Read(p []byte) (int, error) {
	n := copy(p, d.data[d.read:])
	d.read += n
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

// spend takes n moments, or as many as there are.
func (d *disk) spend(n int) int {
	if d.kill || d.full {
		n = min(n, d.left-d.spent)
	}
	d.spent += n
	return n
}

func (d *disk) step() {
	if d.spend(1) == 0 && d.kill {
		panic(killed{})
	}
}

func (d *disk) WriteAt(p []byte, at int64) (int, error) {
	n := d.spend(len(p))
	d.data = append(d.data[:at:at], p[:n]...)
	if n < len(p) {
		if d.kill {
			panic(killed{})
		}
		return n, syscall.ENOSPC
	}
	return n, nil
}

func (d *disk) Truncate(size int64) error {
	d.step()
	d.data = d.data[:size:size]
	return nil
}

func (d *disk) Sync() error {
	d.step()
	return nil
}

// save stands for saveTorn: whole or not at all, since what is not whole is saved again under another name.
func (d *disk) save(torn []byte) error {
	if n := d.spend(len(torn)); n < len(torn) {
		if d.kill {
			panic(killed{})
		}
		return syscall.ENOSPC
	}
	d.torn = string(torn)
	return nil
}

// stopped appends and reports whether the writer came to the end.
func (d *disk) stopped(docs [][]byte) (done bool, err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(killed); !ok {
				panic(r)
			}
		}
	}()
	_, err = (&journal{file: d, save: d.save}).append(noon, -1, docs)
	return true, err
}

// Killed at every moment there is while it appends one, or three together, to journals new, whole and torn.
func TestKilledAtEveryMoment(t *testing.T) {
	moments := 0
	sound := five()
	for _, before := range []string{"", sound, sound[:len(sound)-1], sound + "---\nmade: hay fi", sound[:len(sound)-40]} {
		old, _ := Parse([]byte(before))
		for _, docs := range [][]string{{"six: 6\n"}, {"six: 6\n", "seven: 7\n", "eight: 8\n"}} {
			for left := 0; ; left++ {
				d := &disk{data: []byte(before), kill: true, left: left}
				done, err := d.stopped(texts(docs))
				if err != nil {
					t.Fatal(err)
				}
				moments++
				entries, _ := Parse(d.data)
				if n := len(entries); n != len(old) && n != len(old)+len(docs) || done && n == len(old) {
					t.Fatalf("killed at %d of %q + %q: %d entries", left, before, docs, n)
				}
				keptAll(t, before, d)
				d.read, d.kill = 0, false
				goesOn(t, string(d.data))
				if done {
					break
				}
			}
		}
	}
	if moments < 1000 {
		t.Errorf("only %d moments", moments)
	}
	t.Logf("killed at %d moments", moments)
}

// keptAll fails the test if a byte of the journal before is neither in it nor saved.
func keptAll(t *testing.T, before string, d *disk) {
	t.Helper()
	if !strings.HasPrefix(string(d.data), before) && !strings.HasPrefix(string(d.data), strings.TrimSuffix(before, d.torn)) {
		t.Fatalf("of %q there is %q, and saved is %q", before, d.data, d.torn)
	}
}

// A disk that is full after any number of bytes leaves the journal as it was, or without its torn tail, and
// says so; when there is room again the work goes on.
func TestFullAtEveryByte(t *testing.T) {
	sound := five()
	for _, before := range []string{"", sound, sound + "---\nmade: hay fi"} {
		kept := strings.TrimSuffix(before, "---\nmade: hay fi")
		for left := 0; ; left++ {
			d := &disk{data: []byte(before), full: true, left: left}
			_, err := d.stopped(texts([]string{"six: 6\n", "seven: 7\n"}))
			if err == nil {
				break
			}
			if !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), "nothing was recorded: the disk is full") {
				t.Fatal(err)
			}
			if got := string(d.data); got != before && (got != kept || kept+d.torn != before) {
				t.Fatalf("full at %d: %q", left, got)
			}
			goesOn(t, string(d.data))
		}
	}
}

// A sync that fails leaves nothing behind that was not acknowledged.
func TestSyncFails(t *testing.T) {
	d := &badSync{disk: disk{data: []byte(five())}}
	before := bytes.Clone(d.data)
	_, err := (&journal{file: d, save: d.save}).append(noon, -1, texts([]string{"six: 6\n"}))
	if !errors.Is(err, syscall.EIO) || !bytes.Equal(d.data, before) {
		t.Errorf("%v; %q", err, d.data)
	}
}

type badSync struct{ disk }

func (d *badSync) Sync() error { return syscall.EIO }
