package slim

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/site"
	"ohmwright/site/sections"
)

// built compiles the test program as the page's module is compiled, or with other flags.
func built(t *testing.T, flags ...string) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "program.wasm")
	build := exec.Command("go", append(append([]string{"build"}, flags...), "-o", path, "./testdata/program")...)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	text, err := build.CombinedOutput()
	require.NoError(t, err, "%s", text)
	wasm, err := os.ReadFile(path)
	require.NoError(t, err)
	return wasm
}

// checked makes a module smaller, and returns that, its memory, and which functions are empty now.
func checked(t *testing.T, wasm []byte) (slimmer, memory []byte, emptied []bool) {
	t.Helper()
	m, err := readModule(wasm)
	require.NoError(t, err)
	emptied, err = m.cut()
	require.NoError(t, err)
	slimmer = m.write()
	require.NoError(t, check(wasm, slimmer, m.memory, emptied))
	return slimmer, m.memory, emptied
}

// run runs a module in Node.js, and returns what it prints and how it ends.
func run(t *testing.T, wasm []byte, args ...string) (output, errors string, status int) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "program.wasm")
	require.NoError(t, os.WriteFile(path, wasm, 0o644))
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	script := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec_node.js")
	command := exec.Command("node", append([]string{"--stack-size=8192", script, path}, args...)...)
	var out, failed bytes.Buffer
	command.Stdout, command.Stderr = &out, &failed
	if err := command.Run(); command.ProcessState == nil {
		require.NoError(t, err)
	}
	return out.String(), failed.String(), command.ProcessState.ExitCode()
}

func TestDoesTheSame(t *testing.T) {
	for name, flags := range map[string][]string{"as the page's module": site.ModuleFlags(), "with inlining and names": nil} {
		t.Run(name, func(t *testing.T) {
			wasm := built(t, flags...)
			slimmer, err := Module(wasm)
			require.NoError(t, err)
			assert.Less(t, compressed(t, slimmer), compressed(t, wasm)*9/10)

			want, wantErrors, wantStatus := run(t, wasm)
			for _, part := range []string{ // so that the program does reach what it is for
				"value method main.named.Name called using nil *named pointer", "reflect: call of reflect.Value.NumField on string Value",
				"index out of range [2] with length 2", "outer not recovered inside", "outer not recovered besides", "made", "\n190 2\n",
				"switched nil; ",
			} {
				require.Contains(t, want, part)
			}
			require.Contains(t, wantErrors, "all goroutines are asleep - deadlock!")
			output, errors, status := run(t, slimmer)
			assert.Equal(t, want, output)
			assert.Equal(t, wantStatus, status)
			assert.Equal(t, firstLine(wantErrors), firstLine(errors))

			checked(t, wasm)
			_, err = Module(slimmer)
			assert.ErrorIs(t, err, ErrUnknown, "a slim module has no names by which it could be known")
		})
	}
}

func compressed(t *testing.T, b []byte) int {
	t.Helper()
	var out bytes.Buffer
	w, err := flate.NewWriter(&out, flate.BestCompression)
	require.NoError(t, err)
	_, err = w.Write(b)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return out.Len()
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return line
}

func TestPanicStillSaysWhy(t *testing.T) {
	wasm := built(t, site.ModuleFlags()...)
	slimmer, err := Module(wasm)
	require.NoError(t, err)
	_, before, wantStatus := run(t, wasm, "panic")
	_, after, status := run(t, slimmer, "panic")
	assert.Contains(t, before, "main.go:", "a module as Go made it says where; if it does not, this test shows nothing")
	assert.NotContains(t, after, "main.go")
	assert.Contains(t, firstLine(after), "ends here")
	assert.Equal(t, firstLine(before), firstLine(after))
	assert.Equal(t, wantStatus, status)
}

func TestUnknownModules(t *testing.T) {
	wasm := built(t, site.ModuleFlags()...)
	replaced := func(old, other string) []byte {
		require.Equal(t, len(old), len(other))
		require.Contains(t, string(wasm), old)
		return bytes.ReplaceAll(wasm, []byte(old), []byte(other))
	}
	changed := func(change func(tab *table, functions []function)) []byte {
		m, err := readModule(wasm)
		require.NoError(t, err)
		functions, err := m.table.functions()
		require.NoError(t, err)
		change(m.table, functions)
		return m.write()
	}
	const known = "go1.26"
	for name, module := range map[string][]byte{
		"another release":             replaced(known, "go1.27"),
		"a release that begins alike": replaced(known+runtime.Version()[len(known):len(known)+1], known+"5"),
		"another magic number":        replaced(string(header), "\xf2"+string(header[1:])),
		"another size of a pointer":   replaced(string(header), string(header[:7])+"\x04"),
		"no function table":           replaced(string(header), strings.Repeat("\x01", 8)),
		"a record of another function": changed(func(_ *table, functions []function) {
			functions[5].set(fieldEntry, functions[6].get(fieldEntry))
		}),
		"a kind that Go 1.26 has not": changed(func(_ *table, functions []function) { functions[5][4*fieldSpecial] = specialWrapper + 1 }),
		"a name inside another": changed(func(_ *table, functions []function) {
			functions[5].set(fieldName, functions[5].get(fieldName)+1)
		}),
		"a table beyond its place":     changed(func(t *table, functions []function) { functions[5].set(fieldStack, uint32(len(t.counters))) }),
		"a table without an end":       changed(func(t *table, _ []function) { copy(t.counters, bytes.Repeat([]byte{1}, len(t.counters))) }),
		"an index beyond the table":    changed(func(t *table, _ []function) { binary.LittleEndian.PutUint32(t.records[4:], 1<<31) }),
		"more tables than Go 1.26 has": changed(func(_ *table, functions []function) { functions[5].set(fieldPCData, 6) }),
		"funcdata outside of the table": changed(withFuncdata(func(f function, field int, all *table) {
			f.set(field, uint32(len(all.funcdata)))
		})),
		"a count of data segments": append(bytes.Clone(wasm), sections.DataCount, 1, 0),
	} {
		_, err := Module(module)
		assert.ErrorIs(t, err, ErrUnknown, name)
	}
	for name, module := range map[string][]byte{
		"nothing": nil, "text": []byte("package main"), "cut short": wasm[:len(wasm)/2],
	} {
		_, err := Module(module)
		assert.Error(t, err, name)
	}
}

// withFuncdata changes the first offset of funcdata that there is.
func withFuncdata(change func(f function, field int, all *table)) func(*table, []function) {
	return func(t *table, functions []function) {
		for _, f := range functions {
			for n := range f.funcdata() {
				if field := f.fieldOfFuncdata(n); f.get(field) != none {
					change(f, field, t)
					return
				}
			}
		}
	}
}

// TestCheckNotices changes a slim module where a running program would notice.
func TestCheckNotices(t *testing.T) {
	wasm := built(t, site.ModuleFlags()...)
	slimmer, memory, emptied := checked(t, wasm)
	for name, change := range map[string]func(m *module, tab *table, functions []function){
		"code":            func(m *module, _ *table, _ []function) { m.bodies[slices.Index(emptied, false)][0] ^= 1 },
		"a section less":  func(m *module, _ *table, _ []function) { m.sections = m.sections[1:] },
		"data before":     func(m *module, tab *table, _ []function) { m.memory[tab.start-1] ^= 1 },
		"data behind":     func(m *module, tab *table, _ []function) { m.memory[tab.end] ^= 1 },
		"data at the end": func(m *module, _ *table, _ []function) { m.memory = append(m.memory, 1) },
		"arguments' size": func(_ *module, _ *table, functions []function) { functions[9].set(2, 12345) },
		"a stack's table": func(_ *module, _ *table, functions []function) {
			functions[9].set(fieldStack, functions[10].get(fieldStack)+2)
		},
		"the bytes of it": func(_ *module, tab *table, functions []function) {
			tab.counters[functions[len(functions)-1].get(fieldStack)] ^= 2
		},
		"a wrapper's name":   func(_ *module, tab *table, _ []function) { tab.names[bytes.Index(tab.names, []byte(".(*"))] ^= 1 },
		"reflect's stub":     func(_ *module, tab *table, _ []function) { tab.names[bytes.Index(tab.names, []byte(stubs[0]))] ^= 1 },
		"the runtime's name": func(_ *module, tab *table, _ []function) { tab.names[bytes.Index(tab.names, []byte(system))] ^= 1 },
		"a type":             func(m *module, tab *table, _ []function) { m.memory[tab.types+8] ^= 1 },
		"a pointer map": func(_ *module, tab *table, functions []function) {
			withFuncdata(func(f function, field int, all *table) { all.funcdata[f.get(field)] ^= 1 })(tab, functions)
		},
	} {
		m, err := readModule(slimmer)
		require.NoError(t, err)
		functions, err := m.table.functions()
		require.NoError(t, err)
		change(m, m.table, functions)
		assert.Error(t, check(wasm, m.write(), memory, emptied), name)
	}
}

// TestPageModule holds the page's own module against what it was made of.
func TestPageModule(t *testing.T) {
	path := filepath.Join(t.TempDir(), "module.wasm")
	build := exec.Command("go", append(append([]string{"build"}, site.ModuleFlags()...), "-o", path, "../../../wasm")...)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	text, err := build.CombinedOutput()
	require.NoError(t, err, "%s", text)
	wasm, err := os.ReadFile(path)
	require.NoError(t, err)
	_, _, emptied := checked(t, wasm)
	m, err := readModule(wasm)
	require.NoError(t, err)
	functions, err := m.table.functions()
	require.NoError(t, err)
	linked := map[string]bool{}
	for i, f := range functions {
		name := m.table.name(f.get(fieldName))
		linked[name] = true
		assert.False(t, emptied[i] && strings.Contains(name, "ohmwright"), "%s is the page's own", name)
	}
	// Each name that is listed is one of Go's: a name that is spelled wrongly, or that another release has no longer, would do nothing.
	for name := range bodiesInstead(nil) {
		assert.True(t, linked[name], "%s is not in the module", name)
	}
}

func TestReasonsThatDoNotHold(t *testing.T) {
	const tracer, unless, always = "runtime.traceAdvance", "runtime.StartTrace", "runtime.schedtrace"
	assert.NotNil(t, bodiesInstead(nil)[tracer])
	linked := bodiesInstead(map[string]bool{unless: true})
	assert.Nil(t, linked[tracer])
	assert.NotNil(t, linked[always])
}

// TestOverlookedWays has a module where the code that calls a function has gone: what the linker had no reason to take in is a sign that
// this package does not see all ways.
func TestOverlookedWays(t *testing.T) {
	m, err := readModule(built(t, site.ModuleFlags()...))
	require.NoError(t, err)
	functions, err := m.table.functions()
	require.NoError(t, err)
	for i, f := range functions {
		if m.table.name(f.get(fieldName)) == "main.main" {
			m.bodies[i] = traps
		}
	}
	_, err = Module(m.write())
	assert.ErrorIs(t, err, ErrUnknown)
	assert.ErrorContains(t, err, "nothing seems to lead to")
}

// TestInstead runs a program with a function of its own that returns at once, and with one that stops it.
func TestInstead(t *testing.T) {
	wasm := built(t, site.ModuleFlags()...)
	for name, want := range map[string]struct {
		body   []byte
		status int
		errors string
	}{"returns": {returns, 2, "deadlock!"}, "traps": {traps, 1, "unreachable"}} {
		m, err := readModule(wasm)
		require.NoError(t, err)
		functions, err := m.table.functions()
		require.NoError(t, err)
		for i, f := range functions {
			if m.table.name(f.get(fieldName)) == "main.printAll" {
				m.bodies[i] = want.body
			}
		}
		output, errors, status := run(t, m.write())
		assert.Empty(t, output, name)
		assert.Contains(t, errors, want.errors, name)
		assert.Equal(t, want.status, status, name)
	}
}
