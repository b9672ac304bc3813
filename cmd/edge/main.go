//go:build js && wasm

// Command edge is the edge worker. It is the handler of "ohmwright serve", with the site's files taken from the platform's
// own store, which is bound as ASSETS; the platform gives these out by itself, and asks the worker for what is not among them. It stores
// and logs nothing. One program answers one request: entry.mjs says how many there are at once. wrangler.toml describes how it is built
// and deployed; site/test/edge.test.mjs runs it.
package main

import (
	"io"
	"net/http"

	"github.com/hack-pad/safejs"
	"github.com/syumai/workers"
	"github.com/syumai/workers/cloudflare"
	"github.com/syumai/workers/cloudflare/fetch"

	"ohmwright/cmd/internal/web"
)

func main() {
	workers.Serve(web.Handler(http.HandlerFunc(files), ""))
}

// asked are the headers that the store needs. No other header of the reader is passed on to it.
var asked = []string{"Accept-Encoding", "If-None-Match", "If-Modified-Since", "Range", "If-Range"}

// policy is the header that the store knows better than this program, which has no page: it names the page's script.
const policy = "Content-Security-Policy"

// files answers from the store, and passes on its headers except cookies and those that are already set.
func files(w http.ResponseWriter, r *http.Request) {
	response, err := fromStore(r)
	if err != nil {
		http.Error(w, "the files of the site cannot be reached", http.StatusBadGateway)
		return
	}
	h := w.Header()
	for name, values := range response.Header {
		if (h.Get(name) == "" || name == policy) && name != "Set-Cookie" {
			h[name] = values
		}
	}
	w.WriteHeader(response.StatusCode)
	_, _ = io.Copy(w, response.Body) // if the reader is gone, there is nobody to tell
}

// fromStore passes the reader's request to the store.
func fromStore(r *http.Request) (*http.Response, error) {
	store, err := binding("ASSETS")
	if err != nil {
		return nil, err
	}
	request, err := fetch.NewRequest(r.Context(), r.Method, r.URL.String(), nil)
	if err != nil {
		return nil, err
	}
	for _, name := range asked {
		if values := r.Header.Values(name); len(values) > 0 {
			request.Header[name] = values
		}
	}
	return fetch.NewClient(store).Do(request, &fetch.RequestInit{Redirect: fetch.RedirectModeManual})
}

// binding returns the option that makes a client fetch from a bound service. The client calls the service's fetch without
// the service as its receiver, which the platform refuses, so fetch is bound to the service first. The client then looks
// for a property fetch on what it was given; the bound function is an object, and gets itself as that property.
func binding(name string) (fetch.ClientOption, error) {
	service := safejs.Safe(cloudflare.GetBinding(name))
	function, err := service.Get("fetch")
	if err != nil {
		return nil, err
	}
	tied, err := function.Call("bind", service)
	if err != nil {
		return nil, err
	}
	if err := tied.Set("fetch", tied); err != nil {
		return nil, err
	}
	return fetch.WithBinding(safejs.Unsafe(tied)), nil
}
