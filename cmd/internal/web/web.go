// Package web is the HTTP API of the core: the same handler for "ohmwright serve" and for the edge worker. It stores and logs nothing.
package web

import (
	"errors"
	"io"
	"maps"
	"net/http"
	"os"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/jsontext"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// Policy returns the Content-Security-Policy of the page: it may use its own files, WebAssembly and workers whose script it has itself, the
// script that comes packed if there is one, of which script is the hash, and nothing else.
func Policy(script string) string {
	if script != "" {
		script = " '" + script + "'"
	}
	return "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'" + script + "; style-src 'self'; img-src 'self'; connect-src 'self'; " +
		"manifest-src 'self'; worker-src 'self' blob:; base-uri 'none'; form-action 'none'"
}

// Handler answers POST /v1/TOOL with the contract's response: 200, 422 for a refused request, 413 over 64 KiB, 500 for an error of the
// program. GET /v1 lists the tools, and GET /v1/TOOL describes one. Everything else goes to files. script is the hash of the page's: see
// [Policy].
func Handler(files http.Handler, script string) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("POST /v1/{tool}", run)
	mux.HandleFunc("GET /v1/{tool}", describe)
	mux.HandleFunc("GET /v1", func(w http.ResponseWriter, _ *http.Request) { send(w, http.StatusOK, tools.Menu(tools.English())) })
	mux.HandleFunc("/v1", func(w http.ResponseWriter, r *http.Request) { notAllowed(w, r, "GET, HEAD") })
	mux.HandleFunc("/v1/", func(w http.ResponseWriter, r *http.Request) {
		if !slices.Contains([]string{http.MethodGet, http.MethodHead, http.MethodPost}, r.Method) {
			notAllowed(w, r, "GET, HEAD, POST")
			return
		}
		unknown(w, strings.TrimPrefix(r.URL.Path, "/v1/"))
	})
	mux.Handle("/", files)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		Guard(w.Header(), script)
		mux.ServeHTTP(w, r)
	})
}

// Guard sets the headers that every response has. [Handler] does so itself. script is the hash of the page's: see [Policy].
func Guard(h http.Header, script string) {
	h.Set("Content-Security-Policy", Policy(script)+"; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("X-Frame-Options", "DENY") // for browsers that do not know frame-ancestors
}

// Caching is the Cache-Control of the site's files: a browser asks each time whether its copy is current. No name tells of a version, and
// the service worker decides when to use a new one.
const Caching = "no-cache"

// BuildMark begins a file that a host reads, such as [Headers]. Without it, the file is somebody's own.
const BuildMark = "# Written by ohmwright build, which replaces it. Take this line out to keep what you change here."

// Headers is the file _headers, which several hosts of static files read: the headers that they set on every file. script is the hash of
// the page's: see [Policy].
func Headers(script string) []byte {
	h := http.Header{"Cache-Control": {Caching}}
	Guard(h, script)
	text := BuildMark + "\n/*\n"
	for _, name := range slices.Sorted(maps.Keys(h)) {
		text += "  " + name + ": " + h.Get(name) + "\n"
	}
	return []byte(text)
}

// run answers a request.
func run(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("tool")
	if _, ok := tools.Named(name); !ok {
		unknown(w, name)
		return
	}
	request, err := io.ReadAll(io.LimitReader(r.Body, tool.MaxRequest+1))
	if err != nil {
		status := http.StatusBadRequest
		if errors.Is(err, os.ErrDeadlineExceeded) {
			status = http.StatusRequestTimeout
		}
		refuse(w, status, tool.NewFault(tools.English(), "", tool.Syntax, string(request), "request.cut"))
		return
	}
	if len(request) > tool.MaxRequest { // also for tools that accept longer requests from a file
		most := strconv.Itoa(tool.MaxRequest)
		refuse(w, http.StatusRequestEntityTooLarge, tool.NewFault(tools.English(), "", tool.OutOf, "", "request.large", most))
		return
	}
	response, err := tools.Run(name, request, tools.English())
	status := http.StatusOK
	switch {
	case errors.Is(err, tools.ErrRequest):
		status = http.StatusUnprocessableEntity
	case err != nil:
		status = http.StatusInternalServerError
	}
	send(w, status, response)
}

// describe answers with the schemas of a tool.
func describe(w http.ResponseWriter, r *http.Request) {
	t, ok := tools.Named(r.PathValue("tool"))
	if !ok {
		unknown(w, r.PathValue("tool"))
		return
	}
	send(w, http.StatusOK, t.Describe(tools.English()))
}

// unknown answers for a tool that does not exist, like a refused request.
func unknown(w http.ResponseWriter, name string) {
	response, _ := tools.Run(name, nil, tools.English())
	send(w, http.StatusNotFound, response)
}

// notAllowed answers a method that an address does not take.
func notAllowed(w http.ResponseWriter, r *http.Request, allowed string) {
	w.Header().Set("Allow", allowed)
	fault := tool.NewFault(tools.English(), "", tool.Unknown, r.Method, "method", quantity.Clip(r.Method), allowed)
	refuse(w, http.StatusMethodNotAllowed, fault)
}

// refuse answers with one fault.
func refuse(w http.ResponseWriter, status int, fault tool.Fault) {
	body, err := jsontext.AppendObject(nil, &tool.Failure{Errors: []tool.Fault{fault}})
	if err != nil {
		status = http.StatusInternalServerError
	}
	send(w, status, body)
}

// send sends JSON.
func send(w http.ResponseWriter, status int, body []byte) {
	h := w.Header()
	h.Set("Content-Type", "application/json; charset=utf-8")
	h.Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(append(body, '\n')) // if the reader is gone, there is nobody to tell
}
