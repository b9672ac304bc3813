// Command members writes, for each struct with json tags in core and wasm, the method that tells its members, into the file members.go
// of its package: with it core/jsontext writes and describes what would otherwise take reflection. Run it after a change of such a
// struct:
//
//	go generate ./core/jsontext
//
// The tags mean what they mean to encoding/json. A field is a string, bool, int or float64, or of a type made of one of these; a pointer
// to a string or float64; a list of strings or ints; a struct with json tags, a pointer to one, or a list of them; such a pointer
// embedded; or a jsontext.Object. Anything else is an error.
package main

import (
	"fmt"
	"os"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "members: want the top directory of the source tree")
		os.Exit(1)
	}
	files, err := written(os.Args[1])
	for path, text := range files {
		if err == nil && text == nil {
			err = os.Remove(path)
		} else if err == nil {
			err = os.WriteFile(path, text, 0o644)
		}
	}
	if err != nil {
		fmt.Fprintf(os.Stderr, "members: %v\n", err)
		os.Exit(1)
	}
}
