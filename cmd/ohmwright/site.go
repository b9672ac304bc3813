package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"maps"
	"mime"
	"net/http"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"ohmwright/cmd/internal/slim"
	"ohmwright/cmd/internal/web"
	"ohmwright/site"
	"ohmwright/site/fold"
)

// build writes the page as a static site.
func (c caller) build(args []string) int {
	set := flag.NewFlagSet("build", flag.ContinueOnError)
	language := set.String("language", "en", "")
	pseudo := set.Bool("pseudo", false, "") // for tests of the page
	single := set.Bool("single", false, "")
	only := set.Bool("only", false, "")
	address := set.String("address", "", "")
	words, status, ok := c.flags(set, buildHelp, args)
	if !ok {
		return status
	}
	plan := site.Plan{Language: *language, Only: *only}
	if *single {
		if *address != "" {
			return c.fail("build: --single and --address given; one file has no address: want one of the two")
		}
		return c.buildSingle(words, plan)
	}
	if *address != "" {
		var err error
		if plan.Address, err = site.Address(*address); err != nil {
			return c.fail("build: --address: %v", err)
		}
	}
	if len(words) != 1 {
		return c.fail("build: %d directories named; want one", len(words))
	}
	if strings.TrimSpace(words[0]) == "" {
		return c.fail("build: the directory's name is empty; want a new directory or that of an earlier build, such as public")
	}
	if *pseudo {
		site.AddPseudo()
	}
	ctx, stop := untilSignal()
	defer stop()
	files, err := assemble(ctx, plan)
	said := ""
	if err == nil {
		said = addForHost(files, words[0], plan.Address)
		err = publish(ctx, words[0], files)
	}
	if err != nil {
		return c.unchanged(ctx, "build", err, " in "+words[0])
	}
	return c.print(fmt.Sprintf("%d files in %s\n", len(files), words[0]) + said)
}

// unchanged says that a command that writes all or nothing has written nothing: it was told to stop, or could not. where is said of the
// former.
func (c caller) unchanged(ctx context.Context, command string, err error, where string) int {
	if ctx.Err() != nil {
		return c.fail("%s: stopped; nothing was changed%s", command, where)
	}
	return c.fail("%s: %v; nothing was changed", command, err)
}

// addForHost adds the files that a host's keeper may want otherwise. It says which are the keeper's own, and leaves those out.
func addForHost(files map[string][]byte, directory, address string) (said string) {
	ours := map[string][]byte{headersFile: web.Headers(site.Script())}
	if robots := site.Robots(address); robots != nil {
		ours[robotsFile] = append([]byte(web.BuildMark+"\n"), robots...)
	}
	for _, name := range slices.Sorted(maps.Keys(ours)) {
		if isOwn(filepath.Join(directory, name)) {
			said += name + " is your own, and stays as it is\n"
		} else {
			files[name] = ours[name]
		}
	}
	return said
}

// buildSingle writes the whole site into one file.
func (c caller) buildSingle(words []string, plan site.Plan) int {
	if len(words) != 1 || strings.TrimSpace(words[0]) == "" {
		return c.fail("build --single: %d files named; want one, such as ohmwright.html", len(words))
	}
	name := words[0]
	if found, err := os.Lstat(name); err == nil && !found.Mode().IsRegular() {
		return c.fail("build --single: %s is no plain file; want the name of a new file", name)
	}
	if former, err := os.ReadFile(name); err == nil && !bytes.HasPrefix(former, []byte(site.SingleMark)) {
		return c.fail("build --single: %s is not from an earlier build, and stays as it is", name)
	}
	ctx, stop := untilSignal()
	defer stop()
	files, err := assemble(ctx, plan)
	var whole []byte
	if err == nil {
		whole, err = site.Single(files)
	}
	if err == nil {
		err = replaceFile(ctx, name, whole)
	}
	if err != nil {
		return c.unchanged(ctx, "build --single", err, "")
	}
	return c.print(fmt.Sprintf("%s, %.1f MB: all of the page in one file\n", name, float64(len(whole))/1e6))
}

// replaceFile writes a file beside the one that it then takes the place of: either is whole. If the context ends before that, nothing
// is changed.
func replaceFile(ctx context.Context, name string, content []byte) error {
	stage, err := os.CreateTemp(filepath.Dir(name), ".ohmwright-*")
	if err != nil {
		return err
	}
	defer os.Remove(stage.Name())
	_, err = stage.Write(content)
	err = errors.Join(err, stage.Chmod(0o644), stage.Sync(), stage.Close(), ctx.Err()) // the disk has it before it takes the place
	if err != nil {
		return err
	}
	return os.Rename(stage.Name(), name)
}

// assemble returns the files of the site. If the program was built without the module, as by a plain "go build", it compiles the
// module, which needs Go and the sources.
func assemble(ctx context.Context, plan site.Plan) (map[string][]byte, error) {
	module, glue := site.Built()
	if module == nil {
		var err error
		if module, glue, err = compile(ctx); err != nil {
			return nil, fmt.Errorf("this program was built without the page's module, and it cannot be compiled here (%w); build with make", err)
		}
	}
	return site.Files(module, glue, plan)
}

// compile builds the page's module from the sources in the working directory, and packs it, as the Makefile does.
func compile(ctx context.Context) (module, glue []byte, err error) {
	directory, err := os.MkdirTemp("", "ohmwright")
	if err != nil {
		return nil, nil, err
	}
	defer os.RemoveAll(directory)
	output := filepath.Join(directory, "module.wasm")
	build := exec.CommandContext(ctx, "go", append(append([]string{"build"}, site.ModuleFlags()...), "-o", output, "ohmwright/wasm")...)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=-buildvcs=false", "GOEXPERIMENT=", "GOFIPS140=off", "GOWASM=")
	if text, err := build.CombinedOutput(); err != nil {
		return nil, nil, fmt.Errorf("%w: %s", err, bytes.TrimSpace(text))
	}
	root, err := exec.CommandContext(ctx, "go", "env", "GOROOT").Output()
	if err != nil {
		return nil, nil, err
	}
	if glue, err = os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")); err != nil {
		return nil, nil, err
	}
	if module, err = os.ReadFile(output); err != nil {
		return nil, nil, err
	}
	slimmer, err := slim.Module(module)
	if errors.Is(err, slim.ErrUnknown) {
		slimmer, err = module, nil // as Go made it: it answers the same and is only larger
	}
	if err != nil {
		return nil, nil, err
	}
	module, err = fold.Packed(slimmer)
	return module, glue, err
}

// An asset is a file of the page, ready to be sent.
type asset struct {
	content   []byte
	zipped    func() []byte // worked out when it is first asked for: most of a second for the module
	kind, tag string
}

// static serves the files from memory, compressed if the browser accepts that.
func static(files map[string][]byte) http.Handler {
	assets := map[string]asset{}
	for name, content := range files {
		sum := sha256.Sum256(content)
		assets["/"+name] = asset{content, sync.OnceValue(func() []byte { return zip(content) }), kindOf(name), hex.EncodeToString(sum[:8])}
	}
	assets["/"] = assets["/index.html"]
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		a, ok := assets[path.Clean(r.URL.Path)]
		if !ok {
			http.NotFound(w, r)
			return
		}
		h := w.Header()
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			h.Set("Allow", "GET, HEAD")
			w.WriteHeader(http.StatusMethodNotAllowed)
			return
		}
		h.Set("Content-Type", a.kind)
		h.Set("Cache-Control", web.Caching)
		h.Set("Vary", "Accept-Encoding")
		body, tag := a.content, a.tag
		if takesGzip(r.Header.Get("Accept-Encoding")) && r.Header.Get("Range") == "" {
			if zipped := a.zipped(); len(zipped) < len(body) {
				h.Set("Content-Encoding", "gzip")
				body, tag = zipped, a.tag+"-gzip" // each coding needs its own tag (RFC 9110, 8.8.3.3)
			}
		}
		h.Set("ETag", `"`+tag+`"`)
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
	})
}

// takesGzip reports whether an Accept-Encoding names gzip, and not with a weight of 0 (RFC 9110, 12.5.3).
func takesGzip(header string) bool {
	for _, part := range strings.Split(header, ",") {
		name, weight, _ := strings.Cut(strings.ReplaceAll(part, " ", ""), ";")
		if strings.EqualFold(name, "gzip") {
			return strings.Trim(strings.TrimPrefix(strings.ToLower(weight), "q="), "0.") != "" || weight == ""
		}
	}
	return false
}

// zip compresses a file.
func zip(content []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	_, _ = w.Write(content) // writing to memory does not fail
	_ = w.Close()
	return b.Bytes()
}

// kindOf returns a file's Content-Type.
func kindOf(name string) string {
	switch path.Ext(name) {
	case ".packed":
		return "application/octet-stream"
	case ".webmanifest":
		return "application/manifest+json"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".txt":
		return "text/plain; charset=utf-8"
	}
	return mime.TypeByExtension(path.Ext(name))
}
