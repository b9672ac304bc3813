// Package link writes a request as a link and reads it back. A link is for people: it can be read, and typed by hand.
//
//	#/winding?v=1&reading=6.9ohm&at=88degC&specs.0.min=5.0ohm
//
// It lives in a page's fragment, which a browser never sends. A link once given opens for ever: version 1 keeps its
// meaning, and whatever is wrong with a link is said while the rest of it opens.
package link

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// Version is the version that is written, and the highest that is read.
const Version = tool.Contract

// Longest is how many bytes of a link are read: escaping may make three of one, and keys stand in full.
const Longest = 4 * tool.MaxRequest

// Write writes the link of a request that was read, without the files that [Left] names.
func Write(t *tool.Tool, r *tool.Record) string {
	var b strings.Builder
	b.WriteString("#/" + t.Name + "?v=" + strconv.Itoa(Version))
	for _, p := range r.Pairs() {
		if !tooLong(t, p) {
			b.WriteString("&" + escape(p.Key) + "=" + escape(p.Value))
		}
	}
	return b.String()
}

// Left are the keys of the files that are too long for a link: more than [tool.LinkedFile] bytes.
func Left(t *tool.Tool, r *tool.Record) (keys []string) {
	for _, p := range r.Pairs() {
		if tooLong(t, p) {
			keys = append(keys, p.Key)
		}
	}
	return keys
}

// tooLong reports whether a value of a request is left out of its link.
func tooLong(t *tool.Tool, p tool.Pair) bool {
	if len(p.Value) <= tool.LinkedFile {
		return false
	}
	f := t.Field(p.Key)
	return f != nil && f.File
}

// A Draft is what a link or a half-filled form gives: the tool, and texts under flat keys.
type Draft struct {
	Tool  *tool.Tool
	Given map[string]string
}

// Read reads a link, with or without what stands before its "#". What cannot be read is noted as a fault, and the rest
// is kept; without a tool of that name, or with a version from the future, there is no draft.
func Read(text string, speak *wording.Speaker) (Draft, []tool.Fault) {
	d := Draft{Given: map[string]string{}}
	var faults []tool.Fault
	note := func(field string, code tool.Code, given, key string, args ...any) {
		faults = append(faults, tool.NewFault(speak, field, code, given, key, args...))
	}
	if len(text) > Longest {
		note("", tool.OutOf, text, "link.long", strconv.Itoa(Longest))
		return d, faults
	}
	text = strings.TrimSpace(text)
	if _, fragment, ok := strings.Cut(text, "#"); ok {
		text = fragment
	}
	path, query, _ := strings.Cut(text, "?")
	name := strings.Trim(path, "/")
	t, ok := tools.Named(name)
	if !ok {
		note("", tool.Unknown, name, "link.tool", name)
		return d, faults
	}
	d.Tool = t
	for _, part := range strings.Split(query, "&") {
		if part == "" {
			continue
		}
		key, value, hasValue := strings.Cut(part, "=")
		key, value = unescape(key), unescape(value)
		switch {
		case key == "v":
			v, err := strconv.Atoi(value)
			if err != nil || v < 1 {
				note("", tool.Syntax, value, "link.version", value)
			} else if v > Version {
				note("", tool.OutOf, value, "link.future", value)
				return Draft{Given: map[string]string{}}, faults
			}
		case !hasValue:
			note(key, tool.Syntax, key, "link.cut", key)
		default:
			if _, twice := d.Given[key]; twice {
				note(key, tool.Conflict, value, "twice", key)
				continue
			}
			d.Given[key] = value
		}
	}
	return d, faults
}

// Request is the draft as a request: flat keys nested at their dots, an object whose keys are all numbers as a list in their
// order. Where two keys cannot both stand, the deeper one does.
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

// A branch is an object of texts and branches, as flat keys are put into it.
type branch map[string]twig

// A twig is a text, or a branch.
type twig struct {
	text   string
	branch branch
}

// deepest is where a key of very many dots is cut: no tool asks for more.
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

// nested makes a node of the branch: a list where its keys are numbers.
func (b branch) nested() tool.Node {
	keys := make([]string, 0, len(b))
	var order []int
	for k := range b {
		keys = append(keys, k)
		if n, err := strconv.Atoi(k); err == nil && n >= 0 && strconv.Itoa(n) == k {
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

// Rows are the numbers of the rows that a draft gives for each list, in their order.
type Rows map[string][]int

// Rows finds them.
func (d Draft) Rows() Rows {
	rows := Rows{}
	seen := map[string]bool{}
	for key := range d.Given {
		list, row, _, ok := cutRow(key)
		if at := list + "." + strconv.Itoa(row); ok && !seen[at] {
			seen[at] = true
			rows[list] = append(rows[list], row)
		}
	}
	for _, numbers := range rows {
		slices.Sort(numbers)
	}
	return rows
}

// cutRow cuts list.row.rest; rest has its dot.
func cutRow(key string) (list string, row int, rest string, ok bool) {
	list, tail, ok := strings.Cut(key, ".")
	if !ok {
		return "", 0, "", false
	}
	number, rest, deeper := strings.Cut(tail, ".")
	if deeper {
		rest = "." + rest
	}
	row, err := strconv.Atoi(number)
	return list, row, rest, err == nil && row >= 0
}

// Own maps a path in the request (rows 0, 1, 2 …) to the draft's own key, whose rows may have gaps.
func (r Rows) Own(path string) string {
	list, row, rest, ok := cutRow(path)
	if !ok || row >= len(r[list]) {
		return path
	}
	return list + "." + strconv.Itoa(r[list][row]) + rest
}

// Compact is the draft with the rows of each list numbered without gaps, in their order.
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

// escape writes a text so that it can stand in a link: what is not a letter, a digit or one of - . _ ~ : / is written as
// %XX of its UTF-8, a space as +. A general library escapes the same bytes; this one is here for the reading side.
func escape(s string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', strings.IndexByte("-._~:/", c) >= 0:
			b.WriteByte(c)
		case c == ' ':
			b.WriteByte('+')
		default:
			b.WriteString(string([]byte{'%', hex[c>>4], hex[c&15]}))
		}
	}
	return b.String()
}

// unescape reads what escape wrote, and what people type: a % without two hex digits behind it stands for itself, so
// that "tolerance=10%" can be typed. Bytes that are no UTF-8 become U+FFFD.
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

// Without is the draft less every key at or below a prefix; dropped says that there was one.
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
