// Package link writes a request as a link and reads it back. A link is for people: it can be read, and typed by hand.
//
//	#/winding?v=1&reading=6.9ohm&at=88degC&specs.0.min=5.0ohm
//
// It is in the page's fragment, which a browser never sends. A link once given works for ever: version 1 keeps its
// meaning. If something in a link is wrong, the reader is told, and the rest of it opens.
package link

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// Version is the version that Write writes, and the highest that Read accepts.
const Version = tool.Contract

// Longest is the most bytes of a link that are read: escaping may turn one byte into three, and keys are written in full. Longer ones
// than any request has are read too, to say what is wrong with them.
const Longest = 16 * tool.MaxRequest

// Write returns the link of a request that was read, as [Written] does.
func Write(t *tool.Tool, r *tool.Record) string {
	text, _ := Written(t, r)
	return text
}

// Written returns the link of a request that was read. It leaves out files with more than [tool.LinkedFile] bytes, which are too long for
// a link; left are their keys.
func Written(t *tool.Tool, r *tool.Record) (text string, left []string) {
	pairs := slices.DeleteFunc(r.Pairs(), func(p tool.Pair) bool {
		long := tooLong(t, p)
		if long {
			left = append(left, p.Key)
		}
		return long
	})
	return tool.Link(t.Name, pairs), left
}

// tooLong reports whether a value is left out of the link.
func tooLong(t *tool.Tool, p tool.Pair) bool {
	if len(p.Value) <= tool.LinkedFile {
		return false
	}
	f := t.Field(p.Key)
	return f != nil && f.File
}

// A Draft is the content of a link or a half-filled form: the tool, and texts under flat keys.
type Draft struct {
	Tool  *tool.Tool
	Given map[string]string
}

// languageKey is the key of the language that whoever made the link had chosen. It is the page's: it changes no answer, and no tool has it.
const languageKey = "language"

// Read reads a link; anything before its "#" is ignored. What cannot be read is noted as a fault, and the rest is kept. If
// there is no such tool, or the version is a later one, the draft is empty.
func Read(text string, speak *wording.Speaker) (Draft, []tool.Fault) {
	d := Draft{Given: map[string]string{}}
	n := noted{speak: speak}
	if len(text) > Longest {
		n.note("", tool.OutOf, text, "link.long", strconv.Itoa(Longest))
		return d, n.faults
	}
	text = strings.TrimSpace(text)
	if _, fragment, ok := strings.Cut(text, "#"); ok {
		text = fragment
	}
	path, query, _ := strings.Cut(text, "?")
	name := strings.Trim(path, "/ ")
	t, ok := tools.Named(strings.ToLower(name))
	if !ok {
		n.note("", tool.Unknown, name, "link.tool", name)
		return d, n.faults
	}
	d.Tool = t
	var cut, twice, rows []string
	for part := range strings.SplitSeq(query, "&") {
		key, value, hasValue := strings.Cut(part, "=")
		key, value = unescape(key), unescape(value)
		_, again := d.Given[key]
		switch {
		case part == "", key == languageKey:
		case key == "v":
			v, err := strconv.Atoi(value)
			if err != nil || v < 1 {
				n.note("", tool.Syntax, value, "link.version", value)
			} else if v > Version {
				n.note("", tool.OutOf, value, "link.future", value)
				return Draft{Given: map[string]string{}}, n.faults
			}
		case !hasValue:
			cut = append(cut, key)
		case again:
			twice = append(twice, key)
		case t.NoRow(key):
			rows = append(rows, key)
		default:
			d.Given[key] = value
		}
	}
	d.asBefore()
	n.each(cut, tool.Syntax, "link.cut")
	n.each(twice, tool.Conflict, "twice")
	n.each(rows, tool.Unknown, "link.row", strconv.Itoa(tool.FarthestRow))
	return d, n.faults
}

// asBefore fills in what a link did not say that was given out before there was the field. One that lacks what the question needs, a text
// for instance, is yet to be filled in, and has no answer that must stay.
func (d Draft) asBefore() {
	for _, f := range d.Tool.Fields {
		if f.Need && !d.gives(f.Name) {
			return
		}
	}
	for _, f := range d.Tool.Fields {
		if _, given := d.Given[f.Name]; f.Before == nil || given {
			continue
		}
		if was := f.Before(d.Given); was != "" {
			d.Given[f.Name] = was
		}
	}
}

// gives reports whether a draft has a text for a field, or below it.
func (d Draft) gives(name string) bool {
	for key, text := range d.Given {
		if top, _, _ := strings.Cut(key, "."); top == name && text != "" {
			return true
		}
	}
	return false
}

// noted collects the faults of a link.
type noted struct {
	speak  *wording.Speaker
	faults []tool.Fault
}

func (n *noted) note(field string, code tool.Code, given, key string, args ...any) {
	n.faults = append(n.faults, tool.NewFault(n.speak, field, code, given, key, args...))
}

// each notes the same fault of some keys.
func (n *noted) each(keys []string, code tool.Code, key string, args ...any) {
	n.faults = append(n.faults, Each(n.speak, keys, code, key, args...)...)
}

// few is how many keys with the same fault are told one by one.
const few = 5

// Each returns the same fault of some keys, worded by the key fault.KEY with the key of the link first. Where they are many it is one
// fault that counts them, worded by fault.KEY.many with their number, then the first of them, in front of args.
func Each(speak *wording.Speaker, keys []string, code tool.Code, key string, args ...any) (faults []tool.Fault) {
	if len(keys) > few {
		many := speak.Exact(float64(len(keys)))
		shown := make([]string, few)
		for i := range shown {
			shown[i] = quantity.Clip(keys[i])
		}
		first := strings.Join(shown, ", ") + " …"
		return []tool.Fault{tool.NewFault(speak, "", code, first, speak.Form(key+".many", len(keys)), append([]any{many, first}, args...)...)}
	}
	for _, k := range keys {
		faults = append(faults, tool.NewFault(speak, k, code, k, key, append([]any{quantity.Clip(k)}, args...)...))
	}
	return faults
}

// Request returns the draft as a request. Flat keys are split at their dots into nested objects; an object whose keys are
// all numbers becomes a list in that order. If two keys exclude each other, the deeper one is kept.
func (d Draft) Request() tool.Node {
	root := branch{}
	keys := make([]string, 0, len(d.Given))
	for k := range d.Given {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	for _, k := range keys {
		root.put(d.Tool.Split(k), d.Given[k])
	}
	return root.nested()
}

// A branch is an object that is being built from flat keys: texts, and further branches.
type branch map[string]twig

// A twig is a text or a branch.
type twig struct {
	text   string
	branch branch
}

// deepest is the depth from which the rest of a key is no longer split. No tool nests as deep.
const deepest = 6

func (b branch) put(path []string, value string) {
	if len(path) == 1 || len(path) > deepest {
		key := strings.Join(path, ".")
		if b[key].branch == nil {
			b[key] = twig{text: value}
		}
		return
	}
	next := b[path[0]].branch
	if next == nil {
		next = branch{}
		b[path[0]] = twig{branch: next}
	}
	next.put(path[1:], value)
}

// nested returns the branch as a node: a list if all its keys are numbers, otherwise an object.
func (b branch) nested() tool.Node {
	keys := make([]string, 0, len(b))
	var order []int
	for k := range b {
		keys = append(keys, k)
		if n, ok := tool.RowNumber(k); ok {
			order = append(order, n)
		}
	}
	if len(order) > 0 && len(order) == len(keys) {
		slices.Sort(order)
		items := make([]tool.Node, len(order))
		for i, n := range order {
			items[i] = b[strconv.Itoa(n)].node()
		}
		return tool.ListNode(items...)
	}
	slices.Sort(keys)
	members := make([]tool.Member, len(keys))
	for i, k := range keys {
		members[i] = tool.Member{Name: k, Value: b[k].node()}
	}
	return tool.ObjectNode(members...)
}

func (t twig) node() tool.Node {
	if t.branch != nil {
		return t.branch.nested()
	}
	return tool.TextNode(t.text)
}

// Rows maps each list to the numbers of its rows in a draft, in ascending order.
type Rows map[string][]int

// Rows returns the row numbers of every list in the draft.
func (d Draft) Rows() Rows {
	rows := Rows{}
	type place struct {
		list string
		row  int
	}
	seen := map[place]bool{}
	for key := range d.Given {
		list, row, _, ok := cutRow(key)
		if at := (place{list, row}); ok && !seen[at] {
			seen[at] = true
			rows[list] = append(rows[list], row)
		}
	}
	for _, numbers := range rows {
		slices.Sort(numbers)
	}
	return rows
}

// RowOf returns the list and the number of the row that a flat key is in; ok is false for any other key.
func RowOf(key string) (list string, row int, ok bool) {
	list, row, _, ok = cutRow(key)
	return list, row, ok
}

// cutRow cuts list.row.rest into its parts. rest begins with its dot.
func cutRow(key string) (list string, row int, rest string, ok bool) {
	list, tail, ok := strings.Cut(key, ".")
	if !ok {
		return "", 0, "", false
	}
	number, rest, deeper := strings.Cut(tail, ".")
	if deeper {
		rest = "." + rest
	}
	row, ok = tool.RowNumber(number)
	return list, row, rest, ok
}

// Own turns a path in the request (rows 0, 1, 2 …) into the draft's own key, whose row numbers may have gaps.
func (r Rows) Own(path string) string {
	list, row, rest, ok := cutRow(path)
	if !ok || row >= len(r[list]) {
		return path
	}
	return list + "." + strconv.Itoa(r[list][row]) + rest
}

// Compact returns the draft with the rows of each list renumbered without gaps, in the same order.
func (d Draft) Compact() Draft {
	rows := d.Rows()
	out := Draft{d.Tool, make(map[string]string, len(d.Given))}
	for key, value := range d.Given {
		if list, row, rest, ok := cutRow(key); ok {
			at, _ := slices.BinarySearch(rows[list], row)
			key = list + "." + strconv.Itoa(at) + rest
		}
		out.Given[key] = value
	}
	return out
}

// Rewritten returns the part of a link after its ? as [tool.Link] writes it: the same keys and values in the same order. Programs write
// "%20" for "+" and "%c3" for "%C3", which means the same.
func Rewritten(query string) string {
	var b strings.Builder
	for i, part := range strings.Split(query, "&") {
		if i > 0 {
			b.WriteByte('&')
		}
		key, value, hasValue := strings.Cut(part, "=")
		b.WriteString(tool.Escape(unescape(key)))
		if hasValue {
			b.WriteString("=" + tool.Escape(unescape(value)))
		}
	}
	return b.String()
}

// unescape reads what [tool.Link] wrote, and what people type: a % that is not followed by two hex digits stays a %, so that
// "tolerance=10%" can be typed. Bytes that are not UTF-8 become U+FFFD.
func unescape(s string) string {
	if strings.ContainsAny(s, "%+") {
		var b strings.Builder
		for i := 0; i < len(s); i++ {
			switch {
			case s[i] == '+':
				b.WriteByte(' ')
			case s[i] == '%' && i+2 < len(s) && isHex(s[i+1]) && isHex(s[i+2]):
				n, _ := strconv.ParseUint(s[i+1:i+3], 16, 8)
				b.WriteByte(byte(n))
				i += 2
			default:
				b.WriteByte(s[i])
			}
		}
		s = b.String()
	}
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "\ufffd")
	}
	return s
}

func isHex(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F'
}

// Without returns the draft without the keys at or below a prefix. dropped says whether there were any.
func (d Draft) Without(prefix string) (less Draft, dropped bool) {
	less = Draft{d.Tool, make(map[string]string, len(d.Given))}
	for k, v := range d.Given {
		if k == prefix || strings.HasPrefix(k, prefix+".") {
			dropped = true
		} else {
			less.Given[k] = v
		}
	}
	return less, dropped
}
