package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// writeWhole writes a file whole or not at all: into a temporary file beside
// it, synced, then renamed over the name.
func writeWhole(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".part-*")
	if err != nil {
		return notWritten(path, err)
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return notWritten(path, err)
	}
	return nil
}

// notWritten names the file that was asked for, not the temporary one.
func notWritten(path string, err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		err = pe.Err
	case errors.As(err, &le):
		err = le.Err
	}
	return &fs.PathError{Op: "write", Path: path, Err: err}
}

// Marks of files that this command wrote, by which it knows that it may write
// them anew.
var (
	pdfMark   = []byte("/Producer (\xfe\xff\x00p\x00a\x00n\x00e\x00l\x00w\x00r\x00i\x00g\x00h\x00t)")
	chartMark = []byte("<title>Weights of pieces")
	sheetMark = []byte("Findings sheet: ")
	listMark  = []byte("Declaration sheet: ")
)

// replaceable returns an error if a file of that name is there and this command
// did not write it: what the maker has is never written over.
func replaceable(path string, mark []byte) error {
	old, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return notWritten(path, err)
	case !bytes.Contains(old, mark):
		return fmt.Errorf("%s is there already and was not written by this command; move it, or name another place", path)
	}
	return nil
}

// renew writes a file whole, unless one of that name is somebody else's.
func renew(path string, mark, data []byte) error {
	if err := replaceable(path, mark); err != nil {
		return err
	}
	return writeWhole(path, data)
}

// inWords says an error of the file system without the names of system calls.
func inWords(err error) string {
	var pe *fs.PathError
	if !errors.As(err, &pe) {
		return err.Error()
	}
	what := pe.Err.Error()
	switch {
	case errors.Is(pe.Err, fs.ErrNotExist) && (pe.Op == "write" || pe.Op == "mkdir"):
		what = "there is no such folder"
	case errors.Is(pe.Err, fs.ErrNotExist):
		what = "there is nothing of that name"
	case errors.Is(pe.Err, fs.ErrPermission) || errors.Is(pe.Err, syscall.EROFS):
		what = "you may not do that there; choose a folder of your own"
	case errors.Is(pe.Err, syscall.ENOTDIR):
		what = "a file is in the way where a folder is wanted"
	case errors.Is(pe.Err, syscall.EISDIR):
		what = "that is a folder, not a file"
	case errors.Is(pe.Err, syscall.ENOSPC):
		what = "the disk is full"
	case errors.Is(pe.Err, syscall.ELOOP):
		what = "the link leads back to itself"
	}
	plain := pe.Path + ": " + what
	if pe.Op == "write" {
		plain = pe.Path + " was not written: " + what
	}
	return string(bytes.Replace([]byte(err.Error()), []byte(pe.Error()), []byte(plain), 1))
}
