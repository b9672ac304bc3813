// Command load asks a server from many clients at once and prints as JSON what came of it. "make bench" runs it (site/test/load.mjs);
// it is not part of what is shipped.
//
// Each client has one connection, and asks over it one question after the other: the example of each tool in turn. It speaks HTTP by
// itself, since Go's client asks a second time, without telling, where a connection was closed under a request.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"slices"
	"sync"
	"syscall"
	"time"

	"ohmwright/core/tools"
)

// patience is how long a client waits for an answer.
const patience = 30 * time.Second

// A question is asked, and has the answer that it had when nothing else was asked.
type question struct{ request, answer string }

// What came of the questions of a client, or of all. A server that is told to stop takes no new connections, and says on the open ones
// that it closes them; a request that it took and did not answer is lost.
type outcome struct {
	Answered int             `json:"answered"`
	Lost     int             `json:"lost"`    // sent, and not answered whole
	Other    int             `json:"other"`   // answered otherwise than before
	Refused  int             `json:"refused"` // clients that ended since no new connection was taken
	First    string          `json:"first"`   // what was wrong first
	times    []time.Duration // of each answer
}

func main() {
	at := flag.String("at", "127.0.0.1:8080", "where the server is")
	clients := flag.Int("clients", 200, "how many ask at once")
	lasting := flag.Duration("for", 30*time.Second, "how long they ask")
	flag.Parse()
	if err := load(*at, *clients, *lasting); err != nil {
		fmt.Fprintln(os.Stderr, "load:", err)
		os.Exit(1)
	}
}

func load(at string, clients int, lasting time.Duration) error {
	questions, err := known(at)
	if err != nil {
		return err
	}
	begun := time.Now()
	outcomes := make([]outcome, clients)
	var all sync.WaitGroup
	for i := range clients {
		all.Go(func() { outcomes[i] = client(at, questions, i, begun.Add(lasting)) })
	}
	all.Wait()
	sum := outcome{}
	for _, o := range outcomes {
		sum.Answered += o.Answered
		sum.Lost += o.Lost
		sum.Other += o.Other
		sum.Refused += o.Refused
		sum.times = append(sum.times, o.times...)
		if sum.First == "" {
			sum.First = o.First
		}
	}
	slices.Sort(sum.times)
	return json.NewEncoder(os.Stdout).Encode(struct {
		outcome
		Seconds float64 `json:"seconds"`
		P50     float64 `json:"p50"` // in milliseconds, as the next two
		P99     float64 `json:"p99"`
		Longest float64 `json:"longest"`
	}{sum, time.Since(begun).Seconds(), sum.share(0.5), sum.share(0.99), sum.share(1)})
}

// share returns the time within which a share of the answers came, in milliseconds.
func (o outcome) share(share float64) float64 {
	if len(o.times) == 0 {
		return 0
	}
	return o.times[int(share*float64(len(o.times)-1))].Seconds() * 1000
}

// known asks the example of each tool alone, and returns it with its answer.
func known(at string) ([]question, error) {
	questions := make([]question, 0, len(tools.All))
	for _, t := range tools.All {
		request := fmt.Sprintf("POST /v1/%s HTTP/1.1\r\nHost: %s\r\nContent-Length: %d\r\n\r\n%s", t.Name, at, len(t.Example), t.Example)
		c, err := net.Dial("tcp", at)
		if err != nil {
			return nil, err
		}
		got, _, err := ask(c, bufio.NewReader(c), request)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", t.Name, err)
		}
		_ = c.Close() // its answer is there
		questions = append(questions, question{request, got})
	}
	return questions, nil
}

// ask sends a request and returns the whole answer; closes tells that the server closes the connection after it.
func ask(c net.Conn, in *bufio.Reader, request string) (answer string, closes bool, err error) {
	if err = c.SetDeadline(time.Now().Add(patience)); err != nil {
		return "", false, err
	}
	if _, err = io.WriteString(c, request); err != nil {
		return "", false, err
	}
	got, err := http.ReadResponse(in, nil)
	if err != nil {
		return "", false, err
	}
	body, err := io.ReadAll(got.Body)
	if err == nil && got.StatusCode != http.StatusOK {
		err = fmt.Errorf("status %d: %.200s", got.StatusCode, body)
	}
	return string(body), got.Close, err
}

// client asks until a time, or until the server takes no new connections.
func client(at string, questions []question, first int, until time.Time) (o outcome) {
	for i := first; time.Now().Before(until); {
		c, err := net.Dial("tcp", at)
		if errors.Is(err, syscall.ECONNREFUSED) {
			o.Refused++
			return o
		}
		if err != nil {
			o.wrong(&o.Lost, err.Error())
			return o
		}
		in := bufio.NewReader(c)
		for closes := false; !closes && time.Now().Before(until); i++ {
			asked := questions[i%len(questions)]
			begun := time.Now()
			var got string
			if got, closes, err = ask(c, in, asked.request); err != nil {
				o.wrong(&o.Lost, err.Error())
				break
			}
			if got != asked.answer {
				o.wrong(&o.Other, fmt.Sprintf("%.200s; want %.200s", got, asked.answer))
			}
			o.Answered++
			o.times = append(o.times, time.Since(begun))
		}
		_ = c.Close() // nothing is under way on it
	}
	return o
}

// wrong counts what went wrong, and keeps the first of it.
func (o *outcome) wrong(count *int, what string) {
	*count++
	if o.First == "" {
		o.First = what
	}
}
