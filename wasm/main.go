//go:build js && wasm

// Command wasm is the page's WebAssembly module: the tools, callable from JavaScript. Before the module starts, the page
// sets globalThis.ohmwrightWords to the words of its language, as they were compiled when the site was made (the module has none), and
// globalThis.ohmwrightReady to the function that resolves the promise "ohmwright". The module calls it with an object that has the
// functions below.
package main

import (
	"errors"
	"strconv"
	"strings"

	"github.com/hack-pad/safejs"

	"ohmwright/core/jsontext"
	"ohmwright/core/page"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

func main() {
	if err := publish(); err != nil {
		panic(err)
	}
	select {} // the module answers as long as its page is open
}

// publish gives the object with the functions to the page.
func publish() error {
	if err := takeWords(); err != nil {
		return err
	}
	class, err := safejs.Global().Get("Object")
	if err != nil {
		return err
	}
	object, err := class.New()
	if err != nil {
		return err
	}
	for name, answer := range answers {
		if err := bind(object, name, answer); err != nil {
			return err
		}
	}
	_, err = safejs.Global().Call("ohmwrightReady", object)
	return err
}

// takeWords takes the words that the page has for the module.
func takeWords() error {
	words, err := safejs.Global().Get("ohmwrightWords")
	if err != nil {
		return err
	}
	compiled, err := words.String()
	if err != nil {
		return errors.New("globalThis.ohmwrightWords: " + err.Error())
	}
	return tools.Take(compiled)
}

// answers are the functions of the object. They take texts and return JSON. The first three are those of the contract.
var answers = map[string]func(texts []string) []byte{
	"run": func(texts []string) []byte {
		response, _ := tools.Run(texts[0], []byte(texts[1]), tools.English())
		return response
	},
	"tools": func([]string) []byte { return tools.Menu(tools.English()) },
	"describe": func(texts []string) []byte {
		t, ok := tools.Named(texts[0])
		if !ok {
			response, _ := tools.Run(texts[0], nil, tools.English())
			return response
		}
		return t.Describe(tools.English())
	},
	// The page itself uses answer and open(link, language, locale).
	"answer": answer,
	"code": func(texts []string) []byte {
		drawn := drawCode(texts[0])
		return object(&drawn)
	},
	"open": func(texts []string) []byte {
		return own(page.Open(texts[0], speaker(texts[1], texts[2])).MarshalJSON())
	},
	// And of jobs, which are texts as core/job writes them: see job.go.
	"jobRead":   jobRead,
	"jobNote":   jobNote,
	"jobRecord": jobRecord,
	"jobLine":   jobLine,
	// And of a class: see mark.go.
	"mark":     mark,
	"markNext": markNext,
}

// held has for each tool what the page holds of its form.
var held = map[string]*page.Held{}

// answer is answer(tool, form, language, locale, "brief", "hasty" or "", number): see formOf. With the number of the reply that the page
// holds, or 0 for none, the reply leaves out what stays; without a number it is whole, and is not what the page holds.
func answer(texts []string) []byte {
	t, named := tools.Named(texts[0])
	given, read := formOf(texts[1])
	if !named || !read {
		return refused("answer: no such tool or form")
	}
	detail := tool.Full
	switch texts[4] {
	case "brief":
		detail = tool.Brief
	case "hasty":
		detail = tool.Hasty
	}
	reply := page.Glance(t, given, speaker(texts[2], texts[3]), detail)
	number, err := strconv.Atoi(texts[5])
	if err != nil {
		return own(reply.MarshalJSON())
	}
	h, ok := held[t.Name]
	if !ok {
		h = new(page.Held)
		held[t.Name] = h
	}
	return h.Next(reply, number)
}

// formOf reads what the fields of a form hold: flat keys and texts in turn, each ended by U+0000. That needs no parser before the first
// answer.
func formOf(text string) (given map[string]string, ok bool) {
	parts := strings.Split(text, "\x00")
	if len(parts)%2 == 0 || parts[len(parts)-1] != "" {
		return nil, false
	}
	given = make(map[string]string, len(parts)/2)
	for i := 0; i+1 < len(parts); i += 2 {
		given[parts[i]] = parts[i+1]
	}
	return given, true
}

// speakers keeps a speaker for each language and locale asked for. A page asks for only one.
var speakers = map[[2]string]*wording.Speaker{}

func speaker(language, locale string) *wording.Speaker {
	s, ok := speakers[[2]string{language, locale}]
	if !ok {
		s = tools.Speaker(language, locale)
		speakers[[2]string{language, locale}] = s
	}
	return s
}

// bind sets a function on the object. If it panics, the answer says so, and the module keeps running.
func bind(object safejs.Value, name string, answer func([]string) []byte) error {
	f, err := safejs.FuncOf(func(_ safejs.Value, args []safejs.Value) any {
		texts := make([]string, max(7, len(args)))
		for i, a := range args {
			texts[i], _ = a.String()
		}
		return guarded(answer, texts)
	})
	if err != nil {
		return err
	}
	return object.Set(name, f)
}

// guarded returns an answer, and turns a panic into one.
func guarded(answer func([]string) []byte, texts []string) (out string) {
	defer func() {
		if p := recover(); p != nil {
			out = string(refused(tool.Said(p)))
		}
	}()
	return string(answer(texts))
}

// own returns what a MarshalJSON of core/page returns, which never fails.
func own(b []byte, _ error) []byte { return b }

// refused returns an answer that reports a fault of the program.
func refused(text string) []byte {
	return object(&tool.Failure{Errors: []tool.Fault{tool.NewFault(tools.English(), "", tool.Broken, "", "program", text)}})
}

// object returns an object as JSON; the objects here have no numbers that JSON has not.
func object(o jsontext.Object) []byte {
	b, _ := jsontext.AppendObject(nil, o)
	return b
}
