// Package web is the HTTP API of the core: the same handler for "ohmwright serve" and for the edge worker. It stores and logs nothing.
package web

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// Policy is the Content-Security-Policy of the page: it may use its own files and WebAssembly, and nothing else.
const Policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"

// Handler answers POST /v1/TOOL with the contract's response: 200, 422 for a refused request, 413 over 64 KiB, 500 for an error of the
// program. GET /v1 lists the tools, and GET /v1/TOOL describes one. Everything else goes to files.
func Handler(files http.Handler) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("POST /v1/{tool}", run)
	mux.HandleFunc("GET /v1/{tool}", describe)
	mux.HandleFunc("GET /v1", func(w http.ResponseWriter, _ *http.Request) { write(w, http.StatusOK, tools.Menu(tools.English())) })
	mux.HandleFunc("/v1/", func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodPost {
			w.Header().Set("Allow", "GET, POST")
			w.WriteHeader(http.StatusMethodNotAllowed)
			return
		}
		unknown(w, strings.TrimPrefix(r.URL.Path, "/v1/"))
	})
	mux.Handle("/", files)
	return guard(mux)
}

// guard sets the headers that every response has.
func guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", Policy+"; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
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
		w.WriteHeader(http.StatusBadRequest)
		return
	}
	if len(request) > tool.MaxRequest { // also for tools that accept longer requests from a file
		large := tool.NewFault(tools.English(), "", tool.OutOf, "", "request.large", strconv.Itoa(tool.MaxRequest))
		write(w, http.StatusRequestEntityTooLarge, tool.Failure{Errors: []tool.Fault{large}})
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
	write(w, http.StatusOK, t.Describe(tools.English()))
}

// unknown answers for a tool that does not exist, like a refused request.
func unknown(w http.ResponseWriter, name string) {
	response, _ := tools.Run(name, nil, tools.English())
	send(w, http.StatusNotFound, response)
}

// write sends a value as JSON.
func write(w http.ResponseWriter, status int, v any) {
	b, err := json.Marshal(v)
	if err != nil {
		w.WriteHeader(http.StatusInternalServerError)
		return
	}
	send(w, status, b)
}

// send sends JSON.
func send(w http.ResponseWriter, status int, body []byte) {
	h := w.Header()
	h.Set("Content-Type", "application/json; charset=utf-8")
	h.Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write(append(body, '\n')) // if the reader is gone, there is nobody to tell
}
