package main

import (
	"fmt"
	"io"
	"os"

	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

func main() {
	b, _ := io.ReadAll(os.Stdin)
	out, err := tool.Run(os.Args[2], b, wording.English())
	fmt.Println(string(out))
	if err != nil {
		os.Exit(2)
	}
}
