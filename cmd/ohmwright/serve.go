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
	"strings"
	"syscall"
	"time"

	"ohmwright/cmd/internal/web"
	"ohmwright/site"
)

// limits are the times after which the server gives up on a client.
type limits struct {
	head  time.Duration // to send the head of a request
	read  time.Duration // to send all of it
	write time.Duration // to take the answer, from the head on: the packed module is 0.7 MB
	idle  time.Duration // between two requests
	drain time.Duration // without any request, until open connections are closed after the server is told to stop: one may be on its way
	grace time.Duration // to finish after that: more than read, so that no answer is lost
}

var usual = limits{
	head: 10 * time.Second, read: 30 * time.Second, write: 5 * time.Minute, idle: time.Minute,
	drain: 200 * time.Millisecond, grace: 40 * time.Second,
}

// mostHead is the most bytes of a request's head.
const mostHead = 32 << 10

// untilSignal returns a context that ends when the program is told to stop, by Ctrl-C or SIGTERM. From then on a second signal ends the
// program at once.
func untilSignal() (context.Context, context.CancelFunc) {
	ctx, stop := context.WithCancel(context.Background())
	told := make(chan os.Signal, 1)
	signal.Notify(told, os.Interrupt, syscall.SIGTERM)
	go func() {
		select {
		case <-told:
		case <-ctx.Done():
		}
		signal.Stop(told)
		stop()
	}()
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
	if strings.TrimSpace(*address) == "" { // net.Listen would take it for every interface, on any port
		return c.fail("serve: --address is empty; want HOST:PORT, such as 127.0.0.1:8080")
	}
	ctx, stop := untilSignal()
	defer stop()
	files, err := assemble(ctx, site.Plan{Language: *language})
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
	if err := serveUntil(ctx, listener.(*net.TCPListener), web.Handler(static(files), site.Script()), usual); err != nil {
		return c.fail("serve: %v", err)
	}
	return done
}

// serveUntil answers until the context ends, and then finishes the requests that are under way. It returns an error if some were
// cut off.
func serveUntil(ctx context.Context, listener *net.TCPListener, handler http.Handler, l limits) error {
	leaving := &leaver{handler: handler}
	server := &http.Server{
		Handler: leaving, ReadHeaderTimeout: l.head, ReadTimeout: l.read, WriteTimeout: l.write, IdleTimeout: l.idle, MaxHeaderBytes: mostHead,
		DisableGeneralOptionsHandler: true, // its answer lacks the headers that every other has
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(&guardedListener{TCPListener: listener}) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.Background(), l.grace)
	defer cancel()
	_ = listener.SetDeadline(time.Now()) // those who wait are let in, and then nobody; it may be closed already
	<-failed
	_ = listener.Close()
	leaving.told.Store(true) // not before: whoever is told that a connection closes makes a new one
	leaving.quiet(last, l.drain)
	if err := server.Shutdown(last); errors.Is(err, context.DeadlineExceeded) { // else it tells that the listener was closed
		_ = server.Close() // the program ends: what is still open is cut off
		return fmt.Errorf("requests were still under way %s after it was told to stop; they were cut off (%w)", l.grace, err)
	}
	return nil
}
