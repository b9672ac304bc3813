package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"ohmwright/cmd/internal/web"
)

// limits are the times after which the server gives up on a client.
type limits struct {
	head  time.Duration // to send the head of a request
	read  time.Duration // to send all of it
	write time.Duration // to take the answer, from the head on: the module is 1.5 MB
	idle  time.Duration // between two requests
	drain time.Duration // to ask once more on an open connection after the server is told to stop: a request may be on its way
	grace time.Duration // to finish after that: more than read, so that no answer is lost
}

var usual = limits{
	head: 10 * time.Second, read: 30 * time.Second, write: 5 * time.Minute, idle: time.Minute,
	drain: 200 * time.Millisecond, grace: 40 * time.Second,
}

// mostHead is the most bytes of a request's head.
const mostHead = 32 << 10

// untilSignal returns a context that ends when the program is told to stop, by Ctrl-C or SIGTERM. A second signal then ends the
// program at once.
func untilSignal() (context.Context, context.CancelFunc) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}

// serve serves the page and the API until it is told to stop.
func (c caller) serve(args []string) int {
	set := flag.NewFlagSet("serve", flag.ContinueOnError)
	address := set.String("address", "127.0.0.1:8080", "")
	language := set.String("language", "en", "")
	words, status, ok := c.flags(set, serveHelp, args)
	if !ok {
		return status
	}
	if len(words) > 0 {
		return c.fail("serve: %q given; want flags only", words[0])
	}
	ctx, stop := untilSignal()
	defer stop()
	files, err := assemble(ctx, *language)
	if err != nil {
		return c.fail("serve: %v", err)
	}
	listener, err := net.Listen("tcp", *address)
	if err != nil {
		return c.fail("serve: %v", err)
	}
	if status := c.print(fmt.Sprintf("Ohmwright is at http://%s\nStop it with Ctrl-C.\n", listener.Addr())); status != done {
		return status
	}
	if err := serveUntil(ctx, listener, web.Handler(static(files)), usual); err != nil {
		return c.fail("serve: %v", err)
	}
	return done
}

// serveUntil answers until the context ends, and then finishes the requests that are under way. It returns an error if some were
// cut off.
func serveUntil(ctx context.Context, listener net.Listener, handler http.Handler, l limits) error {
	closing := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if ctx.Err() != nil {
			w.Header().Set("Connection", "close")
		}
		handler.ServeHTTP(w, r)
	})
	server := &http.Server{
		Handler: closing, ReadHeaderTimeout: l.head, ReadTimeout: l.read, WriteTimeout: l.write, IdleTimeout: l.idle, MaxHeaderBytes: mostHead,
		DisableGeneralOptionsHandler: true, // its answer lacks the headers that every other has
	}
	failed := make(chan error, 1)
	guarded := listener
	if tcp, ok := listener.(*net.TCPListener); ok {
		guarded = guardedListener{tcp}
	}
	go func() { failed <- server.Serve(guarded) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	_ = listener.Close() // nobody new; it may be closed already
	time.Sleep(l.drain)
	last, cancel := context.WithTimeout(context.Background(), l.grace)
	defer cancel()
	if err := server.Shutdown(last); errors.Is(err, context.DeadlineExceeded) { // else it tells that the listener was closed
		_ = server.Close() // the program ends: what is still open is cut off
		return fmt.Errorf("requests were still under way %s after it was told to stop; they were cut off (%w)", l.grace, err)
	}
	return nil
}
