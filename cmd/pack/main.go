// Command pack compresses the page's module: pack MODULE.wasm PACKED. It is a step of the build; see site/pack.
package main

import (
	"fmt"
	"os"

	"ohmwright/site/pack"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: pack MODULE.wasm PACKED")
		os.Exit(2)
	}
	module, err := os.ReadFile(os.Args[1])
	if err == nil {
		err = os.WriteFile(os.Args[2], pack.Bytes(module), 0o644)
	}
	if err != nil {
		fmt.Fprintf(os.Stderr, "pack: %v\n", err)
		os.Exit(1)
	}
}
