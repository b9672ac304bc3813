// Command slim makes a linked module of the page smaller, in its place: slim FILE.wasm. It is a step of the build; see
// cmd/internal/slim for what it takes out. A module that it does not know stays as it is, and slim fails.
package main

import (
	"fmt"
	"os"

	"ohmwright/cmd/internal/slim"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: slim FILE.wasm")
		os.Exit(2)
	}
	path := os.Args[1]
	before, after, err := rewrite(path)
	if err != nil {
		fmt.Fprintf(os.Stderr, "slim: %s is left as it was: %v (\"make SLIM=no\" builds without this step)\n", path, err)
		os.Exit(1)
	}
	fmt.Printf("slim: %s had %d bytes, has %d\n", path, before, after)
}

// rewrite makes the module in a file smaller, and returns its sizes before and after.
func rewrite(path string) (before, after int, err error) {
	wasm, err := os.ReadFile(path)
	if err != nil {
		return 0, 0, err
	}
	slimmer, err := slim.Module(wasm)
	if err != nil {
		return 0, 0, err
	}
	return len(wasm), len(slimmer), os.WriteFile(path, slimmer, 0o644)
}
