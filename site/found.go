package site

import (
	"encoding/xml"
	"fmt"
	"net/url"
	"strings"
)

// A search engine wants whole addresses, which are known only where whoever builds the site says where it will be. Then each page names its
// own address and those of the same page in other languages, and a sitemap lists them all.

// Address reads where a site will be, and returns it with a slash at its end. It is an http or https address of a directory: no query, no
// fragment, no password.
func Address(text string) (string, error) {
	u, err := url.Parse(text)
	isPlain := !strings.ContainsAny(text, "?# \t\r\n")
	if err != nil || !isPlain || (u.Scheme != "https" && u.Scheme != "http") || u.Hostname() == "" || u.User != nil {
		return "", fmt.Errorf("site: %q is not where a site can be; want a whole address, such as https://example.org/ohmwright/", text)
	}
	if strings.HasSuffix(u.Path, ".html") {
		return "", fmt.Errorf("site: %q names a page; want the address of its directory, such as https://example.org/ohmwright/", text)
	}
	if !strings.HasSuffix(u.Path, "/") {
		u = u.JoinPath("/")
	}
	return u.String(), nil
}

// A whereabouts is where a page is, and where the same is in each language. Without an address of the site it is nil.
type whereabouts struct {
	Own string
	In  []alternate
}

// An alternate is the address of a page in a language; x-default is that for readers of whose languages there is none.
type alternate struct {
	Rel     string `xml:"rel,attr"`
	Tag     string `xml:"hreflang,attr"`
	Address string `xml:"href,attr"`
}

// whereaboutsOf returns where a page is. fileIn is its file in a language.
func whereaboutsOf(address string, own tongue, tongues []tongue, fileIn func(tongue) string) *whereabouts {
	if address == "" {
		return nil
	}
	at := func(t tongue) string { return address + strings.TrimPrefix(fileIn(t), "index.html") }
	s := &whereabouts{Own: at(own)}
	if len(tongues) == 1 {
		return s
	}
	for _, t := range tongues {
		s.In = append(s.In, alternate{"alternate", t.Tag, at(t)})
	}
	s.In = append(s.In, alternate{"alternate", "x-default", at(tongues[0])})
	return s
}

// pageOf returns the file of a language's page.
func pageOf(t tongue) string { return t.Page }

// addFound adds what no device keeps: the pages about the tools, pictures and, where the site's address is known, a sitemap. It returns the
// names.
func addFound(files map[string][]byte, tongues []tongue, address string) (names []string, err error) {
	names, read, err := addReading(files, tongues, address)
	names = append(names, addPictures(files, tongues)...)
	if err != nil || address == "" {
		return names, err
	}
	var all []*whereabouts
	for _, t := range tongues {
		all = append(all, whereaboutsOf(address, t, tongues, pageOf))
	}
	files["sitemap.xml"], err = sitemap(append(all, read...))
	return append(names, "sitemap.xml"), err
}

// sitemap returns the list of all pages for search engines.
func sitemap(pages []*whereabouts) ([]byte, error) {
	type entry struct {
		Own string      `xml:"loc"`
		In  []alternate `xml:"xhtml:link"`
	}
	list := struct {
		XMLName xml.Name `xml:"urlset"`
		Space   string   `xml:"xmlns,attr"`
		XHTML   string   `xml:"xmlns:xhtml,attr"`
		Entries []entry  `xml:"url"`
	}{Space: "http://www.sitemaps.org/schemas/sitemap/0.9", XHTML: "http://www.w3.org/1999/xhtml"}
	for _, p := range pages {
		list.Entries = append(list.Entries, entry{p.Own, p.In})
	}
	text, err := xml.MarshalIndent(list, "", " ")
	return []byte(xml.Header + string(text) + "\n"), err
}

// Robots returns the file robots.txt of a site, which leads search engines to its sitemap. They ask for it at a host's root alone: for a
// site that is elsewhere it is nil.
func Robots(address string) []byte {
	if u, err := url.Parse(address); err != nil || u.Path != "/" {
		return nil
	}
	return fmt.Appendf(nil, "User-agent: *\nAllow: /\nSitemap: %ssitemap.xml\n", address)
}
