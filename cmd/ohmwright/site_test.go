package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/cmd/internal/web"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/site"
)

var (
	filesOf   = regexp.MustCompile(`(?m)^const FILES = ({.*});$`)
	versionOf = regexp.MustCompile(`(?m)^const VERSION = "([0-9a-f]{16})";$`)
)

// version reads the version that a service worker holds.
func version(t *testing.T, worker []byte) string {
	t.Helper()
	m := versionOf.FindSubmatch(worker)
	require.NotNil(t, m, "sw.js holds no version")
	return string(m[1])
}

// TestCompiledAsByMake compares the module that a program without one compiles with the one that make has put into this program.
func TestCompiledAsByMake(t *testing.T) {
	made, madeGlue := site.Built()
	require.NotNil(t, made, "make build has put no module here")
	module, glue, err := compile(t.Context())
	require.NoError(t, err)
	assert.True(t, bytes.Equal(made, module), "%d bytes, and by make %d", len(module), len(made))
	assert.True(t, bytes.Equal(madeGlue, glue), "the glue")
}

func TestBuild(t *testing.T) {
	directory := filepath.Join(t.TempDir(), "deep", "site")
	o := ask(t, "", "build", directory)
	require.Equal(t, outcome{o.out, "", done}, o)
	entries, err := os.ReadDir(directory)
	require.NoError(t, err)
	assert.Equal(t, fmt.Sprintf("%d files in %s\n", len(entries), directory), o.out)

	worker, err := os.ReadFile(filepath.Join(directory, "sw.js"))
	require.NoError(t, err)
	version(t, worker)
	m := filesOf.FindSubmatch(worker)
	require.NotNil(t, m, "sw.js lists no files")
	var hashes map[string]string
	var there []string
	require.NoError(t, json.Unmarshal(m[1], &hashes))
	about := regexp.MustCompile(`(?m)^const ABOUT = (.*);$`).FindSubmatch(worker)
	require.NotNil(t, about, "sw.js does not say which files no device keeps")
	var apart []string
	require.NoError(t, json.Unmarshal(about[1], &apart))
	for _, e := range entries {
		if slices.Contains(apart, e.Name()) {
			continue
		}
		if e.Name() != "sw.js" && e.Name() != headersFile { // which hosts do not give out
			there = append(there, e.Name())
		}
	}
	assert.ElementsMatch(t, there, slices.Collect(maps.Keys(hashes)))
	assert.Subset(t, there, []string{"index.html", "ohmwright.packed", "manifest.webmanifest"})
	module, err := os.ReadFile(filepath.Join(directory, "ohmwright.packed"))
	require.NoError(t, err)
	assert.Greater(t, binary.LittleEndian.Uint64(module[5:]), uint64(4*len(module)), "no packed module")

	// Every file that a page asks for is there.
	page, err := os.ReadFile(filepath.Join(directory, "index.html"))
	require.NoError(t, err)
	asked := regexp.MustCompile(`(?:src|href)="([^"#][^"]*)"`).FindAllSubmatch(page, -1)
	require.NotEmpty(t, asked)
	for _, a := range asked {
		name, _, _ := strings.Cut(string(a[1]), "?")
		assert.FileExists(t, filepath.Join(directory, name))
	}

	// A second time replaces the same files by the same bytes, and leaves others alone.
	mine := filepath.Join(directory, "mine.txt")
	require.NoError(t, os.WriteFile(mine, []byte("x"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(directory, "index.html"), nil, 0o600))
	require.Equal(t, done, ask(t, "", "build", directory).status)
	assert.FileExists(t, mine)
	again, err := os.ReadFile(filepath.Join(directory, "index.html"))
	require.NoError(t, err)
	assert.Equal(t, page, again)
	workerAgain, err := os.ReadFile(filepath.Join(directory, "sw.js"))
	require.NoError(t, err)
	assert.Equal(t, worker, workerAgain)
}

func TestVersionIsOfEveryByte(t *testing.T) {
	of := func(module, glue string) string {
		files, err := site.Files([]byte(module), []byte(glue), site.Plan{Language: "en"})
		require.NoError(t, err)
		return version(t, files["sw.js"])
	}
	seen := map[string]string{}
	for _, c := range [][2]string{
		{"module", "glue"}, {"modulf", "glue"}, {"Module", "glue"}, {"module ", "glue"}, {"module", "glud"}, {"moduleg", "lue"}, {"", ""},
	} {
		v := of(c[0], c[1])
		assert.Equal(t, v, of(c[0], c[1]), "the same bytes have one version")
		assert.Empty(t, seen[v], "%q has the version of %q", c, seen[v])
		seen[v] = fmt.Sprint(c)
	}
}

// A server is a running "ohmwright serve".
type server struct {
	conversation
	base string
}

func serve(t *testing.T) server {
	t.Helper()
	s := server{conversation: converse(t, "serve", "--address", "127.0.0.1:0")}
	t.Cleanup(func() { _ = s.command.Process.Kill() })
	line, err := s.out.ReadString('\n')
	require.NoError(t, err, s.err)
	m := regexp.MustCompile(`^Ohmwright is at (http://127\.0\.0\.1:\d+)\n$`).FindStringSubmatch(line)
	require.NotNil(t, m, line)
	s.base = m[1]
	return s
}

// plain neither unpacks nor follows.
var plain = http.Client{
	Timeout:       patience,
	Transport:     &http.Transport{DisableCompression: true},
	CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
}

// do asks the server; head is "Name: value".
func (s server) do(t *testing.T, method, path, body string, head ...string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequest(method, s.base+path, strings.NewReader(body))
	require.NoError(t, err)
	for _, h := range head {
		name, value, _ := strings.Cut(h, ": ")
		r.Header.Set(name, value)
	}
	got, err := plain.Do(r)
	require.NoError(t, err)
	defer got.Body.Close()
	content, err := io.ReadAll(got.Body)
	require.NoError(t, err)
	for _, name := range []string{"Content-Security-Policy", "X-Content-Type-Options", "Referrer-Policy", "Cross-Origin-Opener-Policy"} {
		assert.NotEmpty(t, got.Header.Get(name), "%s %s: %s", method, path, name)
	}
	assert.Empty(t, got.Header.Get("Set-Cookie"), "%s %s: no cookies", method, path)
	return got, string(content)
}

// TestServe asks one server for everything; the last part stops it.
func TestServe(t *testing.T) {
	s := serve(t)
	for _, part := range []struct {
		name string
		hold func(*testing.T, server)
	}{
		{"files", servesFiles},
		{"page", servesPage},
		{"tag", servesTag},
		{"piece", servesPiece},
		{"gzip refused", servesGzipRefused},
		{"tag of a coding", servesTagOfCoding},
		{"only GET and HEAD of a file", servesMethods},
		{"API", servesAPI},
		{"example of the help", servesHelp},
		{"paths that lead out", servesPathsOut},
		{"port in use", servesPortInUse},
		{"stops", servesStops},
	} {
		t.Run(part.name, func(t *testing.T) { part.hold(t, s) })
	}
}

// servesFiles: every file should come whole, with its type, plain and compressed.
func servesFiles(t *testing.T, s server) {
	directory := t.TempDir()
	require.Equal(t, done, ask(t, "", "build", directory).status, "build")
	kinds := map[string]string{
		".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8",
		".packed": "application/octet-stream", ".webmanifest": "application/manifest+json", ".svg": "image/svg+xml", ".png": "image/png",
	}
	entries, err := os.ReadDir(directory)
	require.NoError(t, err)
	kinds[".txt"], kinds[".webp"] = "text/plain; charset=utf-8", "image/webp"
	got, _ := s.do(t, "GET", "/"+headersFile, "")
	assert.Equal(t, 404, got.StatusCode, "it is for hosts, not for browsers")
	for _, e := range entries {
		if e.Name() == headersFile {
			continue
		}
		want, err := os.ReadFile(filepath.Join(directory, e.Name()))
		require.NoError(t, err)
		kind := kinds[filepath.Ext(e.Name())]
		require.NotEmpty(t, kind, e.Name())

		got, body := s.do(t, "GET", "/"+e.Name(), "")
		assert.Equal(t, 200, got.StatusCode, e.Name())
		assert.Equal(t, kind, got.Header.Get("Content-Type"), e.Name())
		assert.Equal(t, "no-cache", got.Header.Get("Cache-Control"), e.Name())
		assert.Empty(t, got.Header.Get("Content-Encoding"), "%s: nothing compressed was asked for", e.Name())
		assert.True(t, string(want) == body, "%s differs", e.Name())

		got, body = s.do(t, "GET", "/"+e.Name(), "", "Accept-Encoding: br, gzip")
		assert.Equal(t, kind, got.Header.Get("Content-Type"), e.Name())
		assert.Equal(t, "Accept-Encoding", got.Header.Get("Vary"), e.Name())
		if got.Header.Get("Content-Encoding") == "gzip" {
			assert.Less(t, len(body), len(want), "%s should be smaller when compressed", e.Name())
			z, err := gzip.NewReader(strings.NewReader(body))
			require.NoError(t, err)
			unpacked, err := io.ReadAll(z)
			require.NoError(t, err)
			body = string(unpacked)
		} else {
			assert.Contains(t, ".png .webp .packed", filepath.Ext(e.Name()), "%s is not compressed", e.Name())
		}
		assert.True(t, string(want) == body, "%s differs, compressed", e.Name())
	}
}

// servesPage: the page should come under the root as well, and by HEAD without its bytes.
func servesPage(t *testing.T, s server) {
	got, body := s.do(t, "GET", "/", "")
	assert.Equal(t, "text/html; charset=utf-8", got.Header.Get("Content-Type"))
	_, index := s.do(t, "GET", "/index.html", "")
	assert.Equal(t, index, body)
	got, body = s.do(t, "HEAD", "/", "")
	assert.Equal(t, 200, got.StatusCode)
	assert.Equal(t, int64(len(index)), got.ContentLength)
	assert.Empty(t, body)
}

// servesTag: a file that has not changed should not be sent again.
func servesTag(t *testing.T, s server) {
	first, _ := s.do(t, "GET", "/style.css", "")
	tag := first.Header.Get("ETag")
	require.Regexp(t, `^"[0-9a-f-]+"$`, tag)
	for _, head := range []string{tag, `"other", ` + tag, "*"} {
		got, body := s.do(t, "GET", "/style.css", "", "If-None-Match: "+head)
		assert.Equal(t, 304, got.StatusCode, head)
		assert.Empty(t, body)
	}
	got, body := s.do(t, "GET", "/style.css", "", `If-None-Match: "other"`)
	assert.Equal(t, 200, got.StatusCode)
	assert.NotEmpty(t, body)
	other, _ := s.do(t, "GET", "/app.js", "")
	assert.NotEqual(t, tag, other.Header.Get("ETag"))
}

// servesPiece: a piece should be the piece of the plain file.
func servesPiece(t *testing.T, s server) {
	_, whole := s.do(t, "GET", "/style.css", "")
	got, body := s.do(t, "GET", "/style.css", "", "Range: bytes=5-14", "Accept-Encoding: gzip")
	assert.Equal(t, 206, got.StatusCode)
	assert.Equal(t, whole[5:15], body)
}

// servesGzipRefused: RFC 9110, 12.5.3: a coding of weight 0 is not acceptable.
func servesGzipRefused(t *testing.T, s server) {
	got, _ := s.do(t, "GET", "/style.css", "", "Accept-Encoding: gzip;q=0")
	assert.Empty(t, got.Header.Get("Content-Encoding"))
}

// servesTagOfCoding: RFC 9110, 8.8.3.3: a strong tag is of one coding. A download broken off in gzip would be continued in plain bytes.
func servesTagOfCoding(t *testing.T, s server) {
	packed, _ := s.do(t, "GET", "/style.css", "", "Accept-Encoding: gzip")
	got, _ := s.do(t, "GET", "/style.css", "", "Range: bytes=5-14", "If-Range: "+packed.Header.Get("ETag"))
	assert.Equal(t, 200, got.StatusCode, "a piece in another coding, under the same tag")
}

// servesMethods: a file should be read only.
func servesMethods(t *testing.T, s server) {
	for _, method := range []string{"POST", "PUT", "DELETE"} {
		got, _ := s.do(t, method, "/", "")
		assert.Equal(t, 405, got.StatusCode, method)
		assert.Equal(t, "GET, HEAD", got.Header.Get("Allow"), method)
	}
}

// servesAPI: the tools should answer as on the command line.
func servesAPI(t *testing.T, s server) {
	for _, tl := range tools.All {
		got, body := s.do(t, "POST", "/v1/"+tl.Name, tl.Example)
		assert.Equal(t, 200, got.StatusCode, "POST /v1/%s: its example should be answered", tl.Name)
		assert.Equal(t, ask(t, tl.Example, "run", tl.Name).out, body, "POST /v1/%s: the answer should be that of the command line", tl.Name)
	}
	got, body := s.do(t, "POST", "/v1/winding", "{}")
	assert.Equal(t, 422, got.StatusCode, "POST /v1/winding {} should be refused")
	assert.Equal(t, ask(t, "{}", "run", "winding").out, body, "POST /v1/winding {} should be refused as on the command line")
	got, _ = s.do(t, "DELETE", "/v1/winding", "")
	assert.Equal(t, 405, got.StatusCode, "DELETE /v1/winding")
	assert.Equal(t, "GET, HEAD, POST", got.Header.Get("Allow"), "DELETE /v1/winding")
	got, _ = s.do(t, "POST", "/v1/winding", strings.Repeat(" ", tool.MaxRequest+1))
	assert.Equal(t, 413, got.StatusCode, "POST /v1/winding: more bytes than a request may have")
	got, _ = s.do(t, "POST", "/v1/anvil", "{}")
	assert.Equal(t, 404, got.StatusCode, "POST /v1/anvil: there is no such tool")
}

// servesHelp: what the help shows should work, sent as curl sends it.
func servesHelp(t *testing.T, s server) {
	m := posted.FindStringSubmatch(ask(t, "", "serve", "--help").out)
	require.NotNil(t, m)
	// as curl sends it
	got, body := s.do(t, "POST", m[2], m[1], "Content-Type: application/x-www-form-urlencoded")
	assert.Equal(t, 200, got.StatusCode)
	assert.True(t, parse(t, body).OK, "the example of \"serve --help\" should be answered: %s", body)
}

// servesPathsOut: no path should lead out of the site, or to another host.
func servesPathsOut(t *testing.T, s server) {
	host := strings.TrimPrefix(s.base, "http://")
	for _, path := range []string{
		"/../../../../etc/passwd", "/..%2f..%2f..%2fetc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "//etc/passwd", "/style.css/../../go.mod",
		"/./../site.go", `/..\..\go.mod`, "/style.css%00", "/etc/passwd", "/v1/../../go.mod",
		"/go.mod", "/sw.js/", "/.",
	} {
		c, err := net.Dial("tcp", host)
		require.NoError(t, err)
		require.NoError(t, c.SetDeadline(time.Now().Add(patience)))
		fmt.Fprintf(c, "GET %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n\r\n", path, host)
		got, err := http.ReadResponse(bufio.NewReader(c), nil)
		require.NoError(t, err, path)
		body, err := io.ReadAll(got.Body)
		require.NoError(t, err)
		c.Close()
		assert.NotContains(t, string(body), "root:", path)
		assert.NotContains(t, string(body), "module ohmwright", path)
		switch {
		case got.StatusCode == 301 || got.StatusCode == 307:
			to, err := url.Parse(got.Header.Get("Location"))
			require.NoError(t, err)
			assert.Empty(t, to.Host, "%s leads to another host: %s", path, to)
		case path == "/.":
			assert.Equal(t, 200, got.StatusCode, path)
		case path == "/sw.js/": // the same file
			assert.Contains(t, []int{200, 404}, got.StatusCode, path)
		default:
			assert.Contains(t, []int{400, 404}, got.StatusCode, path)
		}
	}
}

// servesPortInUse: a port that is taken should be told.
func servesPortInUse(t *testing.T, s server) {
	o := ask(t, "", "serve", "--address", strings.TrimPrefix(s.base, "http://"))
	assert.Equal(t, broken, o.status)
	assert.Empty(t, o.out)
	assert.Contains(t, o.err, "address already in use")
}

// servesStops: an interrupt should end the server, and nothing asked should have been said.
func servesStops(t *testing.T, s server) {
	require.NoError(t, s.command.Process.Signal(os.Interrupt))
	assert.Equal(t, done, statusOfRun(t, s.command.Wait()))
	assert.Empty(t, s.err.String(), "it said something of what was asked")
	_, err := net.Dial("tcp", strings.TrimPrefix(s.base, "http://"))
	assert.Error(t, err)
}

// TestPolicyStandsOnce holds that the page's own policy is that of the handler: any host may serve the page.
func TestPolicyStandsOnce(t *testing.T) {
	files, err := site.Files([]byte("module"), []byte("glue"), site.Plan{Language: "en"})
	require.NoError(t, err)
	assert.Contains(t, string(files["index.html"]), `content="`+web.Policy(site.Script())+`"`)
}
