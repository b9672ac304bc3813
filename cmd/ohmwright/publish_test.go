package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/cmd/internal/web"
	"ohmwright/site"
)

// siteOf returns a small site whose files all hold one word; its service worker lists them as the real one does.
func siteOf(word string, names ...string) map[string][]byte {
	files := map[string][]byte{}
	for _, name := range append(names, "index.html", "app.js") {
		files[name] = []byte(word + strings.Repeat(" ", 1000))
	}
	list, err := json.Marshal(slices.Sorted(maps.Keys(files)))
	if err != nil {
		panic(err)
	}
	files["sw.js"] = fmt.Appendf(nil, "const VERSION = %q;\nconst FILES = %s;\n", word, list)
	return files
}

// tree reads everything in a directory: files with their content, links with where they lead.
func tree(t *testing.T, directory string) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir(directory, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == directory {
			return err
		}
		name, _ := filepath.Rel(directory, path)
		switch {
		case d.IsDir():
			all[name+"/"] = ""
		case d.Type() == fs.ModeSymlink:
			to, err := os.Readlink(path)
			all[name] = "-> " + to
			return err
		default:
			content, err := os.ReadFile(path)
			all[name] = string(content)
			return err
		}
		return nil
	}))
	return all
}

// plainTree is what tree reads where a site lies and nothing else.
func plainTree(files map[string][]byte) map[string]string {
	all := map[string]string{}
	for name, content := range files {
		all[name] = string(content)
		if folder := filepath.Dir(name); folder != "." {
			all[folder+"/"] = ""
		}
	}
	return all
}

// put writes a file of someone else, and its folders.
func put(t *testing.T, parts ...string) {
	t.Helper()
	file := filepath.Join(parts...)
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
	require.NoError(t, os.WriteFile(file, []byte("mine"), 0o644))
}

// TestPublishReplacesItsOwn: the next site takes the place of the former, and what is no longer of it goes; what is not of it stays.
func TestPublishReplacesItsOwn(t *testing.T) {
	former, next := siteOf("former", "gone.js", "licences/gone.txt"), siteOf("next", "come.js", "licences/come.txt")
	for _, c := range []struct {
		name  string
		mine  func(t *testing.T, directory string)
		stays map[string]string
	}{
		{"alone", func(*testing.T, string) {}, nil},
		{"a file", func(t *testing.T, d string) { put(t, d, "CNAME") }, map[string]string{"CNAME": "mine"}},
		{"a file in a folder of the site", func(t *testing.T, d string) { put(t, d, "licences", "mine.txt") },
			map[string]string{"licences/mine.txt": "mine"}},
		{"a folder", func(t *testing.T, d string) { put(t, d, ".git", "HEAD") }, map[string]string{".git/": "", ".git/HEAD": "mine"}},
		{"an empty folder", func(t *testing.T, d string) { require.NoError(t, os.Mkdir(filepath.Join(d, "photos"), 0o755)) },
			map[string]string{"photos/": ""}},
		{"a link", func(t *testing.T, d string) { require.NoError(t, os.Symlink("/etc", filepath.Join(d, "etc"))) },
			map[string]string{"etc": "-> /etc"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			parent := t.TempDir()
			directory := filepath.Join(parent, "deep", "site")
			require.NoError(t, publish(t.Context(), directory, former))
			assert.Equal(t, plainTree(former), tree(t, directory))
			require.NoError(t, os.Chmod(directory, 0o750))
			c.mine(t, directory)
			for range 2 {
				require.NoError(t, publish(t.Context(), directory, next))
				want := plainTree(next)
				maps.Copy(want, c.stays)
				assert.Equal(t, want, tree(t, directory))
			}
			info, err := os.Stat(directory)
			require.NoError(t, err)
			assert.Equal(t, fs.FileMode(0o750), info.Mode().Perm(), "the directory should keep its mode")
			left, err := os.ReadDir(filepath.Join(parent, "deep"))
			require.NoError(t, err)
			assert.Len(t, left, 1, "nothing should be left beside the site")
		})
	}
}

// TestPublishRefuses: where the site would take the place of something else, nothing at all changes, and the message names it.
func TestPublishRefuses(t *testing.T) {
	outside := t.TempDir()
	put(t, outside, "precious")
	link := func(t *testing.T, to string, parts ...string) {
		require.NoError(t, os.Symlink(to, filepath.Join(parts...)))
	}
	for _, c := range []struct {
		name  string
		mine  func(t *testing.T, directory string)
		says  string
		named string // instead of the directory
	}{
		{"a page of someone else", func(t *testing.T, d string) { put(t, d, "index.html") }, "index.html in %s is not from an earlier build", ""},
		{"a link in place of a file", func(t *testing.T, d string) {
			require.NoError(t, os.Mkdir(d, 0o755))
			link(t, filepath.Join(outside, "precious"), d, "app.js")
		}, "app.js in %s is not from an earlier build", ""},
		{"a folder in place of a file", func(t *testing.T, d string) { put(t, d, "app.js", "mine") }, "app.js in %s is a directory", ""},
		{"a link in place of a folder", func(t *testing.T, d string) {
			require.NoError(t, os.Mkdir(d, 0o755))
			link(t, outside, d, "licences")
		}, "licences in %s is not a directory", ""},
		{"a link in place of the directory", func(t *testing.T, d string) { link(t, outside, d) }, "is a symbolic link", ""},
		{"the same, with a slash", func(t *testing.T, d string) { link(t, outside, d) }, "is a symbolic link", "/"},
		{"a link to nowhere", func(t *testing.T, d string) { link(t, outside+"/none", d) }, "is a symbolic link", ""},
		{"a file", func(t *testing.T, d string) { put(t, d) }, "is not a directory", ""},
		{"a pipe", func(t *testing.T, d string) { require.NoError(t, syscall.Mkfifo(d, 0o600)) }, "is not a directory", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			parent := t.TempDir()
			directory := filepath.Join(parent, "site")
			c.mine(t, directory)
			names := func(directory string) (names []string) {
				require.NoError(t, filepath.WalkDir(directory, func(path string, d fs.DirEntry, err error) error {
					names = append(names, path+" "+d.Type().String())
					return err
				}))
				return names
			}
			before, beforeOutside := names(parent), tree(t, outside)
			says := c.says
			if strings.Contains(says, "%s") {
				says = fmt.Sprintf(says, directory)
			}
			assert.ErrorContains(t, publish(t.Context(), directory+c.named, siteOf("next", "licences/come.txt")), says)
			assert.Equal(t, before, names(parent), "nothing should have changed")
			assert.Equal(t, beforeOutside, tree(t, outside), "nothing should have changed where a link leads")
		})
	}
}

// TestPublishFollowsNoLink: links under names of the former site are replaced and removed themselves, not what they lead to; and a
// list that names what lies outside is not believed.
func TestPublishFollowsNoLink(t *testing.T) {
	parent := t.TempDir()
	directory := filepath.Join(parent, "site")
	put(t, parent, "precious")
	put(t, parent, "folder", "precious")
	require.NoError(t, publish(t.Context(), directory, siteOf("former", "gone.js")))
	for _, name := range []string{"index.html", "gone.js"} {
		require.NoError(t, os.Remove(filepath.Join(directory, name)))
		require.NoError(t, os.Symlink("../precious", filepath.Join(directory, name)))
	}
	require.NoError(t, os.Symlink("../folder", filepath.Join(directory, "folder")))
	worker := `const VERSION = "x";
const FILES = ["../precious", "../folder/precious", "folder/precious", "/etc/hostname", "a/../../precious", "", ".", "gone.js", ` +
		`"index.html", "app.js"];
`
	require.NoError(t, os.WriteFile(filepath.Join(directory, "sw.js"), []byte(worker), 0o644))
	next := siteOf("next")
	require.NoError(t, publish(t.Context(), directory, next))
	want := plainTree(next)
	want["folder"] = "-> ../folder"
	assert.Equal(t, want, tree(t, directory))
	assert.FileExists(t, "/etc/hostname")
	all := tree(t, parent)
	assert.Equal(t, "mine", all["precious"])
	assert.Equal(t, "mine", all["folder/precious"])
}

// TestPublishFails: a failure at any step leaves the former site and everything beside it as it was.
func TestPublishFails(t *testing.T) {
	former := siteOf("former", "gone.js")
	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	for _, mine := range []bool{false, true} {
		parent := t.TempDir()
		directory := filepath.Join(parent, "site")
		require.NoError(t, publish(t.Context(), directory, former))
		if mine {
			put(t, directory, "mine")
		}
		put(t, parent, "beside", "zz", "mine")
		before := tree(t, parent)
		long := siteOf("next", strings.Repeat("z", 300))
		assert.ErrorContains(t, publish(t.Context(), directory, long), "name too long")
		assert.Equal(t, before, tree(t, parent), "a file that cannot be written")
		assert.ErrorIs(t, publish(stopped, directory, siteOf("next")), context.Canceled)
		assert.Equal(t, before, tree(t, parent), "stopped")
		// The last rename cannot be done: those before are undone.
		require.NoError(t, os.Rename(filepath.Join(parent, "beside", "zz"), filepath.Join(directory, "zz")))
		before = tree(t, parent)
		assert.Error(t, fill(t.Context(), directory, []string{"app.js", "gone.js", "index.html", "sw.js"}, siteOf("next", "aa", "zz")))
		assert.Equal(t, before, tree(t, parent), "a file that cannot be renamed into place")
	}
}

// publishing names the directory into which a copy of this test's program publishes two sites in turn, until it is ended.
const publishing = "OHMWRIGHT_TEST_PUBLISHING"

func publishOverAndOver(directory string) int {
	ctx, stop := untilSignal()
	defer stop()
	fmt.Println("ready")
	for i := 0; ctx.Err() == nil; i++ {
		if err := publish(ctx, directory, twoSites()[i%2]); err != nil && ctx.Err() == nil {
			fmt.Fprintln(os.Stderr, err)
			return broken
		}
	}
	return done
}

func twoSites() [2]map[string][]byte {
	var names []string
	for i := range 20 {
		names = append(names, fmt.Sprintf("file-%d.js", i))
	}
	return [2]map[string][]byte{siteOf("one", names[:15]...), siteOf("two", names[5:]...)}
}

// TestPublishIsKilled kills it at any moment, in any of its steps: one of the two sites lies there whole. Ended by SIGTERM, it also
// leaves nothing beside, and what is not of the site stays.
func TestPublishIsKilled(t *testing.T) {
	for _, c := range []struct {
		by   syscall.Signal
		mine bool
	}{{syscall.SIGKILL, false}, {syscall.SIGTERM, false}, {syscall.SIGTERM, true}} {
		parent := t.TempDir()
		directory := filepath.Join(parent, "site")
		require.NoError(t, publish(t.Context(), directory, twoSites()[0]))
		if c.mine {
			put(t, directory, "mine")
		}
		seen := map[string]int{}
		for range 25 {
			p := exec.CommandContext(t.Context(), os.Args[0])
			p.Env = append(os.Environ(), publishing+"="+directory)
			p.Stderr = os.Stderr
			out, err := p.StdoutPipe()
			require.NoError(t, err)
			require.NoError(t, p.Start())
			_, err = out.Read(make([]byte, 1))
			require.NoError(t, err)
			time.Sleep(rand.N(100 * time.Millisecond))
			require.NoError(t, p.Process.Signal(c.by), "it had ended by itself")
			err = p.Wait()
			got := tree(t, directory)
			if c.by == syscall.SIGTERM {
				require.NoError(t, err)
			}
			if c.mine {
				require.Equal(t, "mine", got["mine"])
				delete(got, "mine")
			}
			word, _, _ := strings.Cut(got["index.html"], " ")
			seen[word]++
			for _, files := range twoSites() {
				if strings.HasPrefix(string(files["index.html"]), word) {
					require.Equal(t, plainTree(files), got, "%v: a mixture of two sites", c)
				}
			}
			left, err := os.ReadDir(parent)
			require.NoError(t, err)
			require.True(t, c.by == syscall.SIGKILL || len(left) == 1, "it left something beside: %v", left)
		}
		assert.Equal(t, 25, seen["one"]+seen["two"], seen)
		t.Logf("%v: %v", c, seen)
	}
}

// TestBuildHere: the directory that one works in is written, and stays the one that one works in.
func TestBuildHere(t *testing.T) {
	directory := t.TempDir()
	before, err := os.Stat(directory)
	require.NoError(t, err)
	for range 2 {
		c := start(t, "build", ".")
		c.Dir = directory
		out, err := c.CombinedOutput()
		require.NoError(t, err, "%s", out)
	}
	after, err := os.Stat(directory)
	require.NoError(t, err)
	assert.True(t, os.SameFile(before, after))
	assert.FileExists(t, filepath.Join(directory, "index.html"))
}

// TestBuildIsStopped: told to stop while it works, it changes nothing and says so, whether it writes a directory or a single file.
func TestBuildIsStopped(t *testing.T) {
	ours := make(chan os.Signal, 1)
	signal.Notify(ours, syscall.SIGTERM) // what build does not take must not end the tests
	defer signal.Stop(ours)
	for _, single := range []bool{false, true} {
		parent := t.TempDir()
		args := []string{"build", filepath.Join(parent, "site"), "--only"}
		if single {
			args = []string{"build", "--single", filepath.Join(parent, "one.html")}
		}
		require.Equal(t, done, command(args, strings.NewReader(""), io.Discard, io.Discard))
		before := tree(t, parent)
		ended, over := make(chan bool), make(chan bool)
		go func() {
			defer close(over)
			for tick := time.NewTicker(time.Millisecond); ; {
				select {
				case <-tick.C:
					_ = syscall.Kill(os.Getpid(), syscall.SIGTERM)
					<-ours // none is still on its way when the test ends
				case <-ended:
					return
				}
			}
		}()
		var out, errOut bytes.Buffer
		status := command(append(args, "--language", "de"), strings.NewReader(""), &out, &errOut)
		close(ended)
		<-over
		assert.Equal(t, broken, status, args)
		assert.Empty(t, out.String(), args)
		assert.Contains(t, errOut.String(), "stopped; nothing was changed", args)
		assert.Contains(t, errOut.String(), "Try: ohmwright build --help", args)
		assert.Equal(t, before, tree(t, parent), args)
	}
}

func TestBuildWithoutName(t *testing.T) {
	for _, name := range []string{"", "  "} {
		o := ask(t, "", "build", name)
		assert.Equal(t, broken, o.status)
		assert.Contains(t, o.err, "the directory's name is empty")
	}
}

// TestBuildWritesHeaders: hosts are told what "serve" sets; a later build replaces that, but nothing that somebody wrote or took over.
func TestBuildWritesHeaders(t *testing.T) {
	directory := t.TempDir()
	file := filepath.Join(directory, headersFile)
	read := func() string {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		return string(text)
	}
	require.Equal(t, done, ask(t, "", "build", directory).status)
	written := read()
	assert.Equal(t, string(web.Headers(site.Script())), written)
	require.NoError(t, os.WriteFile(file, []byte(web.BuildMark+"\n/*\n  Older: yes\n"), 0o644))
	require.Equal(t, done, ask(t, "", "build", directory).status)
	assert.Equal(t, written, read(), "one of an earlier build")
	_, taken, _ := strings.Cut(written, "\n")
	for _, mine := range []string{"/*\n  Mine: yes\n", taken, ""} {
		require.NoError(t, os.WriteFile(file, []byte(mine), 0o644))
		o := ask(t, "", "build", directory)
		require.Equal(t, outcome{o.out, "", done}, o)
		assert.Equal(t, mine, read())
		assert.Contains(t, o.out, "_headers is your own")
	}
	require.NoError(t, os.Remove(file))
	for _, other := range []func() error{
		func() error { return os.Symlink("mine.txt", file) },
		func() error { return syscall.Mkfifo(file, 0o600) },
		func() error { return os.Mkdir(file, 0o755) },
	} {
		require.NoError(t, other())
		before, err := os.Lstat(file)
		require.NoError(t, err)
		require.Equal(t, done, ask(t, "", "build", directory).status)
		after, err := os.Lstat(file)
		require.NoError(t, err)
		assert.True(t, os.SameFile(before, after), "%v should stay", before.Mode())
		require.NoError(t, os.Remove(file))
	}
}

// TestBuildAtAddress: with the site's address there is a sitemap, and at a host's root a robots.txt that names it; without, a later build
// takes both away, but never a robots.txt that somebody wrote or took over.
func TestBuildAtAddress(t *testing.T) {
	directory := t.TempDir()
	path := func(name string) string { return filepath.Join(directory, name) }
	build := func(args ...string) string {
		o := ask(t, "", append([]string{"build", directory}, args...)...)
		require.Equal(t, outcome{o.out, "", done}, o)
		return o.out
	}
	build("--address", "https://example.org/tools")
	assert.FileExists(t, path("sitemap.xml"))
	assert.NoFileExists(t, path(robotsFile), "search engines ask for it at the root alone")
	build("--address", "https://example.org")
	text, err := os.ReadFile(path(robotsFile))
	require.NoError(t, err)
	assert.Equal(t, web.BuildMark+"\nUser-agent: *\nAllow: /\nSitemap: https://example.org/sitemap.xml\n", string(text))
	build("--only")
	assert.NoFileExists(t, path("sitemap.xml"))
	assert.NoFileExists(t, path(robotsFile))
	assert.NoFileExists(t, path("de.html"))
	const mine = "User-agent: *\nDisallow: /\n"
	require.NoError(t, os.WriteFile(path(robotsFile), []byte(mine), 0o644))
	assert.Contains(t, build("--address", "https://example.org"), "robots.txt is your own, and stays as it is")
	build()
	text, err = os.ReadFile(path(robotsFile))
	require.NoError(t, err)
	assert.Equal(t, mine, string(text))
	for _, args := range [][]string{
		{directory, "--address", "example.org"},
		{"--single", path("one.html"), "--address", "https://example.org"},
	} {
		o := ask(t, "", append([]string{"build"}, args...)...)
		assert.Equal(t, broken, o.status, args)
		assert.Contains(t, o.err, "want ", args)
	}
}
