package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/cmd/internal/web"
	"ohmwright/core/tools"
	"ohmwright/site"
)

// A line is one connection to a server, written by hand.
type line struct {
	net.Conn
	in *bufio.Reader
}

func dial(t *testing.T, host string) line {
	t.Helper()
	c, err := net.Dial("tcp", host)
	require.NoError(t, err)
	t.Cleanup(func() { c.Close() })
	require.NoError(t, c.SetDeadline(time.Now().Add(patience)))
	return line{c, bufio.NewReader(c)}
}

// begin sends the head of a request for an answer, and half of its body.
func (l line) begin(t *testing.T) (rest string) {
	t.Helper()
	body := tools.All[0].Example
	_, err := fmt.Fprintf(l, "POST /v1/winding HTTP/1.1\r\nHost: x\r\nContent-Length: %d\r\n\r\n%s", len(body), body[:len(body)/2])
	require.NoError(t, err)
	return body[len(body)/2:]
}

func (l line) answer(t *testing.T) (*http.Response, string) {
	t.Helper()
	got, err := http.ReadResponse(l.in, nil)
	require.NoError(t, err)
	body, err := io.ReadAll(got.Body)
	require.NoError(t, err)
	return got, string(body)
}

// refuses waits until a server takes no new connections.
func refuses(t *testing.T, host string) {
	t.Helper()
	require.Eventually(t, func() bool {
		c, err := net.Dial("tcp", host)
		if err == nil {
			c.Close()
		}
		return err != nil
	}, 10*time.Second, 5*time.Millisecond, "it was told to stop and takes new connections")
}

// TestServeWantsAnAddress: an empty address, as of a variable that is not set, should not open the server to the whole network.
func TestServeWantsAnAddress(t *testing.T) {
	for _, empty := range []string{"", " "} {
		c := start(t, "serve", "--address", empty)
		var out, errOut bytes.Buffer
		c.Stdout, c.Stderr = &out, &errOut
		require.NoError(t, c.Start())
		late := time.AfterFunc(20*time.Second, func() { _ = c.Process.Kill() })
		err := c.Wait()
		require.True(t, late.Stop(), "serve --address %q: it serves: %s", empty, out.String())
		assert.Equal(t, broken, statusOfRun(t, err))
		assert.Empty(t, out.String())
		assert.Contains(t, errOut.String(), "--address is empty; want HOST:PORT")
		assert.Contains(t, errOut.String(), "Try: ohmwright serve --help")
	}
}

// TestStopLosesNoAnswer tells the program to stop while a body is on its way: the request should be answered, and the exit status 0.
func TestStopLosesNoAnswer(t *testing.T) {
	want := ask(t, tools.All[0].Example, "run", "winding").out
	for _, by := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		t.Run(by.String(), func(t *testing.T) {
			s := serve(t)
			host := strings.TrimPrefix(s.base, "http://")
			slow, idle := dial(t, host), dial(t, host)
			rest := slow.begin(t)
			_, err := fmt.Fprint(idle, "GET /v1 HTTP/1.1\r\nHost: x\r\n\r\n")
			require.NoError(t, err)
			idle.answer(t) // and stays open
			require.NoError(t, s.command.Process.Signal(by))
			refuses(t, host)
			for _, piece := range strings.SplitAfter(rest, ",") {
				time.Sleep(100 * time.Millisecond)
				_, err := io.WriteString(slow, piece)
				require.NoError(t, err)
			}
			got, body := slow.answer(t)
			assert.Equal(t, 200, got.StatusCode)
			assert.Equal(t, want, body, "the whole answer")
			assert.Equal(t, done, statusOfRun(t, s.command.Wait()), "a stop that lost nothing")
			assert.Empty(t, s.err.String(), "it said something of what was asked")
		})
	}
}

// TestSecondSignalEndsAtOnce tells it twice, with a request under way that never ends.
func TestSecondSignalEndsAtOnce(t *testing.T) {
	s := serve(t)
	host := strings.TrimPrefix(s.base, "http://")
	dial(t, host).begin(t)
	_, err := http.Get(s.base + "/v1") // answered after the one before: that is under way
	require.NoError(t, err)
	require.NoError(t, s.command.Process.Signal(syscall.SIGTERM))
	refuses(t, host)
	begun := time.Now()
	require.NoError(t, s.command.Process.Signal(syscall.SIGTERM))
	require.Error(t, s.command.Wait())
	assert.Less(t, time.Since(begun), 5*time.Second)
	assert.True(t, s.command.ProcessState.Sys().(syscall.WaitStatus).Signaled(), "it should end by the signal")
}

// TestStopUnderLoad stops the program while clients ask over and over, each on a new connection where one was closed: each request that
// was sent should be answered whole. The answers take long enough for some to be under way all the time.
func TestStopUnderLoad(t *testing.T) {
	s := serve(t)
	circuit, _ := tools.Named("circuit")
	host, body := strings.TrimPrefix(s.base, "http://"), circuit.Example
	want := ask(t, body, "run", "circuit").out
	request := fmt.Sprintf("POST /v1/circuit HTTP/1.1\r\nHost: x\r\nContent-Length: %d\r\n\r\n%s", len(body), body)
	var answered, lost atomic.Int64
	connection := func() (again bool) {
		c, err := net.Dial("tcp", host)
		if err != nil {
			return false // the server takes nobody new
		}
		defer c.Close()
		for in := bufio.NewReader(c); ; answered.Add(1) {
			if _, err := io.WriteString(c, request); err != nil {
				lost.Add(1)
				return true
			}
			got, err := http.ReadResponse(in, nil)
			if err != nil {
				lost.Add(1)
				return true
			}
			if body, err := io.ReadAll(got.Body); err != nil || string(body) != want {
				lost.Add(1)
			}
			if got.Close {
				return true
			}
		}
	}
	var clients sync.WaitGroup
	for range 100 {
		clients.Go(func() {
			for connection() {
			}
		})
	}
	require.Eventually(t, func() bool { return answered.Load() > 200 }, patience, time.Millisecond)
	require.NoError(t, s.command.Process.Signal(syscall.SIGTERM))
	clients.Wait()
	assert.Equal(t, done, statusOfRun(t, s.command.Wait()))
	assert.Zero(t, lost.Load(), "requests without an answer; %d were answered", answered.Load())
}

// limited serves in this process, with short limits; stop ends it, and returns what it returned.
func limited(t *testing.T, l limits, handler http.Handler) (host string, stop func() error) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- serveUntil(ctx, listener.(*net.TCPListener), handler, l) }()
	t.Cleanup(cancel)
	return listener.Addr().String(), func() error { cancel(); return <-ended }
}

// endlessFile is a file that never ends.
var endlessFile = http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
	piece := make([]byte, 1<<20)
	for {
		if _, err := w.Write(piece); err != nil {
			return
		}
	}
})

// TestLimits holds a client to each limit: it should be told, or cut off, soon after.
func TestLimits(t *testing.T) {
	const short = 200 * time.Millisecond
	for _, c := range []struct {
		name  string
		limit func(*limits) *time.Duration
		does  func(*testing.T, line)
	}{
		{"head", func(l *limits) *time.Duration { return &l.head }, func(_ *testing.T, c line) { fmt.Fprint(c, "GET / HTTP/1.1\r\nHost") }},
		{"read", func(l *limits) *time.Duration { return &l.read }, func(t *testing.T, c line) {
			c.begin(t)
			got, body := c.answer(t)
			assert.Equal(t, 408, got.StatusCode, body)
			assert.Contains(t, body, "The request ends in the middle")
		}},
		{"write", func(l *limits) *time.Duration { return &l.write }, func(_ *testing.T, c line) {
			fmt.Fprint(c, "GET / HTTP/1.1\r\nHost: x\r\n\r\n")
			time.Sleep(3 * short)
		}},
		{"idle", func(l *limits) *time.Duration { return &l.idle }, func(t *testing.T, c line) {
			fmt.Fprint(c, "GET /v1 HTTP/1.1\r\nHost: x\r\n\r\n")
			c.answer(t)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := limits{head: time.Minute, read: time.Minute, write: time.Minute, idle: time.Minute, grace: time.Minute}
			*c.limit(&l) = short
			host, stop := limited(t, l, web.Handler(endlessFile, ""))
			line := dial(t, host)
			begun := time.Now()
			c.does(t, line)
			_, err := io.Copy(io.Discard, line.in)
			assert.False(t, os.IsTimeout(err), "it was not cut off")
			assert.Less(t, time.Since(begun), 20*time.Second)
			assert.NoError(t, stop())
		})
	}
}

// TestGrace holds that a request that does not end does not hold the program, and that the usual limits leave no request unanswered.
func TestGrace(t *testing.T) {
	host, stop := limited(t, limits{head: time.Minute, read: time.Minute, grace: 100 * time.Millisecond}, web.Handler(endlessFile, ""))
	dial(t, host).begin(t)
	time.Sleep(200 * time.Millisecond)
	assert.ErrorContains(t, stop(), "cut off")
	for _, l := range []time.Duration{usual.head, usual.read, usual.write, usual.idle, usual.drain} {
		assert.Positive(t, l)
	}
	assert.Greater(t, usual.grace, usual.read, "a request that comes slowly should be answered even after the stop")
}

// TestHeadersOfEveryAnswer asks what no page would ask, and checks that also these answers have the headers of all others.
func TestHeadersOfEveryAnswer(t *testing.T) {
	host, stop := limited(t, usual, web.Handler(static(map[string][]byte{"index.html": []byte("x")}), site.Script()))
	for _, request := range []string{
		"GET /none HTTP/1.1", "POST /v1 HTTP/1.1", "POST /v1/ HTTP/1.1", "OPTIONS * HTTP/1.1", "GET //v1 HTTP/1.1", "GET /v1/../x HTTP/1.1",
		"DELETE / HTTP/1.1", "GET http://elsewhere/v1 HTTP/1.1", "GET /index.html HTTP/1.1\r\nRange: bytes=9-", "HEAD / HTTP/1.0",
		"BAD REQUEST", "GET / HTTP/9.9", "GET /\r\nHost HTTP/1.1", "GET / HTTP/1.1\r\nExpect: wonders", "GET / HTTP/1.1\r\nHost: y",
		"POST /v1/winding HTTP/1.1\r\nTransfer-Encoding: rot13", "GET / HTTP/1.1\r\nLong: " + strings.Repeat("x", 2*mostHead),
	} {
		c := dial(t, host)
		fmt.Fprintf(c, "%s\r\nHost: x\r\nConnection: close\r\n\r\n", request)
		got, err := http.ReadResponse(c.in, nil)
		require.NoError(t, err, request)
		_, err = io.ReadAll(io.LimitReader(got.Body, 10)) // of HEAD there is none
		assert.True(t, err == nil || strings.HasPrefix(request, "HEAD"), "%s: %v", request, err)
		for name, value := range map[string]string{
			"Content-Security-Policy": web.Policy(site.Script()) + "; frame-ancestors 'none'", "X-Content-Type-Options": "nosniff",
			"Referrer-Policy":            "no-referrer",
			"Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin", "X-Frame-Options": "DENY",
		} {
			assert.Equal(t, value, got.Header.Get(name), "%s: %s", request, name)
		}
	}
	assert.NoError(t, stop())
}
