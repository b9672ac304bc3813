// Command licences writes site/assets/licences.txt: the licences of all that the page, the edge worker and the program contain. What
// that is it asks of Go, so that no dependency is forgotten; it fails where one has no licence. Its test fails when the file is old.
//
//	go generate ./site
//
// It writes into the file that is named.
package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: licences FILE")
		os.Exit(2)
	}
	text, err := licences(targets)
	if err == nil {
		err = os.WriteFile(os.Args[1], []byte(text), 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

// A target is a program that is shipped. The command's system is fixed, so that the file is the same wherever it is written.
type target struct{ name, pattern, system, processor string }

var targets = []target{
	{"page", "ohmwright/wasm", "js", "wasm"},
	{"edge worker", "ohmwright/cmd/edge", "js", "wasm"},
	{"program", "ohmwright/cmd/ohmwright", "linux", "amd64"},
}

// A work is something with licences: a module, or Go itself.
type work struct {
	name  string
	in    []string // the names of the targets that contain it
	texts []string
}

// licences returns the file.
func licences(targets []target) (string, error) {
	goRoot, err := output("go", "env", "GOROOT")
	if err != nil {
		return "", err
	}
	works := map[string]*work{}
	var files []string // of Go's own packages
	for _, t := range targets {
		found, err := t.contents()
		if err != nil {
			return "", err
		}
		for _, f := range found {
			if f.module == "" {
				f.module, f.directory = "Go", strings.TrimSpace(goRoot)
			}
			if works[f.module] == nil {
				works[f.module] = &work{name: f.module}
				if works[f.module].texts, err = textsIn(f.directory); err != nil {
					return "", fmt.Errorf("%s: %w", f.module, err)
				}
			}
			if w := works[f.module]; !slices.Contains(w.in, t.name) {
				w.in = append(w.in, t.name)
			}
			if f.module == "Go" {
				files = append(files, f.files...)
			}
		}
	}
	if works["Go"] == nil || works["ohmwright"] == nil {
		return "", errors.New("neither Go nor Ohmwright itself was found: what is built in was not listed")
	}
	notices, err := noticesIn(files)
	if err != nil {
		return "", err
	}
	return written(works, notices), nil
}

// A part is a package that a target contains. The module of Go's own is "".
type part struct {
	module, directory string
	files             []string
}

// contents lists the packages that a target contains.
func (t target) contents() ([]part, error) {
	const format = `{{if .Standard}}{{else}}{{.Module.Path}} {{.Module.Version}}{{end}}|` +
		`{{if .Module}}{{.Module.Dir}}{{end}}|{{$d := .Dir}}{{range .GoFiles}}{{$d}}/{{.}} {{end}}{{range .SFiles}}{{$d}}/{{.}} {{end}}`
	list, err := output("env", "CGO_ENABLED=0", "GOFLAGS=", "GOOS="+t.system, "GOARCH="+t.processor,
		"go", "list", "-deps", "-f", format, t.pattern)
	if err != nil {
		return nil, err
	}
	var parts []part
	for line := range strings.Lines(list) {
		fields := strings.Split(strings.TrimSpace(line), "|")
		if len(fields) != 3 {
			return nil, fmt.Errorf("go list wrote %q; want three fields", line)
		}
		parts = append(parts, part{strings.TrimSpace(fields[0]), fields[1], strings.Fields(fields[2])})
	}
	return parts, nil
}

// output runs a program and returns what it prints.
func output(name string, args ...string) (string, error) {
	out, err := exec.Command(name, args...).Output()
	if failed := (*exec.ExitError)(nil); errors.As(err, &failed) {
		err = fmt.Errorf("%s %s: %w: %s", name, strings.Join(args, " "), err, failed.Stderr)
	}
	return string(out), err
}

var licenceFile = regexp.MustCompile(`(?i)^(LICENSE|LICENCE|COPYING|NOTICE)(\.(md|txt))?$`)

// textsIn returns the licences in a directory, and what has to be handed on with them.
func textsIn(directory string) (texts []string, err error) {
	entries, err := os.ReadDir(directory)
	if err != nil {
		return nil, err
	}
	found := false
	for _, e := range entries {
		if !licenceFile.MatchString(e.Name()) {
			continue
		}
		text, err := os.ReadFile(filepath.Join(directory, e.Name()))
		if err != nil {
			return nil, err
		}
		found = found || !strings.HasPrefix(strings.ToUpper(e.Name()), "NOTICE")
		texts = append(texts, tidy(string(text)))
	}
	if !found {
		return nil, fmt.Errorf("%s has no licence; a work without one must not be shipped", directory)
	}
	return texts, nil
}

// tidy takes blanks off the ends of lines, and empty lines off both ends.
func tidy(text string) string {
	lines := strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " \t")
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}
