package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
)

// A version of the site is whole or it is not used. Each file names the others with the version behind it ("form.js?0123456789abcdef"), so
// that no cache on the way gives an old file to a new page. The page names the hash of each script and style sheet that it loads, and
// the service worker that of every file: a browser refuses what has another.

var (
	// imported is the name of a module in an import of another.
	imported = regexp.MustCompile(`(\bfrom ?|\bimport ?|\bimport\()(['"])\./([a-z0-9-]+\.js)['"]`)
	// loaded is the name of a file that the page loads.
	loaded = regexp.MustCompile(`(src|href|data-forms)="([a-z0-9-]+\.(?:js|css|packed))"`)
	// listed is the text in place of which core.js has what it must know of the packed files.
	listed = regexp.MustCompile(`['"]packed\.list['"]`)
)

// stamp writes the version of the site, a hash of all its bytes, into the files that name others. It adds the service worker, of
// which worker is the text. parcels are what is packed, about the files that no device keeps.
func stamp(files map[string][]byte, tongues []tongue, parcels map[string]parcel, about []string, worker []byte) error {
	hash := sha256.New()
	hash.Write(worker)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(hash, "%s %d ", name, len(files[name]))
		hash.Write(files[name])
	}
	version := hex.EncodeToString(hash.Sum(nil))[:16]
	for name, content := range files {
		if path.Ext(name) == ".js" {
			files[name] = imported.ReplaceAll(content, []byte("$1$2./$3?"+version+"$2"))
		}
	}
	if err := stampCore(files, tongues, parcels, version); err != nil {
		return err
	}
	stampPages(files, tongues, about, version)
	hashes := map[string]string{}
	for name, content := range files {
		if !slices.Contains(about, name) {
			hashes[name] = integrity(content)
		}
	}
	list, err := json.Marshal(hashes)
	if err != nil {
		return err
	}
	var own [][]string // of each language its tag, then the files that are its own, the page first
	for _, t := range tongues {
		own = append(own, []string{t.Tag, t.Page, t.Forms, t.Manifest})
	}
	languages, err := json.Marshal(own)
	if err != nil {
		return err
	}
	apart, err := json.Marshal(about)
	if err != nil {
		return err
	}
	// In a block, what is cut off somewhere is no script at all, and no browser takes it.
	// ABOUT is for the next build alone, which takes away what this one wrote.
	files["sw.js"] = fmt.Appendf(nil, "const VERSION = %q;\nconst FILES = %s;\nconst LANGUAGES = %s;\nconst ABOUT = %s;\n{%s}\n",
		version, list, languages, apart, worker)
	return nil
}

// stampCore writes into core.js where the packed files are, and the page's script as a file.
func stampCore(files map[string][]byte, tongues []tongue, parcels map[string]parcel, version string) error {
	type packed struct {
		Address string `json:"address"`
		Size    int    `json:"size,omitempty"`
		Hash    string `json:"hash"`
		Parts   []part `json:"parts,omitempty"`
	}
	type source struct {
		Src       string `json:"src"`
		Integrity string `json:"integrity"`
	}
	const module = "ohmwright.packed"
	list := struct {
		Module packed            `json:"module"`
		Packed map[string]packed `json:"packed"`
		Script *source           `json:"script,omitempty"`
	}{Module: packed{module + "?" + version, len(files[module]), integrity(files[module]), nil}, Packed: map[string]packed{}}
	for _, t := range tongues {
		list.Packed[t.Tag] = packed{t.Forms + "?" + version, 0, integrity(files[t.Forms]), parcels[t.Forms].parts}
	}
	if hash := Script(); hash != "" {
		list.Script = &source{"app.js?" + version, hash}
	}
	text, err := json.Marshal(list)
	files["core.js"] = listed.ReplaceAllLiteral(files["core.js"], fmt.Appendf(nil, "(%s)", text))
	return err
}

// wasm is the end of what the page's policy lets run: the script that comes packed is added to it.
const wasm = "'wasm-unsafe-eval'"

// stampPages writes into each page the hashes of what it loads.
func stampPages(files map[string][]byte, tongues []tongue, about []string, version string) {
	pages := slices.Clone(about)
	for _, t := range tongues {
		pages = append(pages, t.Page)
		if hash := Script(); hash != "" {
			files[t.Page] = bytes.Replace(files[t.Page], []byte(wasm), fmt.Appendf(nil, "%s '%s'", wasm, hash), 1)
		}
	}
	for _, page := range pages {
		files[page] = loaded.ReplaceAllFunc(files[page], func(text []byte) []byte {
			part := loaded.FindSubmatch(text)
			name := string(part[2])
			text = fmt.Appendf(nil, `%s="%s?%s"`, part[1], name, version)
			if path.Ext(name) == ".packed" {
				return text // the script that fetches it has its hash
			}
			return fmt.Appendf(text, ` integrity="%s"`, integrity(files[name]))
		})
	}
}

// spare is what a script does without: white space before a line, and lines that are comments. No text of the scripts concerned spans
// lines, which a test holds.
var spare = regexp.MustCompile(`(?m)^[ \t]*//.*\n|^\n|^[ \t]+`)

// lean returns a script without what it can do without. It is for a worker that esbuild has not made smaller.
func lean(script []byte) []byte { return spare.ReplaceAll(script, nil) }

// integrity returns the hash of a file as a page names it (W3C, Subresource Integrity).
func integrity(content []byte) string {
	sum := sha256.Sum256(content)
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
