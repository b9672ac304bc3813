// Package testdata holds the check values: one JSON file a topic, the bibliography they come from, and the strict reader
// of both. README.md says the format. It imports nothing of core, so that a value here can never come from there.
package testdata

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

//go:embed *.json bibliography.md
var files embed.FS

// A Vector is one check value: what goes in, what has to come out, and who says so.
type Vector struct {
	File      string // topic, without ".json"
	ID        string
	Why       string
	In        Input
	Want      map[string]any    // path -> value
	WantError []Fault           // every fault, in any order
	Source    string            // key of the bibliography, then the place in it
	Tol       float64           // absolute, for numbers; 0: relative 1e-9
	Printed   map[string]string // path -> digits as the source prints them
	Trap      string            // why a printed one is not the right one
}

// An Input is a tool's request, or the arguments of a function below the tools.
type Input struct {
	Tool    string
	Request []byte
	Func    string
	Args    map[string]any
}

// A Fault is what a failure has to say: where, and of which kind.
type Fault struct {
	Field string `json:"field"`
	Code  string `json:"code"`
}

// Funcs are the functions below the tools that vectors may name, each with the test that runs them.
var Funcs = map[string]string{
	"quantity.Parse":          "core/quantity",
	"measure.Meter":           "core/measure",
	"measure.Rectangular":     "core/measure",
	"measure.Combine":         "core/measure",
	"measure.Conform":         "core/measure",
	"winding.Material.Factor": "core/winding",
	"winding.TemperatureOf":   "core/winding",
	"winding.ResistanceDoubt": "core/winding",
	"winding.LostTurns":       "core/winding",
}

// All reads every file. An error names the file and the vector.
func All() ([]Vector, error) {
	names, err := fs.Glob(files, "*.json")
	if err != nil {
		return nil, err
	}
	known, err := Sources()
	if err != nil {
		return nil, err
	}
	var all []Vector
	for _, name := range names {
		b, err := files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		vs, err := Read(strings.TrimSuffix(name, ".json"), b, known)
		if err != nil {
			return nil, err
		}
		all = append(all, vs...)
	}
	seen := map[string]string{}
	for _, v := range all {
		if at, twice := seen[v.ID]; twice {
			return nil, fmt.Errorf("testdata: %s: id %q is in %s already", v.File, v.ID, at)
		}
		seen[v.ID] = v.File
	}
	return all, nil
}

// OfTools are the vectors with a tool's request.
func OfTools() ([]Vector, error) {
	return only(func(v Vector) bool { return v.In.Tool != "" })
}

// OfFunc are the vectors of a function below the tools; none is an error, as a check that finds nothing checks nothing.
func OfFunc(name string) ([]Vector, error) {
	return only(func(v Vector) bool { return v.In.Func == name })
}

func only(keep func(Vector) bool) ([]Vector, error) {
	all, err := All()
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(v Vector) bool { return !keep(v) })
	if len(all) == 0 {
		return nil, errors.New("testdata: no vector of that kind")
	}
	return all, nil
}

var sourceLine = regexp.MustCompile(`(?m)^- \*\*([a-z0-9-]+)\*\* \((SEEN|SEEN-repo|SEEN-excerpt|MEMORY|RECOMP|COMMON|CONTRACT)\)`)

// Sources are the keys of the bibliography with their status.
func Sources() (map[string]string, error) {
	b, err := files.ReadFile("bibliography.md")
	if err != nil {
		return nil, err
	}
	known := map[string]string{}
	for _, m := range sourceLine.FindAllStringSubmatch(string(b), -1) {
		if _, twice := known[m[1]]; twice {
			return nil, fmt.Errorf("testdata: bibliography.md: source %q twice", m[1])
		}
		known[m[1]] = m[2]
	}
	return known, nil
}

// file is what a topic's file holds.
type file struct {
	Topic   string   `json:"topic"`
	Vectors []vector `json:"vectors"`
}

type vector struct {
	ID        string            `json:"id"`
	Why       string            `json:"why"`
	In        input             `json:"in"`
	Want      map[string]any    `json:"want"`
	WantError []Fault           `json:"want-error"`
	Source    string            `json:"source"`
	Tol       float64           `json:"tol"`
	Printed   map[string]string `json:"printed"`
	Trap      string            `json:"trap"`
}

type input struct {
	Tool    string          `json:"tool"`
	Request json.RawMessage `json:"request"`
	Text    *string         `json:"text"`
	Repeat  []repeat        `json:"repeat"`
	Func    string          `json:"func"`
	Args    map[string]any  `json:"args"`
}

// A repeat puts a piece Times over, with Join between, in place of a mark in the request, so that a large request need
// not stand in a file.
type repeat struct {
	Mark  string `json:"mark"`
	Piece string `json:"piece"`
	Join  string `json:"join"`
	Times int    `json:"times"`
}

// Read reads one file strictly: unknown or repeated fields, repeated ids, a missing reason or a source that is not in
// the bibliography are errors, and so is a printed figure that does not agree with the wanted one where no trap is
// named, or a trap where all printed figures agree.
func Read(name string, b []byte, known map[string]string) ([]Vector, error) {
	if err := noRepeats(b); err != nil {
		return nil, fmt.Errorf("testdata: %s: %w", name, err)
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	var f file
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("testdata: %s: %w", name, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("testdata: %s: more behind the object", name)
	}
	if f.Topic != name || len(f.Vectors) == 0 {
		return nil, fmt.Errorf("testdata: %s: topic %q with %d vectors; want the file's own name, and some", name, f.Topic, len(f.Vectors))
	}
	ids := map[string]bool{}
	out := make([]Vector, 0, len(f.Vectors))
	for i, r := range f.Vectors {
		v := Vector{name, r.ID, r.Why, Input{r.In.Tool, nil, r.In.Func, r.In.Args}, r.Want, r.WantError, r.Source, r.Tol, r.Printed, r.Trap}
		err := r.check(known)
		if err == nil && ids[r.ID] {
			err = errors.New("id twice")
		}
		if err == nil {
			v.In.Request, err = r.In.request()
		}
		if err == nil {
			err = v.checkPrinted()
		}
		if err != nil {
			return nil, fmt.Errorf("testdata: %s: vector %d %q: %w", name, i, r.ID, err)
		}
		ids[r.ID] = true
		out = append(out, v)
	}
	return out, nil
}

var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

func (r vector) check(known map[string]string) error {
	key, _, _ := strings.Cut(r.Source, ",")
	_, runs := Funcs[r.In.Func]
	switch {
	case !idForm.MatchString(r.ID):
		return errors.New("id missing, or not in small letters, digits and hyphens")
	case len(r.Why) < 15:
		return errors.New("why missing or too short to be a reason")
	case r.Source == "":
		return errors.New("source missing")
	case known[key] == "":
		return fmt.Errorf("source %q is not in bibliography.md", key)
	case (r.Want == nil) == (r.WantError == nil):
		return errors.New("exactly one of want and want-error is needed")
	case len(r.Want) == 0 && len(r.WantError) == 0:
		return errors.New("nothing is wanted")
	case r.Tol < 0:
		return errors.New("tol is negative")
	case (r.In.Tool == "") == (r.In.Func == ""):
		return errors.New("exactly one of in.tool and in.func is needed")
	case r.In.Func != "" && (!runs || r.In.Args == nil || r.In.Request != nil || r.In.Text != nil):
		return fmt.Errorf("in.func %q is not known, or not with args alone", r.In.Func)
	case r.In.Tool != "" && (r.In.Args != nil || (r.In.Request == nil) == (r.In.Text == nil)):
		return errors.New("exactly one of in.request and in.text is needed with a tool")
	}
	return nil
}

// request is the request's bytes.
func (in input) request() ([]byte, error) {
	if in.Tool == "" {
		return nil, nil
	}
	text := string(in.Request)
	if in.Text != nil {
		text = *in.Text
	}
	for _, r := range in.Repeat {
		if strings.Count(text, r.Mark) != 1 || r.Mark == "" || r.Times < 1 {
			return nil, fmt.Errorf("repeat mark %q has to stand in the request once, and be repeated", r.Mark)
		}
		pieces := slices.Repeat([]string{r.Piece}, r.Times)
		text = strings.Replace(text, r.Mark, strings.Join(pieces, r.Join), 1)
	}
	return []byte(text), nil
}

// checkPrinted holds the printed digits beside the wanted figures: half a step of the last digit printed.
func (v Vector) checkPrinted() error {
	if v.Printed == nil {
		if v.Trap != "" {
			return errors.New("trap without printed")
		}
		return nil
	}
	agree := true
	for path, digits := range v.Printed {
		want, ok := v.Want[path].(float64)
		if !ok {
			return fmt.Errorf("printed %q has no wanted number beside it", path)
		}
		p, err := strconv.ParseFloat(digits, 64)
		if err != nil {
			return fmt.Errorf("printed %q: %w", path, err)
		}
		if math.Abs(p-want) > halfStep(digits)*(1+1e-9) {
			agree = false
			if v.Trap == "" {
				return fmt.Errorf("printed %s at %q, wanted %v, and no trap says why", digits, path, want)
			}
		}
	}
	if agree && v.Trap != "" {
		return errors.New("a trap is named, and every printed figure agrees")
	}
	return nil
}

// halfStep is half of one step of the last digit of a decimal.
func halfStep(digits string) float64 {
	_, fraction, _ := strings.Cut(digits, ".")
	return 0.5 * math.Pow(10, -float64(len(fraction)))
}

// noRepeats refuses an object with the same name twice, which encoding/json takes silently, and names that differ from a
// known one by case, which it takes as the same.
func noRepeats(b []byte) error {
	d := json.NewDecoder(bytes.NewReader(b))
	var walk func() error
	walk = func() error {
		t, err := d.Token()
		if err != nil {
			return err
		}
		open, ok := t.(json.Delim)
		if !ok {
			return nil
		}
		names := map[string]bool{}
		for d.More() {
			if open == '{' {
				t, err := d.Token()
				if err != nil {
					return err
				}
				name := strings.ToLower(t.(string))
				if names[name] {
					return fmt.Errorf("%q twice in one object", t)
				}
				names[name] = true
			}
			if err := walk(); err != nil {
				return err
			}
		}
		_, err = d.Token()
		return err
	}
	return walk()
}

// Check holds a response of a tool against the vector.
func (v Vector) Check(response []byte) error {
	var got any
	if err := json.Unmarshal(response, &got); err != nil {
		return fmt.Errorf("%s: response is no JSON: %w", v.ID, err)
	}
	ok, _ := Look(got, "ok")
	if v.WantError != nil {
		if ok != false {
			return fmt.Errorf("%s: answered; want %v", v.ID, v.WantError)
		}
		var failed struct{ Errors []Fault }
		if err := json.Unmarshal(response, &failed); err != nil {
			return fmt.Errorf("%s: %w", v.ID, err)
		}
		return v.CheckFaults(failed.Errors)
	}
	if ok != true {
		return fmt.Errorf("%s: refused: %s", v.ID, clip(response))
	}
	return v.CheckValue(got)
}

// CheckFaults holds faults against the wanted ones, in any order.
func (v Vector) CheckFaults(got []Fault) error {
	order := func(fs []Fault) []string {
		out := make([]string, len(fs))
		for i, f := range fs {
			out[i] = f.Field + " " + f.Code
		}
		slices.Sort(out)
		return out
	}
	if g, w := order(got), order(v.WantError); !slices.Equal(g, w) {
		return fmt.Errorf("%s: faults %q; want %q", v.ID, g, w)
	}
	return nil
}

// CheckValue holds what came out, as JSON reads it, against every wanted path. All that differs is told at once.
func (v Vector) CheckValue(got any) error {
	var wrong []error
	for path, want := range v.Want {
		have, _ := Look(got, path)
		if !v.same(have, want) {
			wrong = append(wrong, fmt.Errorf("%s: %s is %v; want %v", v.ID, path, have, want))
		}
	}
	return errors.Join(wrong...)
}

func (v Vector) same(got, want any) bool {
	switch w := want.(type) {
	case float64:
		g, ok := got.(float64)
		tol := v.Tol
		if tol == 0 {
			tol = math.Max(1e-9*math.Abs(w), 1e-12)
		}
		return ok && math.Abs(g-w) <= tol
	case []any:
		g, ok := got.([]any)
		return ok && slices.EqualFunc(g, w, v.same)
	}
	return got == want
}

// Look finds the value at a path: names and numbers of lists joined by dots; nil and false where there is none. The step
// name=value on a list says whether one of its objects has it, "length" how long it is.
func Look(in any, path string) (any, bool) {
	for _, step := range strings.Split(path, ".") {
		switch at := in.(type) {
		case map[string]any:
			next, ok := at[step]
			if !ok {
				return nil, false
			}
			in = next
		case []any:
			name, value, asks := strings.Cut(step, "=")
			i, err := strconv.Atoi(step)
			switch {
			case asks:
				in = slices.ContainsFunc(at, func(e any) bool {
					o, ok := e.(map[string]any)
					return ok && o[name] == value
				})
			case step == "length":
				in = float64(len(at))
			case err != nil || i < 0 || i >= len(at):
				return nil, false
			default:
				in = at[i]
			}
		default:
			return nil, false
		}
	}
	return in, true
}

func clip(b []byte) string { return string(b[:min(len(b), 400)]) }
