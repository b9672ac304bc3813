package site

import (
	"encoding/json"
	"strconv"

	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// exampleOf returns a tool's example, with its texts in the reader's language: those that the page has words for, under the name of the
// tool and the path of the text.
func exampleOf(t *tool.Tool, speak *wording.Speaker) ([]byte, error) {
	var request any
	if err := json.Unmarshal([]byte(t.Example), &request); err != nil {
		return nil, err
	}
	return json.Marshal(translated(request, "page.example."+t.Name, speak))
}

// translated puts words in place of the texts of a part of a request that have some. key is that of the part.
func translated(part any, key string, speak *wording.Speaker) any {
	switch part := part.(type) {
	case map[string]any:
		for name := range part {
			part[name] = translated(part[name], key+"."+name, speak)
		}
	case []any:
		for i := range part {
			part[i] = translated(part[i], key+"."+strconv.Itoa(i), speak)
		}
	case string:
		if speak.Has(key) {
			return speak.Say(key)
		}
	}
	return part
}
