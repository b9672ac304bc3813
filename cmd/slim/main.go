// Command slim makes a linked module of the page smaller: slim LINKED.wasm SMALLER.wasm. It is a step of the build; see
// cmd/internal/slim for what it takes out. A module that it does not know it copies as it is, and says so.
package main

import (
	"errors"
	"fmt"
	"os"

	"ohmwright/cmd/internal/slim"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: slim LINKED.wasm SMALLER.wasm")
		os.Exit(2)
	}
	if err := rewrite(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintf(os.Stderr, "slim: %v\n", err)
		os.Exit(1)
	}
}

func rewrite(from, to string) error {
	wasm, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	slimmer, err := slim.Module(wasm)
	if errors.Is(err, slim.ErrUnknown) {
		fmt.Fprintf(os.Stderr, "slim: %s stays as Go made it, and takes longer to load: %v\n", from, err)
		return os.WriteFile(to, wasm, 0o644)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", from, err)
	}
	return os.WriteFile(to, slimmer, 0o644)
}
