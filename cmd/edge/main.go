//go:build js && wasm

// Command edge is the edge worker: the handler of "ohmwright serve", asked by worker.mjs. It stores and logs nothing, and sees no file
// of the site: the platform gives these out by itself. One instance answers all questions of its isolate, one after the other: it
// does no input or output of its own, which the platform would tie to the request that began it.
//
// wrangler.toml says how it is deployed; site/test/edge.test.mjs runs it.
package main

import (
	"bytes"
	"net/http"

	"github.com/hack-pad/safejs"

	"ohmwright/cmd/internal/web"
)

func main() {
	handler := web.Handler(http.NotFoundHandler())
	answer, err := safejs.FuncOf(func(_ safejs.Value, args []safejs.Value) any { return ask(handler, args[0], args[1], args[2]) })
	if err == nil {
		_, err = safejs.Global().Call("ohmwrightReady", answer)
	}
	if err != nil {
		panic(err)
	}
	select {} // it answers as long as its isolate lives
}

// ask has a request answered. The body is a Uint8Array.
func ask(handler http.Handler, method, address, body safejs.Value) any {
	r, err := read(method, address, body)
	if err != nil {
		return map[string]any{"status": http.StatusBadRequest, "headers": map[string]any{}, "body": ""}
	}
	w := &writer{header: http.Header{}}
	handler.ServeHTTP(w, r)
	headers := map[string]any{}
	for name := range w.header {
		headers[name] = w.header.Get(name) // the handler sets none twice
	}
	return map[string]any{"status": w.status, "headers": headers, "body": w.body.String()}
}

// read makes a request of what the worker was asked.
func read(method, address, body safejs.Value) (*http.Request, error) {
	verb, err := method.String()
	if err != nil {
		return nil, err
	}
	url, err := address.String()
	if err != nil {
		return nil, err
	}
	size, err := body.Length()
	if err != nil {
		return nil, err
	}
	content := make([]byte, size)
	if _, err := safejs.CopyBytesToGo(content, body); err != nil {
		return nil, err
	}
	return http.NewRequest(verb, url, bytes.NewReader(content))
}

// A writer keeps an answer.
type writer struct {
	header http.Header
	status int
	body   bytes.Buffer
}

func (w *writer) Header() http.Header { return w.header }

func (w *writer) WriteHeader(status int) {
	if w.status == 0 {
		w.status = status
	}
}

func (w *writer) Write(b []byte) (int, error) {
	w.WriteHeader(http.StatusOK)
	return w.body.Write(b)
}
