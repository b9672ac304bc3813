// Command ohmwright runs the tools on the command line, serves the page, and writes the page as a static site.
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/language"
	"golang.org/x/text/transform"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// The exit statuses of the contract.
const (
	done    = 0
	broken  = 1 // an error of the program, the system or the command line
	refused = 2 // a refused request
)

func main() {
	signal.Ignore(syscall.SIGPIPE) // writing to a closed pipe then returns an error, which is reported
	if len(os.Args) > 1 && !slices.Contains([]string{"serve", "build"}, os.Args[1]) && goesNowhere(os.Stdout) && !goesNowhere(os.Stderr) {
		fmt.Fprintln(os.Stderr, "ohmwright: the output is closed, so nobody would see the answer; to throw it away, write > /dev/null")
		os.Exit(broken)
	}
	os.Exit(command(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// goesNowhere reports whether an output was closed when the program began. Go's runtime then puts /dev/null in its place, opened for
// reading too; a shell's > /dev/null cannot be read. Some programs that start this one throw its output away in the same manner:
// where they throw the errors away as well, there is nobody to tell.
func goesNowhere(out *os.File) bool {
	null, err := os.Stat(os.DevNull)
	if err != nil || runtime.GOOS == "windows" {
		return false
	}
	info, err := out.Stat()
	if err != nil {
		return true
	}
	if !os.SameFile(info, null) {
		return false
	}
	_, err = out.Read(make([]byte, 1))
	return errors.Is(err, io.EOF)
}

// A caller is the input and output of a command.
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
	case "mark":
		return c.mark(args[1:])
	case "licences":
		return c.licences(args[1:])
	case "help", "--help", "-help", "-h":
		return c.print(usage())
	}
	return c.fail("%q is no command; want run, tools, describe, serve, build, words, mark, licences or help", args[0])
}

// fail prints what is wrong and how to get help: a command's own if the message begins with its name.
func (c caller) fail(format string, args ...any) int {
	message := fmt.Sprintf(format, args...)
	before, _, _ := strings.Cut(message, ":")
	command, _, _ := strings.Cut(before, " --")
	if slices.Contains([]string{"run", "serve", "build", "words", "mark"}, command) {
		command += " "
	} else {
		command = ""
	}
	fmt.Fprintf(c.err, "ohmwright: %s\nTry: ohmwright %s--help\n", message, command)
	return broken
}

// print writes to the output, and reports an error if it cannot.
func (c caller) print(text string) int {
	if _, err := io.WriteString(c.out, text); err != nil {
		return c.closed(err)
	}
	return done
}

// closed reports that the output cannot be written.
func (c caller) closed(err error) int {
	if errors.Is(err, syscall.EPIPE) {
		fmt.Fprintln(c.err, "ohmwright: the reader of the output closed it before everything was written")
	} else {
		fmt.Fprintf(c.err, "ohmwright: write output: %v\n", err)
	}
	return broken
}

// flags reads a command's flags, which may come before and after its other arguments, and returns those arguments.
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

// oneTool reads a command line that names one tool. Without one, t is nil.
func (c caller) oneTool(set *flag.FlagSet, help string, args []string) (t *tool.Tool, status int) {
	words, status, ok := c.flags(set, help, args)
	if !ok {
		return nil, status
	}
	if len(words) == 2 && set.Name() == "run" {
		if _, another := tools.Named(words[1]); !another {
			return nil, c.fail("run: %q is no tool; a request is read from the standard input: ohmwright run %s < %s", words[1], words[0], words[1])
		}
	}
	if len(words) != 1 {
		return nil, c.fail("%s: %d tools named; want one of %s", set.Name(), len(words), tools.Names())
	}
	t, found := tools.Named(words[0])
	if !found {
		return nil, c.fail("%s: there is no tool %q; want one of %s", set.Name(), words[0], tools.Names())
	}
	return t, done
}

// speaker returns the speaker for a reader; nil, and the exit status, if the locale is no language tag.
func (c caller) speaker(command, locale string) (*wording.Speaker, int) {
	if _, err := language.Parse(locale); err != nil {
		return nil, c.fail("%s: --locale %q is no language tag; want one such as de or fr-CA", command, locale)
	}
	return tools.Speaker(locale, locale), done
}

// run answers one request, or one per line.
func (c caller) run(args []string) int {
	set := flag.NewFlagSet("run", flag.ContinueOnError)
	lines := set.Bool("ndjson", false, "")
	locale := set.String("locale", "en", "")
	file := set.String("file", "", "")
	t, status := c.oneTool(set, runHelp, args)
	if t == nil {
		return status
	}
	speak, status := c.speaker(set.Name(), *locale)
	if speak == nil {
		return status
	}
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

// withFile puts the text of a file, given as FIELD=PATH, into a request. An empty request counts as {}; one that is too long or not a
// JSON object is returned unchanged, for the tool to refuse. What the request itself says stays as it is written, so that the tool
// notices whatever is given twice, this field too.
func withFile(t *tool.Tool, request []byte, named string) ([]byte, error) {
	if named == "" {
		return request, nil
	}
	field, path, ok := strings.Cut(named, "=")
	if !ok || path == "" {
		return nil, fmt.Errorf("--file %s names no file; want FIELD=PATH", named)
	}
	if d := t.Field(field); d == nil || !d.File {
		return nil, fmt.Errorf("--file %s: %s has no field %q that takes a file", named, t.Name, field)
	}
	text, err := readFile(path, t.MaxBytes())
	if err != nil {
		return nil, fmt.Errorf("--file %s: %w", field, err)
	}
	switch {
	case len(request) > t.MaxBytes():
		return request, nil
	case len(bytes.TrimSpace(request)) == 0:
		request = []byte("{}")
	case !json.Valid(request):
		return request, nil
	}
	before, rest, found := bytes.Cut(request, []byte("{"))
	if !found || len(bytes.TrimSpace(before)) > 0 {
		return request, nil
	}
	value, err := json.Marshal(decoded(text))
	if err != nil {
		return nil, err
	}
	member := strconv.Quote(field) + ": " + string(value)
	if !bytes.HasPrefix(bytes.TrimSpace(rest), []byte("}")) {
		member += ", "
	}
	return slices.Concat(before, []byte("{"+member), rest), nil
}

// readFile reads at most so many bytes of a file. Opening a pipe that nobody writes to would wait for ever: that is an error.
func readFile(path string, most int) ([]byte, error) {
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, int64(most)))
	if info, failed := f.Stat(); failed == nil && err == nil && len(text) == 0 && info.Mode()&os.ModeNamedPipe != 0 {
		return nil, fmt.Errorf("%s is a pipe to which nobody writes; want a file, or start its writer first", path)
	}
	return text, err
}

// decoded returns a file's text: as UTF-16 if it begins with a byte order mark, as UTF-8 if it is valid, else as Windows-1252, which
// accepts any bytes.
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

// statusOf returns the exit status for the error of a request.
func statusOf(err error) int {
	switch {
	case err == nil:
		return done
	case errors.Is(err, tools.ErrRequest):
		return refused
	}
	return broken
}

// tools prints the list of tools.
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

// describe prints the schemas of a tool.
func (c caller) describe(args []string) int {
	t, status := c.oneTool(flag.NewFlagSet("describe", flag.ContinueOnError), usage(), args)
	if t == nil {
		return status
	}
	return c.json(t.Describe(tools.English()))
}

// json prints JSON, indented.
func (c caller) json(b []byte) int {
	var out bytes.Buffer
	if err := json.Indent(&out, b, "", "  "); err != nil {
		return c.fail("%v", err)
	}
	return c.print(out.String() + "\n")
}
