package main

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

var (
	someones = regexp.MustCompile(`(?i)copyright (\(c\)|©|[0-9])`)
	ofGo     = regexp.MustCompile(`(?i)copyright .*the go authors`)
	mark     = regexp.MustCompile(`^\s*(//|\*|/\*+|#)? ?`)
)

// noticesIn returns the notices of others in files of Go: comments that name another holder of the rights. Many files have the same
// one.
func noticesIn(files []string) ([]string, error) {
	found := map[string]bool{}
	for _, file := range files {
		text, err := os.ReadFile(filepath.FromSlash(file))
		if err != nil {
			return nil, err
		}
		if !someones.MatchString(ofGo.ReplaceAllString(string(text), "")) {
			continue
		}
		for _, comment := range comments(string(text)) {
			if someones.MatchString(ofGo.ReplaceAllString(comment, "")) {
				found[notice(comment)] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(found)), nil
}

// notice is the part of a comment that begins with the paragraph of its copyright, and ends with the comment or with a line of "=".
// Before it, and behind that line, stands how the code works.
func notice(comment string) string {
	lines := strings.Split(comment, "\n")
	from := slices.IndexFunc(lines, someones.MatchString)
	isEdge := func(line string) bool { return strings.Trim(line, "= ") == "" }
	to := from
	for to < len(lines) && !strings.HasPrefix(strings.TrimSpace(lines[to]), "====") {
		to++
	}
	for from > 0 && !isEdge(lines[from-1]) {
		from--
	}
	return tidy(strings.Join(lines[from:to], "\n"))
}

// comments returns the blocks of a file's lines that begin as comments do, without these beginnings.
func comments(text string) (blocks []string) {
	var block []string
	inside := false
	end := func() {
		if len(block) > 0 {
			blocks = append(blocks, tidy(strings.Join(block, "\n")))
		}
		block = nil
	}
	for line := range strings.Lines(text) {
		plain := strings.TrimSpace(line)
		opens := strings.HasPrefix(plain, "/*")
		if !inside && !opens && !strings.HasPrefix(plain, "//") {
			end()
			continue
		}
		inside = (inside || opens) && !strings.Contains(plain, "*/")
		block = append(block, mark.ReplaceAllString(strings.TrimSuffix(strings.TrimRight(line, " \t\n"), "*/"), ""))
	}
	end()
	return blocks
}

// written lays out the file: Ohmwright first, then Go, then the rest by name; equal texts stand once.
func written(works map[string]*work, notices []string) string {
	rank := func(name string) int { return slices.Index([]string{"Go", "ohmwright"}, name) }
	names := slices.SortedFunc(maps.Keys(works), func(a, b string) int {
		if r := rank(b) - rank(a); r != 0 {
			return r
		}
		return strings.Compare(a, b)
	})
	var b strings.Builder
	b.WriteString("The licences of Ohmwright and of all that its page, its edge worker and its program contain.\n")
	seen := map[string]string{}
	for _, name := range names {
		w := works[name]
		title := name
		switch name {
		case "ohmwright":
			title = "Ohmwright"
		case "Go":
			title = "Go (runtime, standard library, wasm_exec.js)"
		}
		b.WriteString("\n" + strings.Repeat("=", 80) + "\n" + title + "\nin: " + strings.Join(w.in, ", ") + "\n\n")
		for _, text := range w.texts {
			if other, ok := seen[text]; ok {
				b.WriteString("The same text as of " + other + ".\n")
				continue
			}
			seen[text] = title
			b.WriteString(text + "\n")
		}
		if name == "Go" && len(notices) > 0 {
			b.WriteString("\nNotices of others in it:\n")
			for _, notice := range notices {
				b.WriteString("\n" + strings.Repeat("-", 80) + "\n" + notice + "\n")
			}
		}
	}
	return b.String()
}
