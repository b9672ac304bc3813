package main

import (
	"bytes"
	"errors"
	"net"
	"net/http"
	"os"
	"time"

	"ohmwright/cmd/internal/web"
	"ohmwright/site"
)

// A guardedListener sets the headers of every answer also on those that Go's server gives before any handler is asked: for a head that
// is no HTTP, or too long, or expects what is not known.
type guardedListener struct {
	*net.TCPListener
	passed time.Time // when Accept first found its deadline passed
}

// After the deadline Accept waits so long for one more connection, and does so for at most so long.
const (
	oneMore  = 2 * time.Millisecond
	mostMore = time.Second
)

// Accept waits for the next connection. After the listener's deadline it returns those that had come by then, and then says that
// the listener is closed: to close it at once would cut them off.
func (l *guardedListener) Accept() (net.Conn, error) {
	c, err := l.AcceptTCP()
	if errors.Is(err, os.ErrDeadlineExceeded) {
		if l.passed.IsZero() {
			l.passed = time.Now()
		}
		if time.Since(l.passed) < mostMore {
			_ = l.SetDeadline(time.Now().Add(oneMore))
			c, err = l.AcceptTCP()
		}
		if errors.Is(err, os.ErrDeadlineExceeded) {
			return nil, net.ErrClosed
		}
	}
	if err != nil {
		return nil, err
	}
	return guardedConn{c}, nil
}

// A guardedConn is a connection of a [guardedListener]. The server begins the head of an answer with a Write of its own.
type guardedConn struct{ *net.TCPConn }

// Write sends what the server writes, with the headers where a head lacks them.
func (c guardedConn) Write(b []byte) (int, error) {
	head, _, whole := bytes.Cut(b, []byte("\r\n\r\n"))
	status, rest, _ := bytes.Cut(b, []byte("\r\n"))
	final := bytes.HasPrefix(status, []byte("HTTP/1.")) && !bytes.Contains(status, []byte(" 100 "))
	if !whole || !final || bytes.Contains(head, []byte("\r\nContent-Security-Policy: ")) {
		return c.TCPConn.Write(b)
	}
	h := http.Header{}
	web.Guard(h, site.Script())
	var out bytes.Buffer
	out.Write(status)
	out.WriteString("\r\n")
	_ = h.Write(&out) // writing to memory does not fail
	out.Write(rest)
	if _, err := c.TCPConn.Write(out.Bytes()); err != nil {
		return 0, err
	}
	return len(b), nil
}
