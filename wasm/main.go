//go:build js && wasm

// Command wasm is the module of the page: the tools, bound to JavaScript. It answers through the object that the global
// promise "ohmwright" resolves to; the page sets globalThis.ohmwrightReady to what resolves it before the module starts.
package main

import (
	"encoding/json"
	"fmt"

	"github.com/hack-pad/safejs"

	"ohmwright/core/page"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

func main() {
	if err := publish(); err != nil {
		panic(err)
	}
	select {} // a module answers as long as its page is open
}

// publish hands the object to the page.
func publish() error {
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

// answers are the functions of the object: texts in, a text out. The first three are the contract's.
var answers = map[string]func(texts []string) any{
	"run": func(texts []string) any {
		response, _ := tools.Run(texts[0], []byte(texts[1]), tools.English())
		return json.RawMessage(response)
	},
	"tools": func([]string) any { return tools.Menu(tools.English()) },
	"describe": func(texts []string) any {
		t, ok := tools.Named(texts[0])
		if !ok {
			response, _ := tools.Run(texts[0], nil, tools.English())
			return json.RawMessage(response)
		}
		return t.Describe(tools.English())
	},
	// answer(tool, form as JSON, language, locale, "brief" or "") and open(link, language, locale) are what the page itself asks.
	"answer": func(texts []string) any {
		t, ok := tools.Named(texts[0])
		given := map[string]string{}
		if err := json.Unmarshal([]byte(texts[1]), &given); err != nil || !ok {
			return fault("answer: no such tool or form")
		}
		if texts[4] == "brief" {
			return page.Glance(t, given, speaker(texts[2], texts[3]))
		}
		return page.Answer(t, given, speaker(texts[2], texts[3]))
	},
	"open": func(texts []string) any { return page.Open(texts[0], speaker(texts[1], texts[2])) },
}

// speakers keeps the speaker of each language and locale that was asked for: a page has one.
var speakers = map[[2]string]*wording.Speaker{}

func speaker(language, locale string) *wording.Speaker {
	s, ok := speakers[[2]string{language, locale}]
	if !ok {
		s = tools.Speaker(language, locale)
		speakers[[2]string{language, locale}] = s
	}
	return s
}

// bind sets a function on the object. Whatever goes wrong inside comes back as an answer, and the module stays alive.
func bind(object safejs.Value, name string, answer func([]string) any) error {
	f, err := safejs.FuncOf(func(_ safejs.Value, args []safejs.Value) any {
		texts := make([]string, max(5, len(args)))
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

// guarded answers, and turns a panic into an answer.
func guarded(answer func([]string) any, texts []string) (out string) {
	defer func() {
		if p := recover(); p != nil {
			out = encode(fault(fmt.Sprint(p)))
		}
	}()
	return encode(answer(texts))
}

func fault(text string) tool.Failure {
	return tool.Failure{Errors: []tool.Fault{tool.NewFault(tools.English(), "", tool.Broken, "", "program", text)}}
}

// encode writes an answer; one that writes itself is not gone through again.
func encode(v any) string {
	var b []byte
	var err error
	if own, ok := v.(json.Marshaler); ok {
		b, err = own.MarshalJSON()
	} else {
		b, err = json.Marshal(v)
	}
	if err != nil {
		b, _ = json.Marshal(fault(err.Error()))
	}
	return string(b)
}
