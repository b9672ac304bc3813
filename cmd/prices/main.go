// Command prices prints each import of the page's module and what its code takes, as it is and packed, the dearest first. prices.txt
// has the imports that are accepted, with their prices; a test holds the module to it. Run it in the repository:
//
//	go run ./cmd/prices                          the table
//	go run ./cmd/prices > cmd/prices/prices.txt  the same, accepted
//
// What is packed is the folded module, and what several packages share costs the first of them. Data (texts, types, the function table)
// cannot be told apart by package: it is one line.
package main

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"ohmwright/cmd/internal/slim"
	"ohmwright/site"
	"ohmwright/site/fold"
	"ohmwright/site/pack"
	"ohmwright/site/sections"
)

func main() {
	prices, err := measured(".")
	if err == nil {
		err = write(os.Stdout, prices)
	}
	if err != nil {
		fmt.Fprintf(os.Stderr, "prices: %v\n", err)
		os.Exit(1)
	}
}

// A price is what the code of a package takes in the module.
type price struct {
	name        string
	raw, packed float64 // kB
}

// Lines that are no packages.
const (
	data  = "(data)"
	other = "(equality and other code of no package)"
)

func write(to io.Writer, prices []price) error {
	out := bufio.NewWriter(to)
	raw, packed := 0.0, 0.0
	for _, p := range prices {
		fmt.Fprintf(out, "%8.1f %8.1f  %s\n", p.packed, p.raw, p.name)
		raw, packed = raw+p.raw, packed+p.packed
	}
	fmt.Fprintf(out, "%8.1f %8.1f  (all; packed kB, as it is kB)\n", packed, raw)
	return out.Flush()
}

// measured builds the module of the repository in a directory, with the names of its functions, and returns the prices.
func measured(directory string) ([]price, error) {
	packages, err := imports(directory)
	if err != nil {
		return nil, err
	}
	linked, err := named(directory)
	if err != nil {
		return nil, err
	}
	wasm, err := slim.Module(linked)
	if err != nil {
		return nil, err
	}
	names, rest, err := withoutNames(wasm)
	if err != nil {
		return nil, err
	}
	folded, err := fold.Module(rest)
	if err != nil {
		return nil, err
	}
	all, err := sections.Read(rest)
	if err != nil {
		return nil, err
	}
	bodies, err := sections.Functions(sections.Content(all, sections.Code))
	if count := len(folded.Ends) - 1; err != nil || len(bodies) != count {
		return nil, errors.Join(err, fmt.Errorf("%d functions, %d folded", len(bodies), count))
	}
	functions, besides := costs(folded)
	byName := map[string]*price{}
	for _, p := range append(packages, data, other) {
		byName[p] = &price{name: p}
	}
	of := finder(packages)
	for i, body := range bodies {
		p := byName[of(names[i])]
		p.raw += float64(len(body)) / 1000
		p.packed += functions[i]
	}
	byName[data].packed = besides
	byName[data].raw = float64(len(rest)) / 1000
	for _, body := range bodies {
		byName[data].raw -= float64(len(body)) / 1000
	}
	var prices []price
	for _, p := range byName {
		prices = append(prices, *p)
	}
	slices.SortFunc(prices, func(a, b price) int { return cmp.Or(cmp.Compare(b.packed, a.packed), cmp.Compare(a.name, b.name)) })
	return prices, nil
}

// costs returns what each function takes packed, and what is besides them, in kB.
func costs(folded *fold.Folded) (functions []float64, besides float64) {
	functions = make([]float64, len(folded.Ends)-1)
	for n, s := range folded.Streams {
		stream := pack.Costs(s, fold.Shape(n))
		besides += sum(stream)
		for i := range functions {
			own := sum(stream[folded.Ends[i][n]:folded.Ends[i+1][n]])
			functions[i] += own
			besides -= own
		}
	}
	return functions, besides
}

// sum returns in kB what bytes cost.
func sum(costs []float64) (kB float64) {
	for _, c := range costs {
		kB += c / 1000
	}
	return kB
}

// run runs go for js/wasm.
func run(directory string, args ...string) ([]byte, error) {
	command := exec.Command("go", args...)
	command.Dir = directory
	command.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	var faults bytes.Buffer
	command.Stderr = &faults
	out, err := command.Output()
	if err != nil {
		return nil, fmt.Errorf("go %s: %w\n%s", args[0], err, faults.Bytes())
	}
	return out, nil
}

// imports returns the packages of the module.
func imports(directory string) ([]string, error) {
	out, err := run(directory, "list", "-deps", "./wasm")
	return strings.Fields(string(out)), err
}

// named returns the module as it is linked, with the names of its functions.
func named(directory string) ([]byte, error) {
	place, err := os.MkdirTemp("", "prices")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(place)
	path := filepath.Join(place, "module.wasm")
	flags := append([]string{"build"}, site.ModuleFlags()...)
	if _, err := run(directory, append(flags, "-ldflags=-w", "-o", path, "./wasm")...); err != nil { // instead of -s
		return nil, err
	}
	return os.ReadFile(path)
}

// unfit are the characters that the linker writes as _ in a function's name (cmd/link/internal/wasm/asm.go).
var unfit = regexp.MustCompile(`[^\w.]`)

// finder returns a function that finds the package of a function's name: the longest whose path the name begins with.
func finder(packages []string) func(name string) string {
	paths := map[string]string{}
	for _, p := range packages {
		paths[unfit.ReplaceAllString(p, "_")] = p
	}
	paths["main"] = "ohmwright/wasm"
	return func(name string) string {
		for i := len(name) - 1; i > 0; i-- {
			if p, ok := paths[name[:i]]; ok && name[i] == '.' {
				return p
			}
		}
		return other
	}
}

// withoutNames takes the names of functions out of a module; imports have the first numbers, and are left out.
func withoutNames(wasm []byte) (names, []byte, error) {
	all, err := sections.Read(wasm)
	if err != nil {
		return nil, nil, err
	}
	var found names
	rest := slices.DeleteFunc(slices.Clone(all), func(s sections.Section) bool {
		content, ok := bytes.CutPrefix(s.Content, []byte("\x04name"))
		if ok = ok && s.ID == sections.Custom; ok {
			found = readNames(content)
		}
		return ok
	})
	imported := sections.Imports(all)
	if len(found) <= imported {
		return nil, nil, errors.New("no module with names")
	}
	return found[imported:], sections.Write(rest), nil
}

type names []string

// readNames reads a section of names: its part 1 has those of functions, by their numbers.
func readNames(section []byte) (all names) {
	in := bytes.NewReader(section)
	for in.Len() > 0 {
		part, _ := in.ReadByte()
		size, _ := binary.ReadUvarint(in)
		if part != 1 {
			_, _ = in.Seek(int64(size), io.SeekCurrent)
			continue
		}
		count, _ := binary.ReadUvarint(in)
		for range count {
			number, _ := binary.ReadUvarint(in)
			length, _ := binary.ReadUvarint(in)
			name := make([]byte, min(length, uint64(in.Len())))
			_, _ = io.ReadFull(in, name)
			for uint64(len(all)) <= number && number < 1<<20 {
				all = append(all, "")
			}
			all[number] = string(name)
		}
	}
	return all
}
