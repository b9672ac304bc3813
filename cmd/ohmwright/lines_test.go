package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

const good = `{"reading": "%d ohm", "at": "20 degC"}`

// readings are the winding values of a stream of responses; −1 stands for a refusal.
func readings(t *testing.T, out string) (list []int) {
	t.Helper()
	for line := range strings.Lines(out) {
		r := parse(t, line)
		if !r.OK {
			list = append(list, -1)
			continue
		}
		list = append(list, int(r.Result["winding"].(map[string]any)["value"].(float64)))
	}
	return list
}

func TestLines(t *testing.T) {
	g := func(i int) string { return fmt.Sprintf(good, i) }
	large := `{"reading": "` + strings.Repeat("9", tool.MaxRequest) + `"}`
	for _, c := range []struct {
		name, in string
		want     []int
		status   int
	}{
		{"order", g(3) + "\n" + g(1) + "\n" + g(2) + "\n", []int{3, 1, 2}, done},
		{"no newline at the end", g(3) + "\n" + g(1), []int{3, 1}, done},
		{"one without newline", g(3), []int{3}, done},
		{"empty lines", "\n\n" + g(3) + "\n\r\n\n" + g(1) + "\n\n", []int{3, 1}, done},
		{"lines of another system", g(3) + "\r\n" + g(1) + "\r\n", []int{3, 1}, done},
		{"mixed", g(3) + "\n{}\n" + g(1) + "\n{\n" + g(2) + "\n", []int{3, -1, 1, -1, 2}, refused},
		{"first refused", "{\n" + g(2) + "\n", []int{-1, 2}, refused},
		{"last refused, without newline", g(2) + "\n{", []int{2, -1}, refused},
		{"too long in between", g(3) + "\n" + large + "\n" + g(1) + "\n", []int{3, -1, 1}, refused},
		{"too long at the end", g(3) + "\n" + large, []int{3, -1}, refused},
		{"two on a line", g(3) + g(1) + "\n" + g(2) + "\n", []int{-1, 2}, refused},
		{"nothing", "", nil, done},
		{"only empty lines", "\n\n\r\n", nil, done},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := ask(t, c.in, "run", "winding", "--ndjson")
			assert.Equal(t, c.want, readings(t, o.out), "run winding --ndjson: the winding of each line, -1 for a refusal")
			assert.Equal(t, c.status, o.status, "run winding --ndjson: a refused line should show in the exit status, nothing else should")
			assert.Empty(t, o.err, "run winding --ndjson: refusals belong in the responses")
		})
	}
}

// TestLongestLines: a line may have 64 KiB before its end, and one that is longer is refused, whatever stands where it is cut.
func TestLongestLines(t *testing.T) {
	g := fmt.Sprintf(good, 3)
	full := g + strings.Repeat(" ", tool.MaxRequest-len(g))
	for _, c := range []struct {
		name, line string
		want       int
	}{
		{"the longest", full, 3},
		{"the longest of another system", full + "\r", 3},
		{"a blank more", full + " ", -1},
		{"a blank more, of another system", full + " \r", -1},
		{"a return where it is cut", full + "\r and more", -1},
		{"a return there, and more in the next piece", full + "\r" + strings.Repeat(" ", 2*tool.MaxRequest) + "x", -1},
		{"returns there", full[:tool.MaxRequest-1] + "\r\r\rx", -1},
		{"a piece that ends behind a return", full + strings.Repeat(" ", tool.MaxRequest-1) + "\rx", -1},
	} {
		for _, end := range []string{"\n", ""} {
			o := ask(t, g+"\n"+c.line+end, "run", "winding", "--ndjson")
			assert.Equal(t, []int{3, c.want}, readings(t, o.out), "%s, then %q", c.name, end)
		}
	}
}

func TestManyLines(t *testing.T) {
	var in strings.Builder
	var want []int
	for i := range 2000 {
		fmt.Fprintf(&in, good+"\n", 5+i)
		want = append(want, 5+i)
	}
	o := ask(t, in.String(), "run", "--ndjson", "winding")
	assert.Equal(t, done, o.status, "run winding --ndjson: all lines can be answered")
	assert.Equal(t, want, readings(t, o.out), "run winding --ndjson: each line should be answered in its place")
}

// A conversation is a run with both ends open.
type conversation struct {
	command *exec.Cmd
	in      io.WriteCloser
	out     *bufio.Reader
	err     *bytes.Buffer
}

func converse(t *testing.T, args ...string) conversation {
	t.Helper()
	c := conversation{command: start(t, args...), err: &bytes.Buffer{}}
	in, err := c.command.StdinPipe()
	require.NoError(t, err)
	out, err := c.command.StdoutPipe()
	require.NoError(t, err)
	c.in, c.out, c.command.Stderr = in, bufio.NewReader(out), c.err
	require.NoError(t, c.command.Start())
	return c
}

func (c conversation) answer(t *testing.T) response {
	t.Helper()
	line, err := c.out.ReadString('\n')
	require.NoError(t, err, c.err)
	return parse(t, line)
}

func TestLinesAreAnsweredOneByOne(t *testing.T) {
	c := converse(t, "run", "winding", "--ndjson")
	for i := range 3 {
		_, err := fmt.Fprintf(c.in, good+"\n", 5+i)
		require.NoError(t, err)
		assert.True(t, c.answer(t).OK, "run winding --ndjson: a line should be answered before the next is asked")
	}
	require.NoError(t, c.in.Close())
	assert.Equal(t, done, statusOfRun(t, c.command.Wait()))
}

// most reads the most memory that a process had, in MiB, as Linux tells it.
func most(t *testing.T, id int) int {
	t.Helper()
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", id))
	require.NoError(t, err, "the memory of a process is read as Linux tells it")
	m := regexp.MustCompile(`VmHWM:\s+(\d+) kB`).FindSubmatch(b)
	require.NotNil(t, m)
	var kib int
	_, err = fmt.Sscan(string(m[1]), &kib)
	require.NoError(t, err)
	return kib >> 10
}

func TestLineOfHundredMegabytes(t *testing.T) {
	c := converse(t, "run", "winding", "--ndjson")
	_, err := fmt.Fprintf(c.in, good+"\n", 5)
	require.NoError(t, err)
	assert.True(t, c.answer(t).OK, "run winding --ndjson: the line before the long one")
	before := most(t, c.command.Process.Pid)

	piece := bytes.Repeat([]byte("9"), 1<<20)
	for range 100 {
		_, err := c.in.Write(piece)
		require.NoError(t, err)
	}
	_, err = fmt.Fprintf(c.in, "\n"+good+"\n", 6)
	require.NoError(t, err)
	r := c.answer(t)
	assert.False(t, r.OK, "run winding --ndjson: a line of a hundred megabytes should be refused")
	assert.Equal(t, []string{" range"}, codes(r.Errors), "run winding --ndjson: the long line should be told as too long")
	assert.True(t, c.answer(t).OK, "run winding --ndjson: the line behind the long one")
	after := most(t, c.command.Process.Pid)
	t.Logf("most memory: %d MiB before, %d MiB after", before, after)
	assert.Less(t, after-before, 16, "run winding --ndjson: MiB that a long line may take: it should not be kept")
	require.NoError(t, c.in.Close())
	assert.Equal(t, refused, statusOfRun(t, c.command.Wait()))
}

func TestEndlessRequest(t *testing.T) {
	c := converse(t, "run", "winding")
	piece := bytes.Repeat([]byte(" "), 1<<20)
	var err error
	for range 100 {
		if _, err = c.in.Write(piece); err != nil {
			break
		}
	}
	require.Error(t, err, "it read on behind the largest request")
	assert.Equal(t, []string{" range"}, codes(c.answer(t).Errors), "run winding: an endless request should be told as too long")
	assert.Equal(t, refused, statusOfRun(t, c.command.Wait()), "run winding: and refused")
}

// closed runs the program with an output whose reader is gone, and input without end.
func closed(t *testing.T, args ...string) outcome {
	t.Helper()
	reader, writer, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, reader.Close())
	c := start(t, args...)
	var errOut bytes.Buffer
	c.Stdin, c.Stdout, c.Stderr = endless{}, writer, &errOut
	if args[0] == "run" && len(args) == 2 {
		c.Stdin = strings.NewReader(tools.All[0].Example)
	}
	require.NoError(t, c.Start())
	require.NoError(t, writer.Close())
	err = c.Wait()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	return outcome{"", errOut.String(), exit.ExitCode()}
}

// endless gives a request a line for ever.
type endless struct{}

func (endless) Read(b []byte) (int, error) {
	line := fmt.Sprintf(good, 5)
	for i := range b {
		b[i] = '\n'
	}
	return max(copy(b, line), min(len(b), len(line)+1)), nil
}

func TestReaderLeaves(t *testing.T) {
	for _, args := range []string{
		"run winding --ndjson", "run winding", "tools", "describe winding", "--help", "run --help",
		"build " + t.TempDir(), "serve --address 127.0.0.1:0",
	} {
		t.Run(args, func(t *testing.T) {
			o := closed(t, strings.Fields(args)...)
			assert.Equal(t, broken, o.status, "ohmwright %s: an output that nobody reads should end it with status %d", args, broken)
			assert.Equal(t, "ohmwright: the reader of the output closed it before everything was written\n", o.err, "ohmwright %s", args)
		})
	}
}

func TestFullDisk(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	require.NoError(t, err, "Linux has a device that is always full")
	defer full.Close()
	for _, args := range [][]string{{"run", "winding"}, {"run", "winding", "--ndjson"}, {"tools"}} {
		c := start(t, args...)
		var errOut bytes.Buffer
		c.Stdin, c.Stdout, c.Stderr = strings.NewReader(fmt.Sprintf(good, 5)+"\n"), full, &errOut
		assert.Equal(t, broken, statusOfRun(t, c.Run()), "ohmwright %s: a full disk should end it with status %d", args, broken)
		assert.Contains(t, errOut.String(), "no space left", "ohmwright %s", args)
	}
}

// A fault of the program is told as one: a response, and exit status 1.
func TestProgramAtFault(t *testing.T) {
	all := tools.All
	defer func() { tools.All = all }()
	tools.All = append([]*tool.Tool{{Name: "spoilt"}}, all...) // has no functions: running it panics
	for _, args := range [][]string{{"run", "spoilt"}, {"run", "spoilt", "--ndjson"}} {
		var out, errOut bytes.Buffer
		assert.Equal(t, broken, command(args, strings.NewReader("{}"), &out, &errOut), "ohmwright %s: the tool panics", args)
		assert.Empty(t, errOut.String(), "ohmwright %s: the fault belongs in the response", args)
		assert.Equal(t, []string{" program"}, codes(parse(t, out.String()).Errors), "ohmwright %s: a fault of the program", args)
	}
	for _, lines := range []string{"{}\n{\n", "{\n{}\n"} {
		status := command([]string{"run", "spoilt", "--ndjson"}, strings.NewReader(lines), io.Discard, io.Discard)
		assert.Equal(t, broken, status, "%q: a fault of the program outweighs a refusal", lines)
	}
	status := command([]string{"run", "winding"}, strings.NewReader(all[0].Example), io.Discard, io.Discard)
	assert.Equal(t, done, status, "run winding: a tool beside a spoilt one should answer")
}

// An input that breaks off is a fault of the system, and never half a request.
func TestInputBreaksOff(t *testing.T) {
	for _, args := range [][]string{{"run", "winding"}, {"run", "winding", "--ndjson"}} {
		var out, errOut bytes.Buffer
		in := io.MultiReader(strings.NewReader(fmt.Sprintf(good, 5)), failing{})
		assert.Equal(t, broken, command(args, in, &out, &errOut), "ohmwright %s: input that breaks off should end it", args)
		assert.Contains(t, errOut.String(), "read request: line dropped", "ohmwright %s", args)
		assert.Empty(t, out.String(), "%q", args)
	}
	var out, errOut bytes.Buffer
	in := io.MultiReader(strings.NewReader(fmt.Sprintf(good+"\n{\n"+good+"\n"+good, 3, 4, 5)), failing{})
	assert.Equal(t, broken, command([]string{"run", "winding", "--ndjson"}, in, &out, &errOut))
	assert.Equal(t, []int{3, -1, 4}, readings(t, out.String()), "run --ndjson: what was asked before should be answered, half a line not")
	assert.Contains(t, errOut.String(), "read request: line dropped")
}

// TestReaderLeavesBetweenLines holds that a reader who leaves ends the program at once, and not only when the next line is asked.
func TestReaderLeavesBetweenLines(t *testing.T) {
	c := start(t, "run", "winding", "--ndjson")
	in, err := c.StdinPipe()
	require.NoError(t, err)
	reader, writer, err := os.Pipe()
	require.NoError(t, err)
	var errOut bytes.Buffer
	c.Stdout, c.Stderr = writer, &errOut
	require.NoError(t, c.Start())
	require.NoError(t, writer.Close())
	_, err = fmt.Fprintf(in, good+"\n", 5)
	require.NoError(t, err)
	_, err = bufio.NewReader(reader).ReadString('\n')
	require.NoError(t, err)
	require.NoError(t, reader.Close())
	begun := time.Now()
	assert.Equal(t, broken, statusOfRun(t, c.Wait())) // the input stays open
	assert.Less(t, time.Since(begun), 10*time.Second)
	assert.Contains(t, errOut.String(), "the reader of the output closed it")
}

// TestReaderOfAllLeaves holds that a reader who took every answer may leave: nothing was lost.
func TestReaderOfAllLeaves(t *testing.T) {
	line := fmt.Sprintf("printf '%%s\\n' '"+good+"' | { ohmwright run winding --ndjson; echo $? >&2; } | head -1 > answer", 5)
	for range 10 {
		directory := t.TempDir()
		assert.Equal(t, "0\n", string(shell(t, directory, line)))
		answer, err := os.ReadFile(filepath.Join(directory, "answer"))
		require.NoError(t, err)
		assert.Equal(t, []int{5}, readings(t, string(answer)))
	}
}

// TestClosedOutput: an answer that nobody could see is an error, unless it is thrown away on purpose.
func TestClosedOutput(t *testing.T) {
	for _, args := range []string{"run winding", "run winding --ndjson", "tools", "describe winding", "words de", "--help"} {
		for where, want := range map[string]string{
			">&-":            "ohmwright: the output is closed, so nobody would see the answer; to throw it away, write > /dev/null\n1\n",
			"> /dev/null":    "0\n",
			"> answers.json": "0\n",
		} {
			line := "echo '" + fmt.Sprintf(good, 5) + "' | { ohmwright " + args + " " + where + "; echo $?; }"
			assert.Equal(t, want, string(shell(t, t.TempDir(), line)), line)
		}
	}
	directory := t.TempDir()
	assert.Equal(t, "0\n", string(shell(t, directory, "ohmwright build site >&-; echo $?")), "what build makes is no output")
	assert.FileExists(t, filepath.Join(directory, "site", "index.html"))
}

// TestFilesAreNamed: a file that cannot be read is named, with why, and none is waited for in vain.
func TestFilesAreNamed(t *testing.T) {
	directory := t.TempDir()
	pipe := filepath.Join(directory, "pipe")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	for path, says := range map[string]string{
		pipe:                    pipe + " is a pipe to which nobody writes",
		directory + "/none.csv": directory + "/none.csv: no such file",
		directory:               directory + ": is a directory",
		"":                      "--file recording= names no file; want FIELD=PATH",
	} {
		o := ask(t, "{}", "run", "trace", "--file", "recording="+path)
		assert.Equal(t, outcome{"", o.err, broken}, o, path)
		assert.Contains(t, o.err, says)
	}
	require.NoError(t, os.WriteFile(filepath.Join(directory, "ramp.csv"), []byte(recordingOf(t)), 0o600))
	line := "cat ramp.csv > pipe & sleep 1; echo '{\"supply\": \"13.8 V\"}' | ohmwright run trace --file recording=pipe"
	assert.True(t, parse(t, string(shell(t, directory, line))).OK, "a pipe to which someone writes is read")

	o := ask(t, "{}", "run", "winding", "request.json")
	assert.Equal(t, broken, o.status)
	assert.Contains(t, o.err, `"request.json" is no tool; a request is read from the standard input: ohmwright run winding < request.json`)
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("line dropped") }
