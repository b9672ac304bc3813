// Command ohmwright answers the questions of the core on the command line, serves the page, and writes it as a static
// site.
package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"
	"syscall"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// The exit statuses of the contract.
const (
	done    = 0
	broken  = 1 // a fault of the program, of the system, or of how it was called
	refused = 2 // a request that was refused
)

func main() {
	signal.Ignore(syscall.SIGPIPE) // a closed pipe is told as an error
	os.Exit(command(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// A caller is where a command reads and writes.
type caller struct {
	in       io.Reader
	out, err io.Writer
}

// command runs one command line and returns its exit status.
func command(args []string, in io.Reader, out, errOut io.Writer) int {
	c := caller{in, out, errOut}
	if len(args) == 0 {
		fmt.Fprint(errOut, usage())
		return broken
	}
	switch args[0] {
	case "run":
		return c.run(args[1:])
	case "tools":
		return c.tools(args[1:])
	case "describe":
		return c.describe(args[1:])
	case "serve":
		return c.serve(args[1:])
	case "build":
		return c.build(args[1:])
	case "words":
		return c.words(args[1:])
	case "help", "--help", "-help", "-h":
		return c.print(usage())
	}
	return c.fail("%q is no command; want run, tools, describe, serve, build, words or help", args[0])
}

// fail tells what is wrong and where help is; a message that begins with a command's name is sent to that command's help.
func (c caller) fail(format string, args ...any) int {
	message := fmt.Sprintf(format, args...)
	command, _, _ := strings.Cut(message, ":")
	if slices.Contains([]string{"run", "serve", "build", "words"}, command) {
		command += " "
	} else {
		command = ""
	}
	fmt.Fprintf(c.err, "ohmwright: %s\nTry: ohmwright %s--help\n", message, command)
	return broken
}

// print writes to the output and tells if that cannot be done.
func (c caller) print(text string) int {
	if _, err := io.WriteString(c.out, text); err != nil {
		return c.closed(err)
	}
	return done
}

// closed tells that the output could not be written.
func (c caller) closed(err error) int {
	if errors.Is(err, syscall.EPIPE) {
		fmt.Fprintln(c.err, "ohmwright: the reader of the output closed it before everything was written")
	} else {
		fmt.Fprintf(c.err, "ohmwright: write output: %v\n", err)
	}
	return broken
}

// flags reads a command's flags, which may stand before and behind its other words, and returns those words.
func (c caller) flags(set *flag.FlagSet, help string, args []string) (words []string, status int, ok bool) {
	set.SetOutput(io.Discard)
	for {
		err := set.Parse(args)
		if errors.Is(err, flag.ErrHelp) {
			return nil, c.print(help), false
		}
		if err != nil {
			return nil, c.fail("%s: %v", set.Name(), err), false
		}
		args = set.Args()
		if len(args) == 0 {
			return words, done, true
		}
		words, args = append(words, args[0]), args[1:]
	}
}

// oneTool reads a command line that names one tool.
func (c caller) oneTool(set *flag.FlagSet, help string, args []string) (t *tool.Tool, status int) {
	words, status, ok := c.flags(set, help, args)
	if !ok {
		return nil, status
	}
	if len(words) != 1 {
		return nil, c.fail("%s: %d tools named; want one of %s", set.Name(), len(words), names())
	}
	t, found := tools.Named(words[0])
	if !found {
		return nil, c.fail("%s: there is no tool %q; want one of %s", set.Name(), words[0], names())
	}
	return t, done
}

func names() string {
	list := ""
	for i, t := range tools.All {
		if i > 0 {
			list += ", "
		}
		list += t.Name
	}
	return list
}

func (c caller) run(args []string) int {
	set := flag.NewFlagSet("run", flag.ContinueOnError)
	lines := set.Bool("ndjson", false, "")
	locale := set.String("locale", "en", "")
	file := set.String("file", "", "")
	t, status := c.oneTool(set, runHelp, args)
	if t == nil {
		return status
	}
	speak := tools.Speaker(*locale, *locale)
	if *lines {
		if *file != "" {
			return c.fail("run: --file goes with one request, not with --ndjson")
		}
		return c.runLines(t, speak)
	}
	request, err := io.ReadAll(io.LimitReader(c.in, int64(t.MaxBytes())+1))
	if err != nil {
		return c.fail("run: read request: %v", err)
	}
	if request, err = withFile(t, request, *file); err != nil {
		return c.fail("run: %v", err)
	}
	response, err := tools.Run(t.Name, request, speak)
	if status := c.print(string(response) + "\n"); status != done {
		return status
	}
	return statusOf(err)
}

// withFile puts the text of a file, named as FIELD=PATH, into a request; one that is no JSON object is left as it is, for the
// tool to refuse, and an empty one is taken for {}.
func withFile(t *tool.Tool, request []byte, named string) ([]byte, error) {
	if named == "" {
		return request, nil
	}
	field, path, _ := strings.Cut(named, "=")
	if d := t.Field(field); d == nil || !d.File {
		return nil, fmt.Errorf("--file %s: %s has no field %q that takes a file", named, t.Name, field)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, int64(t.MaxBytes())))
	if err != nil {
		return nil, err
	}
	object := map[string]json.RawMessage{}
	if len(bytes.TrimSpace(request)) > 0 {
		if json.Unmarshal(request, &object) != nil || object == nil {
			return request, nil
		}
	}
	if object[field], err = json.Marshal(decoded(text)); err != nil {
		return nil, err
	}
	return json.Marshal(object)
}

// decoded is a file's text: UTF-16 where its first bytes say so, UTF-8 where it is that, else Windows-1252, which takes anything.
func decoded(text []byte) string {
	if out, _, err := transform.Bytes(unicode.BOMOverride(transform.Nop), text); err == nil && utf8.Valid(out) {
		return string(out)
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(text)
	if err != nil {
		return string(text)
	}
	return string(out)
}

func statusOf(err error) int {
	switch {
	case err == nil:
		return done
	case errors.Is(err, tools.ErrRequest):
		return refused
	}
	return broken
}

// runLines answers a request a line, each on a line, in order. A line that is too long is refused and passed over; empty
// lines are passed over.
func (c caller) runLines(t *tool.Tool, speak *wording.Speaker) int {
	in, out := bufio.NewReaderSize(c.in, 2*tool.MaxRequest), bufio.NewWriterSize(c.out, 1<<16)
	status := done
	for {
		line, err := readLine(in, t.MaxBytes())
		if len(line) > 0 && (err == nil || errors.Is(err, io.EOF)) {
			response, failed := tools.Run(t.Name, line, speak)
			if s := statusOf(failed); s == broken || status == done {
				status = s
			}
			out.Write(response)
			out.WriteByte('\n')
			if in.Buffered() == 0 {
				if err := out.Flush(); err != nil {
					return c.closed(err)
				}
			}
		}
		switch {
		case errors.Is(err, io.EOF):
			if err := out.Flush(); err != nil {
				return c.closed(err)
			}
			return status
		case err != nil:
			return c.fail("run: read request: %v", err)
		}
	}
}

// readLine reads up to a line's end. Of a line longer than a request may be it keeps just enough to be refused for that.
func readLine(in *bufio.Reader, most int) (line []byte, err error) {
	for {
		part, err := in.ReadSlice('\n')
		if len(line) <= most {
			line = append(line, part[:min(len(part), most+1)]...)
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			for len(line) > 0 && (line[len(line)-1] == '\n' || line[len(line)-1] == '\r') {
				line = line[:len(line)-1]
			}
			return line, err
		}
	}
}

func (c caller) tools(args []string) int {
	set := flag.NewFlagSet("tools", flag.ContinueOnError)
	words, status, ok := c.flags(set, usage(), args)
	if !ok {
		return status
	}
	if len(words) > 0 {
		return c.fail("tools: %q given; want nothing", words[0])
	}
	return c.json(tools.Menu(tools.English()))
}

func (c caller) describe(args []string) int {
	t, status := c.oneTool(flag.NewFlagSet("describe", flag.ContinueOnError), usage(), args)
	if t == nil {
		return status
	}
	return c.json(t.Describe(tools.English()))
}

func (c caller) json(v any) int {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return c.fail("%v", err)
	}
	return c.print(string(b) + "\n")
}
