package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/testdata"
)

// program is the program as a user has it; TestMain builds it.
var program string

func TestMain(m *testing.M) {
	directory, err := os.MkdirTemp("", "ohmwright-cli-")
	if err != nil {
		panic(err)
	}
	program = filepath.Join(directory, "ohmwright")
	build := exec.Command("go", "build", "-trimpath", "-o", program, ".")
	build.Stdout, build.Stderr = os.Stdout, os.Stderr
	status := 1
	if err := build.Run(); err == nil {
		status = m.Run()
	}
	os.RemoveAll(directory)
	os.Exit(status)
}

// patience is how long any one run may take before it counts as hanging.
const patience = 2 * time.Minute

// An outcome is what a run left.
type outcome struct {
	out, err string
	status   int
}

// start makes a command of the program that ends with the test.
func start(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	t.Cleanup(cancel)
	return exec.CommandContext(ctx, program, args...)
}

// statusOfRun is the exit status; a run that was killed or could not start fails the test.
func statusOfRun(t *testing.T, err error) int {
	t.Helper()
	var exit *exec.ExitError
	if err != nil && (!errors.As(err, &exit) || exit.ExitCode() < 0) {
		require.NoError(t, err)
	}
	if exit == nil {
		return 0
	}
	return exit.ExitCode()
}

// ask runs the program to its end.
func ask(t *testing.T, in string, args ...string) outcome {
	t.Helper()
	c := start(t, args...)
	var out, errOut bytes.Buffer
	c.Stdin, c.Stdout, c.Stderr = strings.NewReader(in), &out, &errOut
	status := statusOfRun(t, c.Run())
	require.NotContains(t, errOut.String(), "goroutine ")
	return outcome{out.String(), errOut.String(), status}
}

// A response is what every response has.
type response struct {
	OK     bool
	Tool   string
	Result map[string]any
	Errors []tool.Fault
}

// parse reads exactly one response on one line.
func parse(t *testing.T, out string) (r response) {
	t.Helper()
	require.True(t, strings.HasSuffix(out, "\n") && strings.Count(out, "\n") == 1, "%q is not one line", out)
	require.NoError(t, json.Unmarshal([]byte(out), &r))
	return r
}

func codes(faults []tool.Fault) (list []string) {
	for _, f := range faults {
		list = append(list, f.Field+" "+string(f.Code))
	}
	return list
}

func TestExamplesAnswer(t *testing.T) {
	for _, tl := range tools.All {
		o := ask(t, tl.Example, "run", tl.Name)
		assert.Equal(t, outcome{o.out, "", done}, o)
		r := parse(t, o.out)
		assert.True(t, r.OK)
		assert.Equal(t, tl.Name, r.Tool)
		assert.NotEmpty(t, r.Result)
	}
}

func TestRefused(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"all faults", `{"reading": "12 V", "colour": "red"}`, "reading unit|at missing|colour unknown"},
		{"nothing", "", " syntax"},
		{"blanks", " \n\t\r\n", " syntax"},
		{"cut", `{"reading": "9.7 ohm"`, " syntax"},
		{"trailing", `{} {}`, " syntax"},
		{"no object", `[1]`, " syntax"},
		{"no JSON", `reading=9.7`, " syntax"},
		{"null", `null`, " syntax"},
		{"zero bytes", "\x00\x00", " syntax"},
		{"byte order mark of UTF-16", "\xff\xfe{\x00}\x00", " syntax"},
		{"deep", strings.Repeat("[", 60000), " syntax"},
		{"large", `{"reading": "` + strings.Repeat("9", tool.MaxRequest) + `"}`, " range"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := ask(t, c.in, "run", "winding")
			assert.Equal(t, refused, o.status)
			assert.Empty(t, o.err)
			r := parse(t, o.out)
			assert.False(t, r.OK)
			assert.ElementsMatch(t, strings.Split(c.want, "|"), codes(r.Errors))
			for _, f := range r.Errors {
				assert.NotEmpty(t, f.Message)
				assert.NotEmpty(t, f.Hint)
				assert.Less(t, len(f.Given), 200)
			}
		})
	}
}

func TestCalledWrongly(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	for _, c := range []struct{ args, says string }{
		{"", "ohmwright run TOOL"},
		{"measure", `"measure" is no command; want run,`},
		{"-x", `"-x" is no command`},
		{"run", "0 tools named; want one of winding"},
		{"run winding loop", "2 tools named"},
		{"run anvil", `no tool "anvil"; want one of winding`},
		{"run Winding", `no tool "Winding"`},
		{"run winding --colour", "-colour"},
		{"run --colour winding", "-colour"},
		{"run winding --ndjson=perhaps", "perhaps"},
		{"run winding --locale", "locale"},
		{"tools all", `"all" given; want nothing`},
		{"tools --long", "-long"},
		{"describe", "0 tools named"},
		{"describe anvil", `no tool "anvil"`},
		{"describe winding loop", "2 tools named"},
		{"describe --long winding", "-long"},
		{"build", "0 directories named; want one"},
		{"build a b", "2 directories named"},
		{"build --force a", "-force"},
		{"build " + file, "not a directory"},
		{"serve now", `"now" given; want flags only`},
		{"serve --port 80", "-port"},
		{"serve --address nowhere", "nowhere"},
		{"serve --address 127.0.0.1:99999", "99999"},
	} {
		t.Run(c.args, func(t *testing.T) {
			o := ask(t, tools.All[0].Example, strings.Fields(c.args)...)
			assert.Equal(t, broken, o.status)
			assert.Empty(t, o.out)
			assert.Contains(t, o.err, c.says)
			if c.args != "" {
				assert.Regexp(t, `Try: ohmwright ((run|serve|build) )?--help`, o.err)
			}
		})
	}
}

// Examples in the help, as a shell reads them.
var (
	piped  = regexp.MustCompile(`(?s)  (echo '[^']*' \| ohmwright run [a-z]+(?: --file [a-z]+=[a-z.]+)?)\n`)
	posted = regexp.MustCompile(`  curl -d '([^']*)' http://127\.0\.0\.1:8080(/v1/[a-z]+)\n`)
	filed  = regexp.MustCompile(`\n  (ohmwright run [a-z]+ --ndjson < readings\.ndjson > answers\.ndjson)\n`)
	built  = regexp.MustCompile(`\n  (ohmwright build [a-z]+)\n`)
)

// shell runs a line of the help in a directory, with the program on the path.
func shell(t *testing.T, directory, line string) []byte {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	c := exec.CommandContext(ctx, "sh", "-c", line)
	c.Dir = directory
	c.Env = append(os.Environ(), "PATH="+filepath.Dir(program)+":"+os.Getenv("PATH"))
	out, err := c.CombinedOutput()
	require.NoError(t, err, "%s: %s", line, out)
	return out
}

// recordingOf is the recording of the example of the tool that takes one.
func recordingOf(t *testing.T) string {
	t.Helper()
	var example struct{ Recording string }
	require.NoError(t, json.Unmarshal([]byte(tool.Trace.Example), &example))
	require.NotEmpty(t, example.Recording)
	return example.Recording
}

// A file goes into the request as text, in each of the encodings that recorders write, and nothing else of the request changes.
func TestFileInRequest(t *testing.T) {
	directory := t.TempDir()
	text := "t in \u00b5s\tA\r\n" + strings.ReplaceAll(strings.ReplaceAll(recordingOf(t), "ms,A\n", ""), ",", "\t")
	utf16, latin := []byte{0xff, 0xfe}, []byte{}
	for _, r := range text {
		utf16, latin = append(utf16, byte(r), byte(r>>8)), append(latin, byte(r))
	}
	var first string
	for name, content := range map[string][]byte{"utf8.txt": []byte(text), "bom.txt": []byte("\ufeff" + text), "utf16.txt": utf16, "latin.txt": latin} {
		path := filepath.Join(directory, name)
		require.NoError(t, os.WriteFile(path, content, 0o600))
		o := ask(t, `{"supply": "13.8 V"}`, "run", "trace", "--file", "recording="+path)
		require.Equal(t, done, o.status, "%s: %s%s", name, o.out, o.err)
		if first == "" {
			first = o.out
		}
		assert.Equal(t, first, o.out, name)
	}
	assert.True(t, strings.Contains(first, `"time_unit":"µs"`))

	whole := filepath.Join(directory, "utf8.txt")
	assert.Equal(t, done, ask(t, "", "run", "trace", "--file", "recording="+whole).status, "an empty request")
	assert.Equal(t, refused, ask(t, "[1]", "run", "trace", "--file", "recording="+whole).status, "a request that is no object")
	for _, args := range [][]string{
		{"run", "trace", "--file", "recording=" + directory + "/none.csv"}, {"run", "trace", "--file", "supply=" + whole},
		{"run", "winding", "--file", "reading=" + whole}, {"run", "trace", "--ndjson", "--file", "recording=" + whole},
	} {
		o := ask(t, "{}", args...)
		assert.Equal(t, broken, o.status, args)
		assert.Empty(t, o.out, args)
		assert.NotEmpty(t, o.err, args)
	}
	long := filepath.Join(directory, "long.csv")
	require.NoError(t, os.WriteFile(long, bytes.Repeat([]byte("1,2\n"), 1<<19), 0o600))
	o := ask(t, "", "run", "trace", "--file", "recording="+long)
	assert.Equal(t, refused, o.status)
	assert.Contains(t, o.out, `"field":"recording","code":"range"`)
}

func TestHelp(t *testing.T) {
	general := ask(t, "", "--help")
	for args, title := range map[string]string{
		"--help": "ohmwright answers", "-h": "ohmwright answers", "-help": "ohmwright answers", "help": "ohmwright answers",
		"run --help": "ohmwright run TOOL", "run winding -h": "ohmwright run TOOL", "tools --help": "ohmwright tools",
		"describe --help": "ohmwright describe TOOL", "serve --help": "ohmwright serve", "build --help": "ohmwright build DIRECTORY",
	} {
		o := ask(t, "", strings.Fields(args)...)
		assert.Equal(t, done, o.status, args)
		assert.Empty(t, o.err, args)
		assert.Contains(t, o.out, title, args)
	}
	for _, command := range []string{"run", "tools", "describe", "serve", "build"} {
		assert.Contains(t, general.out, "\n  ohmwright "+command)
	}
	for _, tl := range tools.All {
		assert.Contains(t, general.out, "| ohmwright run "+tl.Name, "no example of %s", tl.Name)
	}
	for _, line := range strings.Split(general.out, "\n") {
		assert.LessOrEqual(t, len(line), 120, line)
	}
}

func TestExamplesOfHelpWork(t *testing.T) {
	general, run := ask(t, "", "--help").out, ask(t, "", "run", "--help").out
	var lines []string
	for _, text := range []string{general, run} {
		for _, m := range piped.FindAllStringSubmatch(text, -1) {
			lines = append(lines, m[1])
		}
		require.Equal(t, strings.Count(text, "echo '"), len(piped.FindAllString(text, -1)), "an example that this test does not find")
	}
	require.GreaterOrEqual(t, len(lines), len(tools.All)+1)
	directory := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(directory, "ramp.csv"), []byte(recordingOf(t)), 0o600))
	for _, line := range lines {
		r := parse(t, string(shell(t, directory, line)))
		assert.True(t, r.OK, line)
	}

	m := filed.FindStringSubmatch(run)
	require.NotNil(t, m)
	require.NoError(t, os.WriteFile(filepath.Join(directory, "readings.ndjson"), []byte(`{"reading": "9.7 ohm", "at": "24 degC"}`+"\n"), 0o600))
	assert.Empty(t, shell(t, directory, m[1]))
	answers, err := os.ReadFile(filepath.Join(directory, "answers.ndjson"))
	require.NoError(t, err)
	assert.True(t, parse(t, string(answers)).OK)

	m = built.FindStringSubmatch(ask(t, "", "build", "--help").out)
	require.NotNil(t, m)
	shell(t, directory, m[1])
	assert.FileExists(t, filepath.Join(directory, "public", "index.html"))
}

func TestTools(t *testing.T) {
	o := ask(t, "", "tools")
	assert.Equal(t, done, o.status)
	assert.Empty(t, o.err)
	var list []tool.Listed
	require.NoError(t, json.Unmarshal([]byte(o.out), &list))
	require.Len(t, list, len(tools.All))
	for i, l := range list {
		assert.Equal(t, tools.All[i].Name, l.Tool)
		assert.NotEmpty(t, l.Title)
		assert.NotEmpty(t, l.Purpose)
	}
}

// described is what describe prints, with its schemas compiled.
type described struct {
	Tool            string
	Contract        int
	Example         any
	request, result *jsonschema.Schema
	raw             map[string]any
}

func describe(t *testing.T, name string) described {
	t.Helper()
	o := ask(t, "", "describe", name)
	require.Equal(t, outcome{o.out, "", done}, o)
	value, err := jsonschema.UnmarshalJSON(strings.NewReader(o.out))
	require.NoError(t, err)
	d := described{raw: value.(map[string]any)}
	require.NoError(t, json.Unmarshal([]byte(o.out), &d))
	d.Example = d.raw["example"]
	for part, schema := range map[string]**jsonschema.Schema{"request": &d.request, "result": &d.result} {
		c := jsonschema.NewCompiler()
		require.NoError(t, c.AddResource(part, d.raw[part]))
		*schema, err = c.Compile(part)
		require.NoError(t, err, "%s is no JSON Schema", part)
	}
	return d
}

// declared checks that a schema has every field of a declaration, and no other.
func declared(t *testing.T, at string, fields []tool.Field, schema map[string]any) {
	properties, _ := schema["properties"].(map[string]any)
	assert.Equal(t, false, schema["additionalProperties"], at)
	assert.Len(t, properties, len(fields), at)
	var need []any
	for _, f := range fields {
		p, ok := properties[f.Name].(map[string]any)
		if !assert.True(t, ok, "%s.%s is not in the schema", at, f.Name) {
			continue
		}
		assert.NotEmpty(t, p["title"], "%s.%s", at, f.Name)
		if f.Label == "" { // else its name says all
			assert.NotEmpty(t, p["description"], "%s.%s", at, f.Name)
		}
		if f.Need {
			need = append(need, f.Name)
		}
		if f.Fields == nil {
			continue
		}
		inner := p
		if f.Shape == tool.List {
			inner = p["items"].(map[string]any)
		}
		if f.Shape == tool.Choice {
			inner = p["anyOf"].([]any)[1].(map[string]any)
		}
		declared(t, at+"."+f.Name, f.Fields, inner)
	}
	assert.ElementsMatch(t, need, schema["required"], at)
}

func TestDescribe(t *testing.T) {
	for _, tl := range tools.All {
		d := describe(t, tl.Name)
		assert.Equal(t, tl.Name, d.Tool)
		assert.Equal(t, tool.Contract, d.Contract)
		declared(t, tl.Name, tl.Fields, d.raw["request"].(map[string]any))
		assert.NoError(t, d.request.Validate(d.Example), "the example of %s", tl.Name)
		assert.Error(t, d.request.Validate(map[string]any{"colour": "red"}))

		answer, err := jsonschema.UnmarshalJSON(strings.NewReader(ask(t, tl.Example, "run", tl.Name).out))
		require.NoError(t, err)
		result := answer.(map[string]any)["result"]
		assert.NoError(t, d.result.Validate(result), "the result of %s's example", tl.Name)
		named(t, tl.Name, result, d.raw["result"].(map[string]any))
	}
}

// named checks that a result has no name that its schema does not have.
func named(t *testing.T, at string, value any, schema map[string]any) {
	switch v := value.(type) {
	case map[string]any:
		properties, _ := schema["properties"].(map[string]any)
		for name, inner := range v {
			if p, ok := properties[name].(map[string]any); assert.True(t, ok, "%s.%s is not in the schema", at, name) {
				named(t, at+"."+name, inner, p)
			}
		}
	case []any:
		for _, inner := range v {
			named(t, at, inner, schema["items"].(map[string]any))
		}
	}
}

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
			assert.Equal(t, c.want, readings(t, o.out))
			assert.Equal(t, c.status, o.status)
			assert.Empty(t, o.err)
		})
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
	assert.Equal(t, done, o.status)
	assert.Equal(t, want, readings(t, o.out))
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
		assert.True(t, c.answer(t).OK) // before the next is asked
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
	assert.True(t, c.answer(t).OK)
	before := most(t, c.command.Process.Pid)

	piece := bytes.Repeat([]byte("9"), 1<<20)
	for range 100 {
		_, err := c.in.Write(piece)
		require.NoError(t, err)
	}
	_, err = fmt.Fprintf(c.in, "\n"+good+"\n", 6)
	require.NoError(t, err)
	r := c.answer(t)
	assert.False(t, r.OK)
	assert.Equal(t, []string{" range"}, codes(r.Errors))
	assert.True(t, c.answer(t).OK)
	after := most(t, c.command.Process.Pid)
	t.Logf("most memory: %d MiB before, %d MiB after", before, after)
	assert.Less(t, after-before, 16)
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
	assert.Equal(t, []string{" range"}, codes(c.answer(t).Errors))
	assert.Equal(t, refused, statusOfRun(t, c.command.Wait()))
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
	for _, args := range []string{"run winding --ndjson", "run winding", "tools", "describe winding", "--help", "run --help", "build " + t.TempDir(), "serve --address 127.0.0.1:0"} {
		t.Run(args, func(t *testing.T) {
			o := closed(t, strings.Fields(args)...)
			assert.Equal(t, broken, o.status)
			assert.Equal(t, "ohmwright: the reader of the output closed it before everything was written\n", o.err)
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
		assert.Equal(t, broken, statusOfRun(t, c.Run()))
		assert.Contains(t, errOut.String(), "no space left")
	}
}

func TestLocale(t *testing.T) {
	mark := regexp.MustCompile(`(\d),(\d)`)
	request := tools.All[0].Example
	english, german := ask(t, request, "run", "winding"), ask(t, request, "run", "winding", "--locale", "de")
	require.Equal(t, done, german.status)
	var e, g any
	require.NoError(t, json.Unmarshal([]byte(english.out), &e))
	require.NoError(t, json.Unmarshal([]byte(german.out), &g))
	differ := 0
	alike(t, "", e, g, func(at, e, g string) {
		if e == g {
			return
		}
		differ++
		require.NotContains(t, at, ".result", "a value changed")
		require.Equal(t, e, mark.ReplaceAllString(g, "$1.$2"), at)
	})
	assert.Greater(t, differ, 5)

	e, g = nil, nil
	require.NoError(t, json.Unmarshal([]byte(ask(t, `{"reading": "9.7 ohm", "at": "-240.5 degC"}`, "run", "winding").out), &e))
	require.NoError(t, json.Unmarshal([]byte(ask(t, `{"reading": "9.7 ohm", "at": "-240.5 degC"}`, "run", "winding", "--locale", "de-AT").out), &g))
	assert.NotEqual(t, e, g, "the limit in the refusal is a number for a reader")

	for _, odd := range []string{"", "x", "!!", "ar", "hi-u-nu-deva", strings.Repeat("de-", 3000)} {
		o := ask(t, request, "run", "winding", "--locale", odd)
		assert.Equal(t, done, o.status, odd)
		assert.True(t, parse(t, o.out).OK)
	}
}

// alike walks two values that may differ in texts only.
func alike(t *testing.T, at string, a, b any, text func(at, a, b string)) {
	t.Helper()
	switch a := a.(type) {
	case map[string]any:
		bm, ok := b.(map[string]any)
		require.True(t, ok && len(a) == len(bm), at)
		for k := range a {
			alike(t, at+"."+k, a[k], bm[k], text)
		}
	case []any:
		bl, ok := b.([]any)
		require.True(t, ok && len(a) == len(bl), at)
		for i := range a {
			alike(t, at, a[i], bl[i], text)
		}
	case string:
		bs, ok := b.(string)
		require.True(t, ok, at)
		text(at, a, bs)
	default:
		assert.Equal(t, a, b, at)
	}
}

// Every check value of a tool, through a run of its own.
func TestVectors(t *testing.T) {
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	schemas := map[string]described{}
	for _, tl := range tools.All {
		schemas[tl.Name] = describe(t, tl.Name)
	}
	for _, v := range vectors {
		t.Run(v.ID, func(t *testing.T) {
			t.Parallel()
			o := ask(t, string(v.In.Request), "run", v.In.Tool)
			if _, known := tools.Named(v.In.Tool); !known { // here that is a slip of the call, not of the request
				assert.Equal(t, outcome{"", o.err, broken}, o)
				assert.Contains(t, o.err, "no tool")
				return
			}
			assert.Empty(t, o.err)
			r := parse(t, o.out)
			require.NoError(t, v.Check([]byte(o.out)))
			d := schemas[v.In.Tool]
			if !r.OK {
				assert.Equal(t, refused, o.status)
				return
			}
			assert.Equal(t, done, o.status)
			request, err := jsonschema.UnmarshalJSON(bytes.NewReader(v.In.Request))
			require.NoError(t, err)
			assert.NoError(t, d.request.Validate(request), "answered, though not in the schema")
			answer, err := jsonschema.UnmarshalJSON(strings.NewReader(o.out))
			require.NoError(t, err)
			result := answer.(map[string]any)["result"]
			assert.NoError(t, d.result.Validate(result))
			named(t, v.In.Tool, result, d.raw["result"].(map[string]any))
		})
	}
}

// The same in one stream a tool; a request of several lines, or of none, cannot be in it.
func TestVectorsAsLines(t *testing.T) {
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	for _, tl := range tools.All {
		var in bytes.Buffer
		var asked []testdata.Vector
		for _, v := range vectors {
			if v.In.Tool == tl.Name && len(v.In.Request) > 0 && !bytes.ContainsAny(v.In.Request, "\r\n") {
				in.Write(append(v.In.Request, '\n'))
				asked = append(asked, v)
			}
		}
		require.NotEmpty(t, asked, tl.Name)
		o := ask(t, in.String(), "run", tl.Name, "--ndjson")
		lines := strings.Split(strings.TrimSuffix(o.out, "\n"), "\n")
		require.Len(t, lines, len(asked), tl.Name)
		for i, v := range asked {
			assert.NoError(t, v.Check([]byte(lines[i])))
		}
		t.Logf("%s: %d of the vectors", tl.Name, len(asked))
	}
}

// A fault of the program is told as one: a response, and exit status 1.
func TestProgramAtFault(t *testing.T) {
	all := tools.All
	defer func() { tools.All = all }()
	tools.All = append([]*tool.Tool{{Name: "spoilt"}}, all...) // has no functions: running it panics
	for _, args := range [][]string{{"run", "spoilt"}, {"run", "spoilt", "--ndjson"}} {
		var out, errOut bytes.Buffer
		assert.Equal(t, broken, command(args, strings.NewReader("{}"), &out, &errOut))
		assert.Empty(t, errOut.String())
		assert.Equal(t, []string{" program"}, codes(parse(t, out.String()).Errors))
	}
	var out bytes.Buffer
	assert.Equal(t, broken, command([]string{"run", "spoilt", "--ndjson"}, strings.NewReader("{}\n{\n"), &out, io.Discard), "a fault of the program outweighs a refusal")
	out.Reset()
	assert.Equal(t, broken, command([]string{"run", "spoilt", "--ndjson"}, strings.NewReader("{\n{}\n"), &out, io.Discard))
	out.Reset()
	assert.Equal(t, done, command([]string{"run", "winding"}, strings.NewReader(all[0].Example), &out, io.Discard))
}

// An input that breaks off is a fault of the system, and never half a request.
func TestInputBreaksOff(t *testing.T) {
	for _, args := range [][]string{{"run", "winding"}, {"run", "winding", "--ndjson"}} {
		var out, errOut bytes.Buffer
		in := io.MultiReader(strings.NewReader(fmt.Sprintf(good, 5)), failing{})
		assert.Equal(t, broken, command(args, in, &out, &errOut))
		assert.Contains(t, errOut.String(), "read request: line dropped")
		assert.Empty(t, out.String(), "%q", args)
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("line dropped") }
