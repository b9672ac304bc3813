//go:build !js

// Command edge, run on the machine that builds the worker, prints told.mjs: what worker.mjs has to know and Go says.
package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"

	"ohmwright/cmd/internal/web"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

func main() {
	text, err := told()
	if err == nil {
		_, err = fmt.Print(text)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "edge:", err)
		os.Exit(1)
	}
}

// told is the script: the headers of every answer, the most bytes of a question, and the answers that the worker gives by itself.
func told() (string, error) {
	guard := http.Header{}
	web.Guard(guard)
	headers := map[string]string{}
	for name := range guard {
		headers[name] = guard.Get(name)
	}
	fault := tool.NewFault(tools.English(), "", tool.Broken, "", "program", "the edge's program ended")
	broken, err := json.Marshal(tool.Failure{Errors: []tool.Fault{fault}})
	if err != nil {
		return "", err
	}
	script := "// Written by cmd/edge when the worker is built.\n"
	for _, constant := range []struct {
		name  string
		value any
	}{
		{"GUARD", headers},
		{"MOST", tool.MaxRequest},
		{"NO_FILES", "the files of the site cannot be reached\n"},
		{"BROKEN", string(broken) + "\n"},
	} {
		value, err := json.Marshal(constant.value)
		if err != nil {
			return "", err
		}
		script += fmt.Sprintf("export const %s = %s;\n", constant.name, value)
	}
	return script, nil
}
