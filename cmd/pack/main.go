// Command pack folds and compresses the page's module: pack MODULE.wasm PACKED. It is a step of the build; see site/fold and site/pack.
package main

import (
	"fmt"
	"os"

	"ohmwright/site/fold"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: pack MODULE.wasm PACKED")
		os.Exit(2)
	}
	if err := write(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintf(os.Stderr, "pack: %v\n", err)
		os.Exit(1)
	}
}

func write(from, to string) error {
	module, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	packed, err := fold.Packed(module)
	if err != nil {
		return fmt.Errorf("%s: %w", from, err)
	}
	return os.WriteFile(to, packed, 0o644)
}
