package jsontext

import (
	"encoding/json"
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A sample has a field of each sort that JSON is written of. Its methods are what cmd/members would write.
type sample struct {
	*inner
	Text    string   `json:"text"`
	May     string   `json:"may,omitempty"`
	Is      bool     `json:"is"`
	MayBe   bool     `json:"may_be,omitempty"`
	Whole   int      `json:"whole"`
	MayInt  int      `json:"may_int,omitempty"`
	F       float64  `json:"f"`
	MayF    float64  `json:"may_f,omitempty"`
	To      *float64 `json:"to"`
	MayTo   *float64 `json:"may_to,omitempty"`
	Said    *string  `json:"said"`
	MaySay  *string  `json:"may_say,omitempty"`
	Texts   []string `json:"texts"`
	MayList []string `json:"may_list,omitempty"`
	Ints    []int    `json:"ints"`
	MayInts []int    `json:"may_ints,omitempty"`
	In      inner    `json:"in"`
	Ref     *inner   `json:"ref"`
	MayRef  *inner   `json:"may_ref,omitempty"`
	Rows    []inner  `json:"rows"`
	Any     Object   `json:"any"`
}

func (r *sample) Members(v *Visitor) {
	if r == nil {
		r = new(sample)
		v.Missing()
	}
	v.Are("* text may? is may_be? whole may_int? f may_f? to may_to? said may_say? texts may_list? ints may_ints? in ref may_ref?",
		r.inner, &r.Text, &r.May, &r.Is, &r.MayBe, &r.Whole, &r.MayInt, &r.F, &r.MayF, &r.To, &r.MayTo, &r.Said, &r.MaySay, &r.Texts,
		&r.MayList, &r.Ints, &r.MayInts, &r.In, r.Ref, r.MayRef)
	v.List("rows", len(r.Rows), (*inner)(nil))
	for i := range r.Rows {
		v.Item(&r.Rows[i])
	}
	v.Are("any", r.Any)
}

type inner struct {
	Name string `json:"name"`
	Deep []leaf `json:"deep"`
	End  int    `json:"end"`
}

func (r *inner) Members(v *Visitor) {
	if r == nil {
		r = new(inner)
		v.Missing()
	}
	v.Are("name", &r.Name)
	v.List("deep", len(r.Deep), (*leaf)(nil))
	for i := range r.Deep {
		v.Item(&r.Deep[i])
	}
	v.Are("end", &r.End)
}

type leaf struct {
	V float64 `json:"v,omitempty"`
}

func (r *leaf) Members(v *Visitor) {
	if r == nil {
		r = new(leaf)
		v.Missing()
	}
	v.Are("v?", &r.V)
}

// draw draws values, every other one empty.
type draw struct{ *rand.Rand }

func (d draw) some() bool { return d.Intn(2) == 0 }

func (d draw) text() string {
	if d.some() {
		return ""
	}
	return pieces[d.Intn(len(pieces))] + pieces[d.Intn(len(pieces))]
}

func (d draw) number() float64 {
	if d.some() {
		return []float64{0, math.Copysign(0, -1), 1e-6, 9.99e-7, 1e21, 9.99e20, 1e-9, -1e-10, 1e-100, 5e-324,
			math.MaxFloat64, 0.1, 100}[d.Intn(13)]
	}
	for {
		if f := math.Float64frombits(d.Uint64()); !math.IsNaN(f) && !math.IsInf(f, 0) {
			return f
		}
	}
}

// list returns nil, or a list of up to two.
func list[T any](d draw, one func() T) (out []T) {
	if d.some() {
		out = []T{}
		for range d.Intn(3) {
			out = append(out, one())
		}
	}
	return out
}

func maybe[T any](d draw, one func() T) *T {
	if d.some() {
		return nil
	}
	drawn := one()
	return &drawn
}

func (d draw) inner() inner {
	in := inner{Name: d.text(), Deep: []leaf{}, End: d.Intn(3)}
	for range d.Intn(3) {
		in.Deep = append(in.Deep, leaf{d.number()})
	}
	return in
}

func (d draw) sample() *sample {
	whole := func() int { return d.Intn(5) - 2 }
	s := &sample{inner: maybe(d, d.inner), Text: d.text(), May: d.text(), Is: d.some(), MayBe: d.some(), Whole: whole(), MayInt: whole(),
		F: d.number(), MayF: d.number(), To: maybe(d, d.number), MayTo: maybe(d, d.number), Said: maybe(d, d.text), MaySay: maybe(d, d.text),
		Texts: list(d, d.text), MayList: list(d, d.text), Ints: list(d, whole), MayInts: list(d, whole), In: d.inner(),
		Ref: maybe(d, d.inner), MayRef: maybe(d, d.inner), Rows: []inner{}}
	for range d.Intn(3) {
		s.Rows = append(s.Rows, d.inner())
	}
	if d.some() {
		s.Any = maybe(d, d.inner)
	}
	return s
}

// TestObjectsAreWrittenAsTheirs holds objects drawn at random against what encoding/json writes of them.
func TestObjectsAreWrittenAsTheirs(t *testing.T) {
	d := draw{rand.New(rand.NewSource(1))}
	for range 20_000 {
		s := d.sample()
		want, err := json.Marshal(s)
		require.NoError(t, err)
		got, err := AppendObject(nil, s)
		require.NoError(t, err)
		if !assert.Equal(t, string(want), string(got)) {
			return
		}
	}
}

// TestListsAreNeverNull: a list of objects that was not made is an empty one, where encoding/json writes null.
func TestListsAreNeverNull(t *testing.T) {
	got, err := AppendObject(nil, &inner{})
	require.NoError(t, err)
	assert.JSONEq(t, `{"name":"","deep":[],"end":0}`, string(got))
}

// TestNoSuchNumber checks that a number which JSON has not is a fault, the one of encoding/json.
func TestNoSuchNumber(t *testing.T) {
	for _, f := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, want := json.Marshal(f)
		_, got := AppendObject(nil, &sample{Rows: []inner{{Deep: []leaf{{1}, {f}}}}})
		require.Error(t, got)
		assert.EqualError(t, got, want.Error())
	}
}

func TestShape(t *testing.T) {
	number := Shape{Type: "number"}
	deep := Member{Name: "deep", Shape: Shape{Type: "array", Items: &Shape{Type: "object", Members: []Member{{"v", true, number}}}}}
	want := Shape{Type: "object", Members: []Member{{"name", false, Shape{Type: "string"}}, deep, {"end", false, Shape{}}}}
	assert.Equal(t, want, *ShapeOf((*inner)(nil)))
	of := ShapeOf(&sample{})
	require.Len(t, of.Members, 24)
	assert.True(t, of.Members[0].Optional, "what is embedded may be left out as a whole")
	assert.Equal(t, Member{"may_ref", true, want}, of.Members[21])
	assert.Equal(t, &want, of.Members[22].Items)
}

func TestAppendCompact(t *testing.T) {
	for _, text := range []string{`{ "a b" : [1 , 2],"c\" ":"\\", "d":{}}`, " [\n\t]\r\n", `"x"`} {
		want, err := json.Marshal(json.RawMessage(text))
		require.NoError(t, err)
		assert.Equal(t, string(want), string(AppendCompact(nil, text)))
	}
}
