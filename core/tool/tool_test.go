package tool_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/jsontext"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// lamp is a tool for these tests only: it tells how much power a lamp takes.
var (
	supply = tool.QuantityOf[quantity.Voltage](tool.Field{Name: "supply", Need: true, Range: tool.Over(0, 100), Apart: "all"})
	ohms   = tool.ReadingOf(tool.Field{Name: "ohms", Default: "4 ohm", Range: tool.Between(0, 1000)}, quantity.OfResistance)
	colour = tool.ChoiceOf(tool.Field{Name: "colour", Default: "clear"}, []tool.Option[int]{{Word: "clear", Is: 1},
		{Word: "amber", Is: 2}}, shade)
	shade = tool.NumberOf(tool.Field{Name: "shade", Percent: true, Range: tool.Between(0, 100)})
	drop  = tool.NumberOf(tool.Field{Name: "drop", Behind: []quantity.Kind{quantity.OfVoltage}})
	count = tool.WholeOf(tool.Field{Name: "count", Default: "1", Range: tool.Between(1, 9)})
	label = tool.TextOf(tool.Field{Name: "label", Most: 10})
	hours = tool.NumbersOf(tool.Field{Name: "hours", Same: true}, []tool.Field{{Name: "day", Default: "8"}, {Name: "night", Default: "4"}})
	rows  = tool.ListOf(tool.Field{Name: "rows", Most: 2}, label)
)

type question struct {
	supply quantity.Voltage
	ohms   float64
}

type result struct {
	Power tool.Amount `json:"power"`
}

func (r *result) Members(v *jsontext.Visitor) {
	if r == nil {
		r = new(result)
		v.Missing()
	}
	v.Are("power", &r.Power)
}

// nothing is the result of a tool that has none.
type nothing struct{}

func (nothing) Members(*jsontext.Visitor) {}

var lamp = tool.New(tool.Tool{
	Name: "lamp", Example: `{"supply": "12 V"}`, Slot: "rows",
	Fields: tool.Declare(supply, ohms, colour, drop, count, label, hours, rows),
}, tool.Way[question, quantity.Power, *result]{
	Read: func(r *tool.Record, f *tool.Faults) question { return question{supply.Of(r), ohms.Of(r).In} },
	Find: func(q question) quantity.Power { return quantity.Power(float64(q.supply) * float64(q.supply) / q.ohms) },
	Refuse: func(_ question, p quantity.Power, f *tool.Faults) {
		if p > 100 {
			f.OutOf("supply", "", "above", "this", "100 W")
		}
	},
	Tell: func(_ question, p quantity.Power, a *tool.Answer) *result {
		a.Warn("bright", "rows.0.label")
		return &result{tool.Of(p)}
	},
	Lay: func(_ question, p quantity.Power, l *tool.Layout) {
		l.Verdict(sheet.MarkClean, "on", "on", "")
		l.Reason("why")
	},
	Draft: func(q question, l *tool.Layout) { l.Add(sheet.Text("p", "draft", l.Speak.Say("bulb"))) },
})

var words = wording.Room{Name: "lamp", Words: []wording.Words{{Language: "en", Entries: []wording.Entry{{"bulb", "a bulb"},
	{"warn.bright", "bright"}}}}}

func english() *wording.Speaker { return wording.NewBook(words).Speaker("en", "en") }

func ask(request string) tool.Outcome { return lamp.Answer([]byte(request), quantity.Point, english()) }

// TestUnitBehindANumber checks that a unit behind a number is told and does not change the number, which a link takes along as it is.
func TestUnitBehindANumber(t *testing.T) {
	for text, want := range map[string][2]string{
		"12.5": {"12.5", ""}, "12,50 mV": {"12.50", "mV"}, "-3e2V": {"-3e2", "V"}, "": {}, "2 ohm": {}, "2 %": {},
	} {
		o := ask(`{"supply": "12 V", "drop": "` + text + `"}`)
		v := drop.Value(o.Record)
		unit := strings.TrimSuffix(v.Unit.Symbol, "1") // that of a pure number
		assert.Equal(t, want, [2]string{v.Digits, unit}, text)
		assert.Equal(t, want[0] != "", o.Answer != nil, text)
		number, _ := strconv.ParseFloat(want[0], 64)
		assert.Equal(t, number, drop.Of(o.Record), text)
		if v.Digits != "" {
			assert.Equal(t, v.Digits+unit, o.Record.Pairs()[1].Value, text)
		}
	}
}

// TestAmbiguousInOwnMark checks that what an ambiguous text may mean is written with the decimal mark of its reader, so that it can be
// typed.
func TestAmbiguousInOwnMark(t *testing.T) {
	for _, c := range []struct {
		mark        quantity.Mark
		field, text string
		reads       []string
	}{
		{quantity.Point, "drop", "6,948", []string{"6.948", "6948"}}, {quantity.Comma, "drop", "6.948", []string{"6,948", "6948"}},
		{quantity.Point, "supply", "1,250 V", []string{"1.250 V", "1250 V"}},
		{quantity.Comma, "supply", "1.250 V", []string{"1,250 V", "1250 V"}},
	} {
		request := `{"supply": "12 V", "` + c.field + `": "` + c.text + `"}`
		if c.field == "supply" {
			request = `{"supply": "` + c.text + `"}`
		}
		o := lamp.Answer([]byte(request), c.mark, english())
		require.Len(t, o.Faults, 1)
		require.Equal(t, tool.Ambiguous, o.Faults[0].Code)
		for _, may := range c.reads {
			assert.Contains(t, o.Faults[0].Message, may)
			again := lamp.Answer([]byte(strings.Replace(request, c.text, may, 1)), c.mark, english())
			for _, f := range again.Faults {
				assert.NotEqual(t, tool.Ambiguous, f.Code, may)
			}
		}
	}
}

// TestHandles checks that each handle returns what its field holds, given or by default.
func TestHandles(t *testing.T) {
	r := ask(`{"supply":"12 V"}`).Record
	assert.Equal(t, quantity.Voltage(12), supply.Of(r))
	assert.Equal(t, tool.Measure{Kind: quantity.OfResistance, In: 4}, ohms.Of(r))
	assert.Equal(t, 1, colour.Of(r))
	assert.Nil(t, colour.Instead(r))
	assert.Equal(t, 1, count.Of(r))
	assert.Equal(t, "", label.Of(r))
	assert.Equal(t, []float64{8, 4}, hours.Of(r))
	assert.Empty(t, rows.Of(r))
	assert.True(t, supply.Given(r))
	assert.False(t, ohms.Given(r))
	assert.Equal(t, "4ohm", ohms.Plain(r))

	r = ask(`{"supply":"12,5 V","ohms":"OL","colour":{"shade":"30 %"},"count":3,"label":"left","hours":2,"rows":[{"label":"a"},{}]}`).Record
	assert.Equal(t, "12.5V", supply.Plain(r))
	assert.Equal(t, "12.5", supply.Value(r).Digits)
	assert.True(t, ohms.Of(r).Over)
	assert.Equal(t, 0, colour.Of(r), "an object stands instead of a choice")
	assert.Equal(t, 30.0, shade.Of(colour.Instead(r)))
	assert.Equal(t, 3, count.Of(r))
	assert.Equal(t, []float64{2, 2}, hours.Of(r))
	require.Len(t, rows.Of(r), 2)
	assert.Equal(t, "a", label.Of(rows.Of(r)[0]))
	assert.Equal(t, "rows.1.label", label.Path(rows.Of(r)[1]))
	assert.Panics(t, func() { count.Of(rows.Of(r)[0]) }, "a row has no such field")
}

// TestClonedHandles checks that a handle still finds its field in a tool that has cloned it.
func TestClonedHandles(t *testing.T) {
	c := supply.Clone("lamp")
	assert.Equal(t, "lamp.supply", c.From)
	other := tool.New(tool.Tool{Name: "other", Fields: []*tool.Field{c}}, tool.Way[quantity.Voltage, quantity.Voltage, *result]{
		Read: func(r *tool.Record, _ *tool.Faults) quantity.Voltage { return supply.Of(r) },
		Find: func(v quantity.Voltage) quantity.Voltage { return v },
		Tell: func(_, v quantity.Voltage, _ *tool.Answer) *result { return &result{tool.Of(v)} },
	})
	o := other.Answer([]byte(`{"supply":"6 V"}`), quantity.Point, english())
	require.NotNil(t, o.Answer)
	assert.Equal(t, &result{tool.Of(quantity.Voltage(6))}, o.Answer.Result)
}

// TestDefaultsAreRead checks that a default which no request could give is found when the tool is first asked, and each time after that.
func TestDefaultsAreRead(t *testing.T) {
	broken := func(h tool.Declared) bool {
		of := tool.New(tool.Tool{Fields: tool.Declare(h)}, tool.Way[int, int, nothing]{Read: func(*tool.Record, *tool.Faults) int { return 0 },
			Find: func(int) int { return 0 }, Tell: func(int, int, *tool.Answer) nothing { return nothing{} }})
		first := of.Answer([]byte("{}"), quantity.Point, english())
		again := of.Answer([]byte("{}"), quantity.Point, english())
		require.Equal(t, first.Faults, again.Faults)
		return len(first.Faults) == 1 && first.Faults[0].Code == tool.Broken
	}
	volts := tool.QuantityOf[quantity.Voltage]
	assert.True(t, broken(volts(tool.Field{Name: "v", Default: "6 A"})), "another kind")
	assert.True(t, broken(volts(tool.Field{Name: "v", Default: "6 V", Range: tool.Between(0, 5)})), "out of range")
	assert.True(t, broken(volts(tool.Field{Name: "v", Default: "6 V", Need: true})), "needed")
	assert.True(t, broken(tool.ChoiceOf(tool.Field{Name: "c", Default: "red"}, tool.Words("green"))), "no such choice")
	assert.False(t, broken(volts(tool.Field{Name: "v", Default: "6 V"})))
}

// TestWay checks that the steps of a way follow one another, and that a fault stops them.
func TestWay(t *testing.T) {
	o := ask(`{"supply":"12 V"}`)
	require.NotNil(t, o.Answer)
	assert.Equal(t, &result{tool.Of(quantity.Power(36))}, o.Answer.Result)
	_, body := o.Answer.Lay()
	b, err := json.Marshal(body)
	require.NoError(t, err)
	assert.Contains(t, string(b), `"data-slot":"rows"`, "reason and warning stand where the answer begins")

	o = ask(`{"supply":"50 V"}`)
	require.Nil(t, o.Answer, "refused by what was found")
	assert.Equal(t, tool.OutOf, o.Faults[0].Code)

	o = ask(`{"supply":"50"}`)
	require.Nil(t, o.Answer)
	assert.Equal(t, tool.WrongUnit, o.Faults[0].Code)
	head, body := o.Draft(lamp, english())
	assert.Nil(t, head)
	assert.Len(t, body, 1)
	assert.Equal(t, []string{"supply"}, lamp.Spoils("supply"))
	assert.Nil(t, lamp.Spoils("rows.0.label"))
}

// TestTreeAndJSON checks that a request gets the same answer as a tree and as JSON, and that neither may be too large.
func TestTreeAndJSON(t *testing.T) {
	tree := tool.ObjectNode(
		tool.Member{Name: "supply", Value: tool.TextNode("12 V")},
		tool.Member{Name: "rows", Value: tool.ListNode(tool.ObjectNode(tool.Member{Name: "label", Value: tool.TextNode("a")}))})
	want := ask(`{"supply":"12 V","rows":[{"label":"a"}]}`)
	got := lamp.Ask(tree, quantity.Point, english(), tool.Full)
	assert.Equal(t, want.Record.Pairs(), got.Record.Pairs())
	assert.Equal(t, want.Answer.Result, got.Answer.Result)

	long := tool.ObjectNode(tool.Member{Name: "label", Value: tool.TextNode(strings.Repeat("x", tool.MaxRequest))})
	o := lamp.Ask(long, quantity.Point, english(), tool.Full)
	require.Len(t, o.Faults, 1)
	assert.Equal(t, tool.OutOf, o.Faults[0].Code)
	assert.Equal(t, o.Faults, ask(`{"label":"`+strings.Repeat("x", tool.MaxRequest)+`"}`).Faults)
}

// TestGivenIsJSON checks that a value of the wrong form is said as it was given: an object or list as JSON, shortened if it is long.
func TestGivenIsJSON(t *testing.T) {
	for value, want := range map[string]string{
		`[1, 2]`:                          `[1,2]`,
		`[]`:                              `[]`,
		`{}`:                              `{}`,
		`{"a": [{"b\"": null}, "x", {}]}`: `{"a":[{"b\"":null},"x",{}]}`,
		`true`:                            `true`,
		`[` + strings.Repeat(`"é", `, 100) + `1]`: `["é","é","é","é","é","é","é","é","é","é"` + "…",
		`[["` + strings.Repeat("x", 1000) + `"]]`: `[["` + strings.Repeat("x", 37) + "…",
	} {
		o := ask(`{"supply": ` + value + `}`)
		require.Len(t, o.Faults, 1, value)
		assert.Equal(t, want, o.Faults[0].Given)
	}
	o := ask(`{"supply": "12 V", "colour": {"shade": 1, "x": [2]}}`)
	require.NotEmpty(t, o.Faults)
	assert.Equal(t, "[2]", o.Faults[0].Given, "a field that there is not")
}

// TestSetting checks that a setting is written as JSON in the order of its keys, with the later text if a key was set twice.
func TestSetting(t *testing.T) {
	l := &tool.Layout{Speak: english().Within("lamp")}
	e := l.Carry("lamp", "bulb", tool.Setting{"b", "1"}.Set("a", "2").Set("c", "").Set("b", "3"))
	b, err := e.MarshalJSON()
	require.NoError(t, err)
	assert.Contains(t, string(b), `{\"a\":\"2\",\"b\":\"3\"}`)
}
