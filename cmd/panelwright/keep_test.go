package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
)

// repack writes the archive again, each file as change returns it; a file that becomes nil is left out.
func repack(t *testing.T, from, to string, change func(name string, data []byte) []byte) {
	t.Helper()
	zr, err := zip.OpenReader(from)
	if err != nil {
		t.Fatal(err)
	}
	defer zr.Close()
	var b bytes.Buffer
	zw := zip.NewWriter(&b)
	for _, f := range zr.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if data = change(f.Name, data); data == nil {
			continue
		}
		w, err := zw.Create(f.Name)
		if err == nil {
			_, err = w.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := zw.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// A kept book that was meddled with or cut off is not restored, and every file that is not as it was is named.
func TestRestoreFaulty(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("mine", 0o755); err != nil {
		t.Fatal(err)
	}
	for i := range 3 {
		if err := os.WriteFile(fmt.Sprintf("mine/%c.yaml", 'a'+i), []byte("workshop: Sample Tub Works\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if code := run([]string{"keep", "mine", "--out", "whole.zip"}, io.Discard, os.Stderr, scriptDay); code != exitClean {
		t.Fatal(code)
	}
	repack(t, "whole.zip", "meddled.zip", func(name string, data []byte) []byte {
		switch name {
		case "book/a.yaml":
			return bytes.ToUpper(data)
		case "book/b.yaml":
			return nil
		}
		return data
	})
	whole, err := os.ReadFile("whole.zip")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("cut.zip", whole[:len(whole)-100], 0o644); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		file string
		want []string
	}{
		{"meddled.zip", []string{
			"meddled.zip: a.yaml: it was changed since it was kept",
			"meddled.zip: b.yaml: it is missing",
			"panelwright: meddled.zip is not whole: 2 faults; nothing was restored. Take another copy",
		}},
		{"cut.zip", []string{"panelwright: cut.zip: it is no kept book, or its end is missing (zip: not a valid zip file)"}},
		{"none.zip", []string{"panelwright: none.zip: there is nothing of that name"}},
	} {
		t.Run(tt.file, func(t *testing.T) {
			var out, errs bytes.Buffer
			code := run([]string{"restore", tt.file, "again"}, &out, &errs, scriptDay)
			if code != exitFailed || out.Len() > 0 || strings.TrimSpace(errs.String()) != strings.Join(tt.want, "\n") {
				t.Errorf("exit code %d\n%s%s", code, &out, &errs)
			}
			if _, err := os.Lstat("again"); err == nil {
				t.Error("something was restored")
			}
		})
	}
}
