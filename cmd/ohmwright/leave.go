package main

import (
	"context"
	"net/http"
	"sync/atomic"
	"time"
)

// A leaver is a handler that counts what is under way. Once told that the server stops, it says with each answer that the connection
// is closed after it.
type leaver struct {
	handler http.Handler
	told    atomic.Bool
	begun   atomic.Int64
	ended   atomic.Int64
}

// ServeHTTP answers.
func (l *leaver) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	l.begun.Add(1)
	defer l.ended.Add(1)
	l.handler.ServeHTTP(&lastWord{ResponseWriter: w, leaver: l}, r)
}

// quiet waits until nothing was under way for a while. On a busy machine much that clients have sent may still have to be read.
func (l *leaver) quiet(ctx context.Context, while time.Duration) {
	for before := int64(-1); ctx.Err() == nil; {
		begun := l.begun.Load()
		if begun == before && l.ended.Load() == begun {
			return
		}
		before = begun
		time.Sleep(max(while, time.Millisecond))
	}
}

// A lastWord is the writer of an answer. It says whether the connection closes when the head of the answer is written: when the request
// was read, nobody may have known.
type lastWord struct {
	http.ResponseWriter
	leaver *leaver
	begun  bool
}

// WriteHeader writes the head.
func (w *lastWord) WriteHeader(status int) {
	if !w.begun && w.leaver.told.Load() {
		w.Header().Set("Connection", "close")
	}
	w.begun = true
	w.ResponseWriter.WriteHeader(status)
}

// Write writes a part of the body.
func (w *lastWord) Write(b []byte) (int, error) {
	if !w.begun {
		w.WriteHeader(http.StatusOK)
	}
	return w.ResponseWriter.Write(b)
}
