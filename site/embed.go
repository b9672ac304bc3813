// Package site makes what a browser gets: the page, derived from the tools' declarations, and its files.
package site

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"html/template"
	"io/fs"
	"slices"
	"strings"

	"ohmwright/core/wording"
	"ohmwright/site/pack"
)

//go:embed assets page
var sources embed.FS

// built holds the folded and packed WebAssembly module, Go's glue script for it, and scripts and style without what only a reader needs
// (small): there app.js has all that it imports in it. The Makefile puts them there before it builds a program that embeds them; without
// small a site has the scripts as they are.
//
//go:embed all:built
var built embed.FS

// Built returns the packed module and its glue script, or nil if the program was built without them.
func Built() (module, glue []byte) {
	module, err := built.ReadFile("built/ohmwright.packed")
	if err != nil {
		return nil, nil
	}
	if glue, err = built.ReadFile("built/wasm_exec.js"); err != nil {
		return nil, nil
	}
	return module, glue
}

// moduleFlags is also read by the Makefile. The flags are separated by white space, so none may contain a space.
//
//go:embed module.flags
var moduleFlags string

// ModuleFlags returns the flags of "go build" for the module. They leave out all words (the tag "page") and debug data, and inline only
// where that pays: in core/circuit, core/evidence, core/diagnosis, and the runtime with its maps. This makes the module a tenth smaller to
// transfer ("make bench" prints its size).
func ModuleFlags() []string { return strings.Fields(moduleFlags) }

// A Plan says which site is made.
type Plan struct {
	Language string // of index.html
	Only     bool   // without the other languages
	Address  string // where the site will be, as [Address] returns it; "" if that is not known
}

// Files returns all files of the site, with a page in each of [Languages]. module is the packed module.
func Files(module, glue []byte, plan Plan) (map[string][]byte, error) {
	if !slices.Contains(Languages(), plan.Language) {
		return nil, fmt.Errorf("site: no language %q; want %s", plan.Language, strings.Join(Languages(), " or "))
	}
	parts := map[string][]byte{}
	for _, name := range []string{"unpack.js", "unfold.js", "compile.js", "core.js", "sw.js"} {
		part, err := sources.ReadFile("page/" + name)
		if err != nil {
			return nil, err
		}
		parts[name] = bytes.ReplaceAll(part, []byte("export "), nil) // as they become one script
	}
	unpacking := slices.Concat(parts["unpack.js"], parts["unfold.js"])
	inFunction := func(head string, parts ...[]byte) []byte {
		return slices.Concat([]byte("function "+head+" {\n"), slices.Concat(parts...), []byte("}\n"))
	}
	files := map[string][]byte{"ohmwright.packed": module, "core.js": slices.Concat(inFunction("glue()", glue),
		inFunction("unpacking(MODULE, GLUE)", unpacking, parts["compile.js"]), parts["core.js"])}
	core, err := built.ReadFile("built/small/core.js")
	bundled := err == nil
	if _, own := Built(); bundled && bytes.Equal(glue, own) {
		files["core.js"] = core // the same, smaller
	}
	err = fs.WalkDir(sources, "assets", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name := strings.TrimPrefix(path, "assets/")
		small, notSmall := built.ReadFile("built/small/" + name)
		switch {
		case notSmall == nil:
			files[name] = small
		case bundled && strings.HasSuffix(name, ".js"):
			// app.js has it
		default:
			files[name], err = sources.ReadFile(path)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	style := files["tools.css"]
	delete(files, "tools.css")
	tongues := tonguesOf(plan)
	for _, t := range tongues {
		if err := addLanguage(files, t, tongues, style, plan.Address); err != nil {
			return nil, err
		}
	}
	about, err := addFound(files, tongues, plan.Address)
	if err != nil {
		return nil, err
	}
	if err := stamp(files, tongues, about, slices.Concat(unpacking, parts["sw.js"])); err != nil {
		return nil, err
	}
	return files, nil
}

// addLanguage adds the files of one language. What it packs is the words of the module, the style of the tools, and their forms.
func addLanguage(files map[string][]byte, t tongue, all []tongue, style []byte, address string) error {
	speak := speaker(t.Tag)
	index, forms, err := render(speak, t, all, address)
	if err != nil {
		return err
	}
	words, err := wording.NewBook(moduleRooms()...).Compiled(t.Tag)
	if err != nil {
		return err
	}
	files[t.Page], files[t.Forms] = index, pack.Bytes([]byte(strings.Join(append([]string{words, string(style)}, forms...), "\x00")))
	files[t.Manifest], err = manifest(speak, t.Tag)
	return err
}

// render returns the page, and the tools' forms, which it takes in once it is there: of each tool its name, its title, whether it takes
// part in no job, and its markup.
func render(speak *wording.Speaker, t tongue, all []tongue, address string) (index []byte, forms []string, err error) {
	pages, err := template.New("").Funcs(functions).ParseFS(sources, "page/index.html", "page/found.html")
	if err != nil {
		return nil, nil, err
	}
	content := newPage(speak, t, all)
	content.Found = whereaboutsOf(address, t, all, pageOf)
	var buffer bytes.Buffer
	if err := pages.ExecuteTemplate(&buffer, "index.html", content); err != nil {
		return nil, nil, err
	}
	index = bytes.Clone(buffer.Bytes())
	for _, form := range content.Tools {
		buffer.Reset()
		if err := pages.ExecuteTemplate(&buffer, "tool", form); err != nil {
			return nil, nil, err
		}
		jobless := ""
		if form.Jobless {
			jobless = "jobless"
		}
		forms = append(forms, form.Name, form.Speak.Say("title"), jobless, buffer.String())
	}
	return index, forms, nil
}

// manifest returns the web app manifest, which a browser needs to install the page.
func manifest(speak *wording.Speaker, language string) ([]byte, error) {
	icon := func(src, sizes, kind, purpose string) map[string]string {
		return map[string]string{"src": src, "sizes": sizes, "type": kind, "purpose": purpose}
	}
	shortcut := func(key, place string) map[string]string {
		return map[string]string{"name": speak.Say(key), "url": "./#/" + place}
	}
	return json.Marshal(map[string]any{
		"screenshots": screenshots(speak, language),
		"shortcuts": []any{ // on a long press of the icon
			shortcut("page.door.code", "code"), shortcut("page.door.winding", "winding"), shortcut("page.door.back", "torque"),
			shortcut("page.jobs", "jobs"),
		},
		"name": speak.Say("page.name"), "short_name": speak.Say("page.name"), "description": speak.Say("page.description"),
		"lang": language, "start_url": "./", "scope": "./", "display": "standalone", "background_color": "#f5f2ea", "theme_color": "#0b4a57",
		"icons": []any{
			icon("icon.svg", "any", "image/svg+xml", "any"),
			icon("icon-192.png", "192x192", "image/png", "any"),
			icon("icon-512.png", "512x512", "image/png", "any maskable"),
		},
	})
}
