package site

import (
	"embed"

	"ohmwright/core/wording"
)

// shots are pictures of the page, which site/test/pictures.mjs takes of it: of each form one in each language.
//
//go:embed pictures
var shots embed.FS

// pictures are the forms in which there are pictures of the page, for browsers that show it where they offer to install it (W3C, Web
// Application Manifest, screenshots). No device keeps them.
var pictures = []struct{ form, sizes, tool string }{{"narrow", "360x740", "winding"}, {"wide", "1024x576", "circuit"}}

// pictureOf returns a picture and its name in the site; nil if none was taken in the language.
func pictureOf(form, language string) (name string, content []byte) {
	name = form + "-" + language + ".webp"
	content, err := shots.ReadFile("pictures/" + name)
	if err != nil {
		return name, nil
	}
	return name, content
}

// addPictures adds the pictures in the languages of a site, and returns their names.
func addPictures(files map[string][]byte, tongues []tongue) (names []string) {
	for _, t := range tongues {
		for _, p := range pictures {
			if name, content := pictureOf(p.form, t.Tag); content != nil {
				files[name] = content
				names = append(names, name)
			}
		}
	}
	return names
}

// screenshots returns what a language's manifest says of its pictures.
func screenshots(speak *wording.Speaker, language string) []map[string]string {
	list := []map[string]string{}
	for _, p := range pictures {
		if name, content := pictureOf(p.form, language); content != nil {
			list = append(list, map[string]string{"src": name, "sizes": p.sizes, "type": "image/webp", "form_factor": p.form,
				"label": speak.Within(p.tool).Say("title")})
		}
	}
	return list
}
