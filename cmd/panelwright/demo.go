package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"panelwright/formula/finding"
	"panelwright/templates"
)

// starterName is the folder that the starter book is written into.
const starterName = "starter-book"

// start writes the starter book into a folder that does not exist yet.
func start(c *call) (int, error) {
	if len(c.args) != 1 {
		return exitFailed, usageError("start wants one folder to write the starter book into")
	}
	n, err := writeStarter(c.args[0])
	if err != nil {
		return exitFailed, err
	}
	fmt.Fprintf(c.out, "WRITTEN: %d files of an invented workshop in %s\nnext: panelwright check %s\n", n, c.args[0], c.args[0])
	return exitClean, nil
}

// demo writes the starter book into a new folder, makes everything from it and
// prints a table.
func demo(c *call) (int, error) {
	dir, err := newFolder(c.args)
	if err != nil {
		return exitFailed, err
	}
	if _, err := writeStarter(dir); err != nil {
		return exitFailed, err
	}
	c.args = []string{dir}
	b, jobs, _, err := c.openAndJudge()
	if err != nil {
		return exitFailed, err
	}
	c.proof = true
	target := filepath.Join(dir, "printed")
	out, found, err := c.print(jobs, b.Fingerprint, target)
	if err != nil {
		return exitFailed, err
	}
	c.verdict(found)
	fmt.Fprintf(c.out, "%s (invented): %d products and %d %s judged on %s\n\n", b.Workshop.Name, len(b.Products), len(b.Sets), plural(len(b.Sets), "set"), c.on)
	rows := [][]string{{"product", "market", "verdict", "net", "allergens", "findings", "files"}}
	for _, r := range out {
		for _, d := range r.decls {
			files := r.label
			if files == "-" {
				files = r.sheet
			} else if r.sheet != "-" {
				files += ", " + r.sheet
			}
			rows = append(rows, []string{d.Product.Name, string(d.Market), r.verdict, d.Net.Text, fmt.Sprint(d.Declared()), tally(append(r.findings, d.Findings...)), files})
		}
	}
	if err := table(c.out, rows); err != nil {
		return exitFailed, err
	}
	for _, r := range out {
		c.problems(r.findings)
	}
	fmt.Fprintf(c.out, "\nLabels and declaration sheets are in %s. Print at actual size.\n", target)
	for _, r := range out {
		if r.verdict != "PRINT" {
			fmt.Fprintf(c.out, "%s is kept faulty on purpose, to show what holds a label back; its label is a proof, marked so.\n"+
				"What is wrong with it: panelwright check %s --product %q\n", r.product, dir, r.product)
			break
		}
	}
	fmt.Fprintln(c.out, "A calculation, not an assessment: local law and a qualified safety assessor have the last word.")
	return exitClean, nil
}

// tally counts findings by severity, worst first: "2 errors, 1 note".
func tally(list finding.List) string {
	s := ""
	for sev := finding.Error; sev >= finding.Note; sev-- {
		if n := list.Count(sev); n > 0 {
			if s != "" {
				s += ", "
			}
			s += fmt.Sprintf("%d %s", n, plural(n, sev.String()))
		}
	}
	if s == "" {
		return "none"
	}
	return s
}

// newFolder returns the folder asked for, or the first free one of the usual
// name.
func newFolder(args []string) (string, error) {
	if len(args) > 1 {
		return "", usageError("demo wants one folder at most")
	}
	if len(args) == 1 {
		return args[0], nil
	}
	for n := 1; ; n++ {
		name := starterName
		if n > 1 {
			name = fmt.Sprintf("%s-%d", starterName, n)
		}
		if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) {
			return name, nil
		} else if err != nil {
			return "", err
		}
	}
}

// writeStarter writes the starter book into dir, which must not exist: nothing
// of anybody's is overwritten. It returns the number of files.
func writeStarter(dir string) (int, error) {
	if _, err := os.Stat(dir); !errors.Is(err, fs.ErrNotExist) {
		if err != nil {
			return 0, err
		}
		return 0, fmt.Errorf("%s exists already; nothing was written. Name a new folder", dir)
	}
	files, err := fs.Sub(templates.Starter, "starter")
	if err != nil {
		return 0, err
	}
	n := 0
	err = fs.WalkDir(files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		target := filepath.Join(dir, filepath.FromSlash(path))
		if d.IsDir() {
			return os.MkdirAll(target, 0o755)
		}
		data, err := fs.ReadFile(files, path)
		if err != nil {
			return err
		}
		n++
		return writeWhole(target, data)
	})
	return n, err
}
