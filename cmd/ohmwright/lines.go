package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"os"
	"syscall"
	"time"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// An asked is a line of the input, and the error that came with it.
type asked struct {
	request []byte
	err     error
}

// runLines answers one request per line, each on a line of its own, in order. It refuses a line that is too long, and skips empty
// lines. Each answer is written at once, so that whatever happens later takes none of them back.
func (c caller) runLines(t *tool.Tool, speak *wording.Speaker) int {
	lines := make(chan asked)
	go func() {
		in := bufio.NewReaderSize(c.in, 2*tool.MaxRequest)
		for {
			line, err := readLine(in, t.MaxBytes())
			lines <- asked{line, err}
			if err != nil {
				return
			}
		}
	}()
	var gone <-chan struct{}
	if out, ok := c.out.(*os.File); ok {
		gone = readerLeaves(out)
	}
	status := done
	for {
		line, ok := next(lines, gone)
		if !ok {
			return c.closed(syscall.EPIPE)
		}
		if len(line.request) > 0 && (line.err == nil || errors.Is(line.err, io.EOF)) {
			response, failed := tools.Run(t.Name, line.request, speak)
			if s := statusOf(failed); s == broken || status == done {
				status = s
			}
			if _, err := c.out.Write(append(response, '\n')); err != nil {
				return c.closed(err)
			}
		}
		switch {
		case errors.Is(line.err, io.EOF):
			return status
		case line.err != nil:
			return c.fail("run: read request: %v", line.err)
		}
	}
}

// next waits for the next line. It returns false if the reader of the answers has left before: with a moment's patience, since one
// who has read the last answer leaves too.
func next(lines <-chan asked, gone <-chan struct{}) (asked, bool) {
	select {
	case line := <-lines:
		return line, true
	case <-gone:
	}
	select {
	case line := <-lines:
		return line, true
	case <-time.After(50 * time.Millisecond):
		return asked{}, false
	}
}

// readLine reads one line, without its end. Of a line that is too long it keeps just enough for the tool to refuse it.
func readLine(in *bufio.Reader, most int) (line []byte, err error) {
	whole := most + len("\r\n")
	for length := 0; ; {
		part, err := in.ReadSlice('\n')
		length += len(part)
		line = append(line, part[:min(len(part), whole-len(line))]...)
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
		case length > whole:
			return line[:most+1], err // nothing of it is the line's end, whatever stands there
		default:
			return bytes.TrimRight(line, "\r\n"), err
		}
	}
}
