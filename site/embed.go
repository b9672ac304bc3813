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
)

//go:embed assets page
var sources embed.FS

// built holds the folded and packed WebAssembly module, Go's glue script for it, and scripts and style without what only a reader needs
// (small): there app.js has all that it imports in it. The Makefile puts them there before it builds a program that embeds them; without
// small a site has the scripts as they are.
//
//go:embed all:built
var built embed.FS

// Script returns the hash of the page's script as a policy names it, if that comes packed, else "": see packed.go.
func Script() string {
	script, err := built.ReadFile("built/small/app.js")
	if err != nil {
		return ""
	}
	return integrity(script)
}

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
// where that pays: in the rooms that work circuits out and what they call of Go's library, and in the runtime and what is below it. This
// makes the module smaller to transfer ("make bench" prints its size).
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
	for _, name := range []string{"unpack.js", "unfold.js", "parts.js", "compile.js", "core.js", "sw.js"} {
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
		inFunction("unpacking(MODULE, GLUE)", unpacking, parts["parts.js"], parts["compile.js"]), parts["core.js"])}
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
	tongues := tonguesOf(plan)
	parcels, err := addLanguages(files, tongues, plan.Address)
	if err != nil {
		return nil, err
	}
	about, err := addFound(files, tongues, plan.Address)
	if err != nil {
		return nil, err
	}
	if Script() != "" {
		about = append([]string{"app.js"}, about...) // it comes packed; the file is for a host whose own policy does not let it in so
	}
	return files, stamp(files, tongues, parcels, about, workerOf(unpacking, parts["sw.js"]))
}

// workerOf returns the text of the service worker, without what only a reader needs.
func workerOf(parts ...[]byte) []byte {
	if small, err := built.ReadFile("built/small/sw.js"); err == nil {
		return small
	}
	return lean(slices.Concat(parts...))
}

// addLanguages adds the files of each language, and returns what is packed by its file's name.
func addLanguages(files map[string][]byte, tongues []tongue, address string) (map[string]parcel, error) {
	style := files["tools.css"]
	delete(files, "tools.css")
	script, _ := built.ReadFile("built/small/app.js") // if there is none, the page names its scripts
	parcels := map[string]parcel{}
	for _, t := range tongues {
		speak := speaker(t.Tag)
		index, forms, err := render(speak, t, tongues, address)
		if err != nil {
			return nil, err
		}
		words, err := wording.NewBook(moduleRooms()...).Compiled(t.Tag)
		if err != nil {
			return nil, err
		}
		parcels[t.Forms] = parcelOf(string(script), dressing(style, forms), columns(words))
		files[t.Page], files[t.Forms] = index, parcels[t.Forms].content
		if files[t.Manifest], err = manifest(speak, t.Tag); err != nil {
			return nil, err
		}
	}
	return parcels, nil
}

// render returns the page, and the tools' forms with their markup, which the page takes in once it is there.
func render(speak *wording.Speaker, t tongue, all []tongue, address string) (index []byte, forms []form, err error) {
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
	for i, form := range content.Tools {
		buffer.Reset()
		if err := pages.ExecuteTemplate(&buffer, "tool", form); err != nil {
			return nil, nil, err
		}
		content.Tools[i].Markup = buffer.String()
	}
	return index, content.Tools, nil
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
