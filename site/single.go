package site

import (
	"encoding/base64"
	"errors"
	"fmt"
	"html"
	"regexp"
	"strings"
)

// SingleMark is what a site in one file begins with.
const SingleMark = "<!doctype html><!-- ohmwright, all in one file -->\n"

// What stands in the page of a site and stands otherwise in its one file.
var (
	script  = regexp.MustCompile(`<script src="([a-z]+\.js)[^>]*></script>\n`)
	style   = regexp.MustCompile(`<link rel="stylesheet"[^>]*>\n`)
	other   = regexp.MustCompile(`<(?:link rel="(?:preload|manifest|apple-touch-icon)"|meta name="page")[^>]*>\n`)
	tongues = regexp.MustCompile(`(?s)<fieldset class="look languages">.*?</fieldset>\n`) // it has one language
	icon    = regexp.MustCompile(`<link rel="icon"[^>]*>`)
	policy  = regexp.MustCompile(`(http-equiv="Content-Security-Policy" content=")[^"]*"`)
	terms   = regexp.MustCompile(`<p class="links"><a href="[a-z-]+\.html">.*?</a>\s*<a href="licences\.txt">(.*?)</a></p>`)
)

// inside gives a script of the page the bytes of a file that stands in it.
const inside = `globalThis.ohmwrightInside = async (address) => {
  const at = document.getElementById('inside-' + address.split('?')[0]);
  const text = atob(at.textContent);
  at.remove();
  return new Response(Uint8Array.from(text, (c) => c.charCodeAt(0)));
};`

// Single returns a whole site as one HTML file, which runs from a stick, without a server or a network. files are those of [Files].
func Single(files map[string][]byte) ([]byte, error) {
	if Script() == "" {
		return nil, errors.New("site: one file wants the scripts in one; build with make")
	}
	page := string(files["index.html"])
	hashes := []string{"'" + Script() + "'"}
	inline := func(kind, text string) string {
		text = strings.NewReplacer("</script", `<\/script`, "<!--", `<\!--`).Replace(text)
		hashes = append(hashes, "'"+integrity([]byte(text))+"'")
		return "<script" + kind + ">" + text + "</script>\n"
	}
	page = script.ReplaceAllStringFunc(page, func(tag string) string {
		if script.FindStringSubmatch(tag)[1] == "look.js" {
			return inline("", inside) + inline("", string(files["look.js"]))
		}
		return "" // these come last, once the files are there
	})
	css := string(files["style.css"])
	page = style.ReplaceAllLiteralString(page, "<style>"+css+"</style>\n")
	page = tongues.ReplaceAllLiteralString(other.ReplaceAllLiteralString(page, ""), "")
	picture := "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(files["icon.svg"])
	page = icon.ReplaceAllLiteralString(page, `<link rel="icon" href="`+picture+`" type="image/svg+xml">`)
	page = terms.ReplaceAllStringFunc(page, func(line string) string {
		return "<details><summary>" + terms.FindStringSubmatch(line)[1] + "</summary><pre>" +
			html.EscapeString(string(files["licences.txt"])) + "</pre></details>"
	})
	var last strings.Builder
	for _, name := range []string{"forms.packed", "ohmwright.packed"} {
		text := base64.StdEncoding.EncodeToString(files[name])
		fmt.Fprintf(&last, "<script type=\"application/octet-stream\" id=\"inside-%s\">%s</script>\n", name, text)
	}
	last.WriteString(inline(` type="module"`, string(files["core.js"])))
	page = strings.Replace(page, "</body>", last.String()+"</body>", 1)
	allowed := "default-src 'none'; script-src 'wasm-unsafe-eval' " + strings.Join(hashes, " ") + "; style-src '" + integrity([]byte(css)) +
		"'; img-src data: blob: 'self'; worker-src blob:; base-uri 'none'; form-action 'none'"
	page = policy.ReplaceAllString(page, "${1}"+allowed+`"`)
	return []byte(SingleMark + strings.TrimPrefix(page, "<!doctype html>\n")), nil
}
