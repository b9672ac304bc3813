package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/testdata"
)

// script is the hash of a page's script, as a policy names it.
const script = "sha256-AAAA"

// files takes the place of the files of the site.
var files = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/x-file")
	fmt.Fprintf(w, "%s %s", r.Method, r.URL.Path)
})

// ask sends a request to the handler, and checks the headers that every response has.
func ask(t *testing.T, method, path string, body io.Reader) *httptest.ResponseRecorder {
	t.Helper()
	w := httptest.NewRecorder()
	Handler(files, script).ServeHTTP(w, httptest.NewRequest(method, path, body))
	h := w.Header()
	assert.Equal(t, Policy(script)+"; frame-ancestors 'none'", h.Get("Content-Security-Policy"))
	assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"))
	assert.Equal(t, "no-referrer", h.Get("Referrer-Policy"))
	assert.Equal(t, "same-origin", h.Get("Cross-Origin-Opener-Policy"))
	assert.Equal(t, "same-origin", h.Get("Cross-Origin-Resource-Policy"))
	assert.Equal(t, "DENY", h.Get("X-Frame-Options"))
	assert.Empty(t, h.Values("Set-Cookie"))
	return w
}

// refusal returns the faults of a refused request.
func refusal(t *testing.T, w *httptest.ResponseRecorder) (codes []string) {
	t.Helper()
	var f tool.Failure
	require.NoError(t, json.Unmarshal(w.Body.Bytes(), &f))
	assert.False(t, f.OK)
	require.NotEmpty(t, f.Errors)
	for _, e := range f.Errors {
		assert.NotEmpty(t, e.Message)
		codes = append(codes, strings.TrimSpace(e.Field+" "+string(e.Code)))
	}
	return codes
}

func TestPolicyHasNoHoles(t *testing.T) {
	policy := Policy(script)
	assert.True(t, strings.HasPrefix(policy, "default-src 'none';"))
	const workers = "worker-src 'self' blob:;" // a script that makes one is itself let in by the policy
	assert.Contains(t, policy, workers)
	for _, hole := range []string{"unsafe-inline", "'unsafe-eval'", "*", "http", "data:", "blob:"} {
		assert.NotContains(t, strings.Replace(policy, workers, "", 1), hole)
	}
}

// TestHeadersAreThoseOfEveryAnswer reads the file for hosts as they do, and holds it against an answer.
func TestHeadersAreThoseOfEveryAnswer(t *testing.T) {
	lines := strings.Split(strings.TrimSuffix(string(Headers(script)), "\n"), "\n")
	require.Equal(t, []string{BuildMark, "/*"}, lines[:2], "a comment, and then what holds for every file")
	got := http.Header{}
	for _, line := range lines[2:] {
		name, value, ok := strings.Cut(strings.TrimPrefix(line, "  "), ": ")
		require.True(t, ok && line[:2] == "  " && len(line) < 2000, line)
		got.Add(name, value)
	}
	want := http.Header{"Cache-Control": {"no-cache"}}
	answer := httptest.NewRecorder()
	Handler(http.NotFoundHandler(), script).ServeHTTP(answer, httptest.NewRequest(http.MethodGet, "/v1", nil))
	for _, name := range []string{
		"Content-Security-Policy", "X-Content-Type-Options", "Referrer-Policy", "X-Frame-Options", "Cross-Origin-Opener-Policy",
		"Cross-Origin-Resource-Policy",
	} {
		want[name] = answer.Header()[name]
	}
	assert.Equal(t, want, got)
	assert.Contains(t, got.Get("Content-Security-Policy"), "frame-ancestors 'none'")
}

func TestRun(t *testing.T) {
	const good = `{"reading": "9.7 ohm", "at": "24 degC"}`
	for _, c := range []struct {
		name, tool, body string
		status           int
		codes            string
	}{
		{"answered", "winding", good, 200, ""},
		{"64 KiB", "winding", good + strings.Repeat(" ", tool.MaxRequest-len(good)), 200, ""},
		{"a byte more", "winding", good + strings.Repeat(" ", tool.MaxRequest-len(good)+1), 413, "range"},
		{"far more", "winding", strings.Repeat("9", 10<<20), 413, "range"},
		{"refused", "winding", `{"reading": "12 V", "known_good": {"reading": "9 ohm"}, "colour": "red"}`, 422,
			"reading unit|known_good.at missing|colour unknown"},
		{"nothing", "winding", "", 422, "syntax"},
		{"broken", "winding", "{", 422, "syntax"},
		{"no text", "winding", "\xff\xfe\x00", 422, "syntax"},
		{"unknown tool", "anvil", good, 404, "tool unknown"},
		{"unknown tool, far more", "anvil", strings.Repeat("9", 10<<20), 404, "tool unknown"},
		{"escaped name", "win%64ing", good, 200, ""},
		{"name with a slash", "winding%2fmore", good, 404, "tool unknown"},
		{"long name", strings.Repeat("a", 10000), good, 404, "tool unknown"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := ask(t, "POST", "/v1/"+c.tool, strings.NewReader(c.body))
			assert.Equal(t, c.status, w.Code)
			assert.Equal(t, "application/json; charset=utf-8", w.Header().Get("Content-Type"))
			assert.Equal(t, "no-store", w.Header().Get("Cache-Control"))
			assert.True(t, strings.HasSuffix(w.Body.String(), "}\n"))
			assert.Less(t, w.Body.Len(), 1<<16)
			if c.codes == "" {
				var s struct{ OK bool }
				require.NoError(t, json.Unmarshal(w.Body.Bytes(), &s))
				assert.True(t, s.OK)
				return
			}
			got := refusal(t, w)
			if c.status == 404 {
				assert.Equal(t, []string{"unknown"}, []string{strings.TrimPrefix(got[0], "tool ")})
				return
			}
			assert.ElementsMatch(t, strings.Split(c.codes, "|"), got)
		})
	}
}

func TestExamplesAnswerAsTheCoreDoes(t *testing.T) {
	for _, tl := range tools.All {
		want, err := tools.Run(tl.Name, []byte(tl.Example), tools.English())
		require.NoError(t, err)
		w := ask(t, "POST", "/v1/"+tl.Name, strings.NewReader(tl.Example))
		assert.Equal(t, 200, w.Code)
		assert.Equal(t, string(want)+"\n", w.Body.String())
	}
}

func TestVectors(t *testing.T) {
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	for _, v := range vectors {
		w := ask(t, "POST", "/v1/"+v.In.Tool, strings.NewReader(string(v.In.Request)))
		if len(v.In.Request) > tool.MaxRequest { // refused here, even if the tool accepts longer files elsewhere
			assert.Equal(t, 413, w.Code, v.ID)
			assert.Equal(t, []string{"range"}, refusal(t, w), v.ID)
			continue
		}
		assert.NoError(t, v.Check(w.Body.Bytes()))
		_, known := tools.Named(v.In.Tool)
		switch {
		case !known:
			assert.Equal(t, 404, w.Code, v.ID)
		case v.WantError != nil:
			assert.Equal(t, 422, w.Code, v.ID)
		default:
			assert.Equal(t, 200, w.Code, v.ID)
		}
	}
	t.Logf("%d vectors", len(vectors))
}

func TestListsAndDescribes(t *testing.T) {
	var list []struct{ Tool string }
	menu := ask(t, "GET", "/v1", nil).Body.Bytes()
	require.NoError(t, json.Unmarshal(menu, &list))
	assert.Equal(t, string(tools.Menu(tools.English()))+"\n", string(menu))
	assert.Len(t, list, len(tools.All))
	for _, l := range list {
		w := ask(t, "GET", "/v1/"+l.Tool, nil)
		assert.Equal(t, 200, w.Code)
		var d map[string]any
		require.NoError(t, json.Unmarshal(w.Body.Bytes(), &d))
		assert.Equal(t, l.Tool, d["tool"])
		assert.NotEmpty(t, d["request"])
		assert.NotEmpty(t, d["result"])
	}
	for _, path := range []string{"/v1/anvil", "/v1/", "/v1/winding/more", "/v1/winding/"} {
		w := ask(t, "GET", path, nil)
		assert.Equal(t, 404, w.Code, path)
		assert.Contains(t, refusal(t, w)[0], "unknown", path)
	}
}

func TestThousandsOfFaults(t *testing.T) {
	request := "{" + strings.Repeat(`"x":1,`, 10000) + `"x":1}`
	require.Less(t, len(request), tool.MaxRequest)
	w := ask(t, "POST", "/v1/circuit", strings.NewReader(request))
	assert.Equal(t, 422, w.Code)
	assert.LessOrEqual(t, w.Body.Len(), tool.MaxRequest)
}

func TestOtherMethods(t *testing.T) {
	for _, method := range []string{"PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "BREW"} {
		for _, path := range []string{"/v1/winding", "/v1/anvil", "/v1/winding/more"} {
			w := ask(t, method, path, nil)
			assert.Equal(t, 405, w.Code, "%s %s", method, path)
			assert.Equal(t, "GET, HEAD, POST", w.Header().Get("Allow"))
			assert.Equal(t, []string{"unknown"}, refusal(t, w))
			assert.Contains(t, w.Body.String(), "POST a request to /v1/TOOL")
		}
	}
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS"} { // the list is only read: nobody is sent to another address
		w := ask(t, method, "/v1", strings.NewReader("{}"))
		assert.Equal(t, 405, w.Code, "%s /v1", method)
		assert.Equal(t, "GET, HEAD", w.Header().Get("Allow"), "%s /v1", method)
		assert.Equal(t, []string{"unknown"}, refusal(t, w), "%s /v1", method)
	}
	for _, path := range []string{"/v1", "/v1/winding"} {
		assert.Equal(t, 200, ask(t, "HEAD", path, nil).Code, path)
	}
}

func TestEverythingElseIsAFile(t *testing.T) {
	for _, path := range []string{"/", "/ohmwright.wasm", "/v2", "/v1x", "/V1/winding"} {
		w := ask(t, "GET", path, nil)
		assert.Equal(t, "GET "+path, w.Body.String())
		assert.Equal(t, "text/x-file", w.Header().Get("Content-Type"))
	}
}

// halting is a body that fails after its first bytes.
type halting struct {
	read bool
	with error
}

func (h *halting) Read(b []byte) (int, error) {
	if h.read {
		return 0, h.with
	}
	h.read = true
	return copy(b, `{"reading"`), nil
}

func TestBodyBreaksOff(t *testing.T) {
	for status, with := range map[int]error{400: errors.New("line dropped"), 408: os.ErrDeadlineExceeded} {
		w := ask(t, "POST", "/v1/winding", &halting{with: with})
		assert.Equal(t, status, w.Code)
		assert.Equal(t, []string{"syntax"}, refusal(t, w))
	}
}

// counting is an endless body that counts how much is read.
type counting struct{ read int }

func (c *counting) Read(b []byte) (int, error) {
	c.read += len(b)
	return len(b), nil
}

func TestEndlessBodyIsNotReadOn(t *testing.T) {
	body := &counting{}
	w := ask(t, "POST", "/v1/winding", body)
	assert.Equal(t, 413, w.Code)
	assert.LessOrEqual(t, body.read, tool.MaxRequest+1)
	unread := &counting{}
	assert.Equal(t, 404, ask(t, "POST", "/v1/anvil", unread).Code)
	assert.Zero(t, unread.read)
}

func TestProgramAtFault(t *testing.T) {
	all := tools.All
	defer func() { tools.All = all }()
	tools.All = append([]*tool.Tool{{Name: "spoilt"}}, all...) // has no functions: running it panics
	w := ask(t, "POST", "/v1/spoilt", strings.NewReader("{}"))
	assert.Equal(t, 500, w.Code)
	assert.Equal(t, []string{"program"}, refusal(t, w))
	assert.Equal(t, 200, ask(t, "POST", "/v1/winding", strings.NewReader(all[0].Example)).Code)
}

func TestManyAtOnce(t *testing.T) {
	handler := Handler(files, script)
	var group sync.WaitGroup
	for i := range 32 {
		group.Go(func() {
			w := httptest.NewRecorder()
			body := fmt.Sprintf(`{"reading": "%d ohm", "at": "20 degC"}`, i+5)
			handler.ServeHTTP(w, httptest.NewRequest("POST", "/v1/winding", strings.NewReader(body)))
			var got struct {
				Result struct{ Winding struct{ Value float64 } }
			}
			assert.NoError(t, json.Unmarshal(w.Body.Bytes(), &got))
			assert.Equal(t, float64(i+5), got.Result.Winding.Value)
		})
	}
	group.Wait()
}
