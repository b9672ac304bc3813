package main

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// usage is the help of the whole program: each tool of the list with its purpose and its example.
func usage() string {
	var b strings.Builder
	b.WriteString(usageHead)
	for _, t := range tools.All {
		speak := t.Speaker(tools.English())
		fmt.Fprintf(&b, "%s\n\n%s\n", wrapped(speak.Say("title")+": "+speak.Say("purpose"), " ", ""), exampleOf(t))
	}
	b.WriteString(usageFoot)
	return b.String()
}

// exampleOf is a tool's example as a command. What is the text of a file there is read from one.
func exampleOf(t *tool.Tool) string {
	request, file := t.Example, ""
	i := slices.IndexFunc(t.Fields, func(d *tool.Field) bool { return d.File })
	if i >= 0 {
		name := t.Fields[i].Name
		request, file = without(request, name), " --file "+name+"=ramp.csv"
	}
	request = longLink.ReplaceAllStringFunc(request, func(link string) string { return link[:strings.LastIndex(link[:widest-25], "&")] })
	command := "  echo '" + strings.Join(strings.Fields(request), " ") + "' | ohmwright run " + t.Name + file
	return wrapped(compact(command), ", ", "         ") + "\n"
}

// longLink is a link that a line of the help cannot hold. It is shown without its last values, and then is a link still.
var longLink = regexp.MustCompile(`#/[^"]{100,}`)

// compact takes the blanks out from inside brackets.
func compact(command string) string {
	return strings.NewReplacer("{ ", "{", " }", "}", "[ ", "[", " ]", "]").Replace(command)
}

// widest is how many characters a line of the help has at most.
const widest = 116

// wrapped breaks a text behind a separator where a line would be too wide, but not inside a text of JSON; what follows is
// indented.
func wrapped(text, separator, indent string) string {
	var lines []string
	line, unit := "", ""
	for _, part := range strings.SplitAfter(text, separator) {
		if unit += part; strings.Count(unit, `"`)%2 == 1 {
			continue
		}
		if line != "" && len([]rune(line+unit)) > widest {
			lines, line = append(lines, strings.TrimRight(line, " ")), indent
		}
		line, unit = line+unit, ""
	}
	return strings.Join(append(lines, line+unit), "\n")
}

// without is a request without one of its fields.
func without(request, field string) string {
	var o map[string]json.RawMessage
	if err := json.Unmarshal([]byte(request), &o); err != nil {
		panic("ohmwright: an example is no JSON: " + err.Error()) // held by a test
	}
	delete(o, field)
	b, err := json.Marshal(o)
	if err != nil {
		panic(err) // what was read is written
	}
	return strings.ReplaceAll(string(b), `","`, `", "`)
}

const usageHead = `ohmwright answers what a reading says about a solenoid circuit.

  ohmwright run TOOL < request.json    answer one request
  ohmwright run TOOL --ndjson          answer a request a line, each on a line
  ohmwright tools                      list the tools
  ohmwright describe TOOL              JSON Schemas of a tool's request and result
  ohmwright serve                      the page and the API on this machine
  ohmwright build DIRECTORY            write the page as a static site for any host
  ohmwright words LANGUAGE             all words in one file, for a translator
  ohmwright mark SHEET < pasted.txt    mark what a class handed in
  ohmwright licences                   the licences of all that it is made of

The tools, each with an example:

`

const usageFoot = `Exit status: 0 answered, 2 request refused, 1 anything else.
"ohmwright COMMAND --help" says more of run, serve, build, words and mark.
`

const runHelp = `ohmwright run TOOL [--ndjson] [--file FIELD=PATH] [--locale TAG] < request

Reads one request, a JSON object, and prints the response. Quantities are texts with their unit: "9.7 ohm", "9,7Ω",
"1.2 kohm", "75 degF", "OL". "ohmwright describe TOOL" says what may be in the request.

  --ndjson        one request a line; each is answered on a line, in order. A line over 64 KiB (8 MiB for
                  trace) is refused and passed over; empty lines are passed over. Exit status 2 if any was refused.
  --file FIELD=PATH
                  puts a file's text into the request, for a field that takes one: trace --file recording=ramp.csv.
                  UTF-8, UTF-16 with its mark, or Windows-1252. The request may then be empty or {}, but
                  not have that field itself. A pipe is read if someone writes to it.
  --locale TAG    the reader, such as de or fr-CA (default en): sentences in that language where it has a catalogue,
                  computed numbers in them written as there. Values stay the same.

  echo '{"reading": "OL", "at": "20 degC"}' | ohmwright run winding
  ohmwright run winding --ndjson < readings.ndjson > answers.ndjson

Exit status: 0 answered, 2 request refused, 1 anything else.
`

const serveHelp = `ohmwright serve [--address HOST:PORT] [--language TAG]

Serves the page at / and the API at /v1/TOOL (POST a request; 200, 422 refused, 413 over 64 KiB). GET /v1 lists the tools,
GET /v1/TOOL describes one. Keeps and logs nothing. Ctrl-C or SIGTERM stops it once the requests under way are answered;
a second one ends it at once. A client has 30 seconds to send a request and 5 minutes to take the answer.

  --address HOST:PORT    default 127.0.0.1:8080; a port of 0 takes a free one
  --language TAG         the page's language for readers of whose languages there is none (default en)

  ohmwright serve
  curl -d '{"reading": "9.7 ohm", "at": "24 degC"}' http://127.0.0.1:8080/v1/winding

Offline use needs https or localhost: browsers allow it nowhere else.
`

const buildHelp = `ohmwright build DIRECTORY [--language TAG] [--only] [--address ADDRESS]
ohmwright build --single FILE [--language TAG]

Writes the page as a static site: plain files that any host can serve, at any path. All of it or nothing: if it fails or
is stopped, the directory is as it was. The files of an earlier build are replaced, and removed where they are no longer
needed; others are left alone, and never replaced. Symbolic links are not followed. The page is there in every language; a
reader gets the files of one.

The file _headers is for hosts that read it, at their root: the headers that "serve" sets by itself, such as who may show
the page in a frame. One of your own stays as it is.

  --language TAG    the language of index.html, for readers of whose languages there is none (default en)
  --only            leave the other languages out
  --address ADDRESS
                    where the site will be, for search engines: each page then names its address and the same page in
                    other languages, sitemap.xml lists all, and at a host's root robots.txt names it. A robots.txt of
                    your own stays as it is.
  --single          write all of it into one HTML file instead, which a browser opens from a stick, without a server or a
                    network, in the one language. What is entered stays in that browser, not in the file, and is there wherever the
                    file lies; other pages opened from files in that browser could read it. Jobs can be saved as files.

  ohmwright build public
  ohmwright build public --address https://example.org/ohmwright/
  ohmwright build --single ohmwright.html
`
