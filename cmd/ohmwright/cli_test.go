package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// program is the program as a user has it; TestMain builds it.
var program string

func TestMain(m *testing.M) {
	if directory := os.Getenv(publishing); directory != "" {
		os.Exit(publishOverAndOver(directory))
	}
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
		assert.Equal(t, outcome{o.out, "", done}, o, "run %s: its example should be answered, with nothing on the error output", tl.Name)
		r := parse(t, o.out)
		assert.True(t, r.OK, "run %s: its example should be answered, not refused: %s", tl.Name, o.out)
		assert.Equal(t, tl.Name, r.Tool, "run %s: the response should name the tool", tl.Name)
		assert.NotEmpty(t, r.Result, "run %s: its example should have a result", tl.Name)
	}
}

func TestRefused(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"all faults", `{"reading": "12 V", "at_within": "2 K", "colour": "red"}`, "reading unit|at missing|colour unknown"},
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
			assert.Equal(t, refused, o.status, "run winding: the exit status should tell of a refusal")
			assert.Empty(t, o.err, "run winding: a refusal belongs in the response, not on the error output")
			r := parse(t, o.out)
			assert.False(t, r.OK, "run winding: the request should be refused: %s", o.out)
			assert.ElementsMatch(t, strings.Split(c.want, "|"), codes(r.Errors), "run winding: field and code of each fault")
			for _, f := range r.Errors {
				assert.NotEmpty(t, f.Message, "run winding: field %q, code %s: a fault needs a message", f.Field, f.Code)
				assert.NotEmpty(t, f.Hint, "run winding: field %q, code %s: a fault needs a hint", f.Field, f.Code)
				assert.Less(t, len(f.Given), 200, "run winding: field %q: what was given should be cut short", f.Field)
			}
		})
	}
}

// A list that is missing has no example to show: the hint says what to do without one, in each language.
func TestMissingList(t *testing.T) {
	for locale, want := range map[string]string{
		"en": "Give at least one row.", "de": "Mindestens eine Zeile angeben.", "es": "Ponga al menos una fila.",
		"fr": "Donnez au moins une ligne.",
	} {
		for name, in := range map[string]string{"bank": "{}", "worksheet": `{"questions": []}`} {
			o := ask(t, in, "run", name, "--locale", locale)
			r := parse(t, o.out)
			found := slices.IndexFunc(r.Errors, func(f tool.Fault) bool { return f.Code == tool.Missing })
			require.GreaterOrEqual(t, found, 0, o.out)
			assert.Equal(t, want, r.Errors[found].Hint, "%s: run %s %s", locale, name, in)
		}
		assert.Contains(t, ask(t, "", "mark", "#/worksheet?v=1&role=teacher", "--locale", locale).err, want, "mark in %s", locale)
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
		{"run winding --locale !!", `"!!" is no language tag`},
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
			assert.Equal(t, broken, o.status, "ohmwright %s: a wrong call should end with status %d", c.args, broken)
			assert.Empty(t, o.out, "ohmwright %s: a wrong call should answer nothing", c.args)
			assert.Contains(t, o.err, c.says, "ohmwright %s: the message should name what is wrong", c.args)
			if c.args != "" {
				assert.Regexp(t, `Try: ohmwright ((run|serve|build) )?--help`, o.err, "ohmwright %s: the message should lead to the help", c.args)
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
	trace, ok := tools.Named("trace")
	require.True(t, ok)
	require.NoError(t, json.Unmarshal([]byte(trace.Example), &example))
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
	files := map[string][]byte{"utf8.txt": []byte(text), "bom.txt": []byte("\ufeff" + text), "utf16.txt": utf16, "latin.txt": latin}
	for name, content := range files {
		path := filepath.Join(directory, name)
		require.NoError(t, os.WriteFile(path, content, 0o600))
		o := ask(t, `{"supply": "13.8 V"}`, "run", "trace", "--file", "recording="+path)
		require.Equal(t, done, o.status, "%s: %s%s", name, o.out, o.err)
		if first == "" {
			first = o.out
		}
		assert.Equal(t, first, o.out, name)
	}
	assert.Contains(t, first, `"time_unit":"µs"`, "run trace: the unit of the header should be read in any encoding")

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
	assert.Equal(t, refused, o.status, "run trace: a recording that is too long should be refused")
	assert.Contains(t, o.out, `"field":"recording","code":"range"`, "run trace: field recording should be told as too long")
}

// With a file the rest of the request is read as strictly as without: what is given twice is refused, and so is the file's field itself.
func TestFileBesideRequest(t *testing.T) {
	file := filepath.Join(t.TempDir(), "ramp.csv")
	require.NoError(t, os.WriteFile(file, []byte(recordingOf(t)), 0o600))
	for _, c := range []struct{ in, want string }{
		{`{"supply": "13.8 V"}`, ""},
		{" \n{ \n} \n", ""},
		{" \n", ""},
		{`{"supply": "13.8 V", "supply": "12 V"}`, "supply conflict"},
		{`{"supply": "13.8 V", "recording": "ms,A"}`, "recording conflict"},
		{`{"colour": "red"}`, "colour unknown"},
		{`{"supply": "13.8 V"`, " syntax"},
		{`{"supply": "13.8 V",}`, " syntax"},
		{`{} {}`, " syntax"},
		{`[{}]`, " syntax"},
		{`null`, " syntax"},
		{`{}` + strings.Repeat(" ", 8<<20), " range"},
	} {
		o := ask(t, c.in, "run", "trace", "--file", "recording="+file)
		in := c.in[:min(len(c.in), 60)]
		r := parse(t, o.out)
		if c.want == "" {
			assert.True(t, r.OK, "%s: %s", in, o.out)
			continue
		}
		assert.Equal(t, refused, o.status, in)
		assert.Equal(t, []string{c.want}, codes(r.Errors), "%s: %s", in, o.out)
	}
	o := ask(t, `{"supply": 1 "at": 2}`, "run", "trace", "--file", "recording="+file)
	assert.Equal(t, ask(t, `{"supply": 1 "at": 2}`, "run", "trace").out, o.out, "a place in the request is one in what was given")
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
		assert.Contains(t, general.out, "\n  ohmwright "+command, "ohmwright --help should list %s", command)
	}
	for _, tl := range tools.All {
		assert.Contains(t, general.out, "| ohmwright run "+tl.Name, "no example of %s", tl.Name)
	}
	for _, line := range strings.Split(general.out, "\n") {
		assert.LessOrEqual(t, len(line), 120, "a line of the help is too long: %s", line)
	}
}

func TestExamplesOfHelpWork(t *testing.T) {
	general, run := ask(t, "", "--help").out, ask(t, "", "run", "--help").out
	var lines []string
	for _, text := range []string{general, run} {
		for _, m := range piped.FindAllStringSubmatch(text, -1) {
			lines = append(lines, m[1])
		}
		require.Equal(t, strings.Count(text, "echo '"), len(piped.FindAllString(text, -1)),
			"an example of the help that this test does not find: its pattern is piped")
	}
	require.GreaterOrEqual(t, len(lines), len(tools.All)+1, "the help should have an example of each tool, and one with a file")
	directory := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(directory, "ramp.csv"), []byte(recordingOf(t)), 0o600))
	for _, line := range lines {
		r := parse(t, string(shell(t, directory, line)))
		assert.True(t, r.OK, "the example of the help should be answered, not refused: %s", line)
	}

	m := filed.FindStringSubmatch(run)
	require.NotNil(t, m)
	reading := []byte(`{"reading": "9.7 ohm", "at": "24 degC"}` + "\n")
	require.NoError(t, os.WriteFile(filepath.Join(directory, "readings.ndjson"), reading, 0o600))
	assert.Empty(t, shell(t, directory, m[1]), "%s should write to its file alone", m[1])
	answers, err := os.ReadFile(filepath.Join(directory, "answers.ndjson"))
	require.NoError(t, err)
	assert.True(t, parse(t, string(answers)).OK, "%s should answer the reading: %s", m[1], answers)

	m = built.FindStringSubmatch(ask(t, "", "build", "--help").out)
	require.NotNil(t, m)
	shell(t, directory, m[1])
	assert.FileExists(t, filepath.Join(directory, "public", "index.html"))
}

func TestTools(t *testing.T) {
	o := ask(t, "", "tools")
	assert.Equal(t, done, o.status, "ohmwright tools")
	assert.Empty(t, o.err, "ohmwright tools")
	var list []struct{ Tool, Title, Purpose string }
	require.NoError(t, json.Unmarshal([]byte(o.out), &list))
	require.Len(t, list, len(tools.All))
	for i, l := range list {
		assert.Equal(t, tools.All[i].Name, l.Tool, "ohmwright tools: number %d in the list", i)
		assert.NotEmpty(t, l.Title, "ohmwright tools: %s needs a title", l.Tool)
		assert.NotEmpty(t, l.Purpose, "ohmwright tools: %s needs a purpose", l.Tool)
	}
}
