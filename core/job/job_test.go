package job

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	monday  = "2026-11-23T07:10:00Z"
	tuesday = "2026-11-24T07:10:00Z"
)

// small is a document with everything once, its keys in another order than ours.
const small = `{"v":1,"ohmwright":"job","made":"2026-11-23T07:10:00Z","id":"tarn24000001","changed":"2026-11-23T08:00:00.5Z",
 "archived":true,
 "facts":{"given":{"vehicle":"Tarn 24","supply":"13.8","specs.0.min":"5.0"},"units":{"supply":"V"},"rows":{"specs":2},
  "from":{"supply":"winding"}},
 "forms":{"winding":{"v":1,"given":{"reading":"6.9"},"units":{"reading":"ohm"},"names":{},"rows":{},"open":["fine"]}},
 "entries":[
  {"n":2,"kind":"reading","tool":"circuit","what":"resistance_component","value":"5.4 ohm","when":"2026-11-23T07:50:00Z","corrects":1},
  {"n":1,"kind":"reading","tool":"circuit","what":"resistance_component","value":"5.3 ohm","at":"20 degC",
   "when":"2026-11-23T07:40:00Z","who":"LM"},
  {"n":3,"kind":"answer","tool":"circuit","verdict":"component","said":"Replace <it> \"now\"\n\u0001","link":"#/circuit?v=1",
   "when":"2026-11-23T07:51:00Z","who":""},
  {"n":4,"kind":"withdrawn","corrects":2,"when":"2026-11-23T07:52:00Z","who":""},
  {"n":5,"kind":"step","what":"codes_cleared","when":"2026-11-23T07:53:00Z","who":""}],
 "photos":[{"id":"p1","when":"2026-11-23T07:53:00Z","note":"plate","type":"image/jpeg","data":"aGk="}]}`

func read(t testing.TB, text string) *Job {
	t.Helper()
	j, err := Read(text)
	require.NoError(t, err)
	return j
}

func TestReadThenWriteIsOneForm(t *testing.T) {
	j := read(t, small)
	once := Write(j)
	assert.Equal(t, once, Write(read(t, once)))
	assert.Equal(t, j, read(t, once))
	assert.Equal(t, "5.3 ohm", j.Entries[0].Value)
	assert.Equal(t, 1, j.Entries[1].Corrects)
	assert.Equal(t, map[string]int{"specs": 2}, j.Facts.Rows)
	assert.True(t, j.Archived)
	assert.Contains(t, once, `Replace <it> \"now\"\n\u0001`)
	empty := read(t, `{"ohmwright":"job","v":1,"id":"tarn24000001","made":"`+monday+`","changed":"`+monday+`"}`)
	assert.Equal(t, New("tarn24000001", monday), empty, "what is left out is empty")
}

// A refused is a document that is not read, and why.
type refused struct {
	text string
	want Fault
}

// swap returns the small document with one thing in it replaced.
func swap(old, new string) string {
	if !strings.Contains(small, old) {
		panic("not in the small document: " + old)
	}
	return strings.Replace(small, old, new, 1)
}

func refuse(t *testing.T, cases map[string]refused) {
	for name, c := range cases {
		j, err := Read(c.text)
		assert.Equal(t, c.want, err, name)
		assert.True(t, j == nil || err != nil, name)
	}
}

func TestReadRefusesOthers(t *testing.T) {
	refuse(t, map[string]refused{
		"nothing":         {"", Damaged},
		"no JSON":         {"{", Damaged},
		"two values":      {small + "{}", Damaged},
		"no UTF-8":        {swap("Tarn 24", "Tarn \xff"), Damaged},
		"a list":          {"[]", Other},
		"a number":        {"1", Other},
		"another file":    {`{"v":1,"given":{}}`, Other},
		"another kind":    {swap(`"job"`, `"recipe"`), Other},
		"no version":      {swap(`"v":1,"ohm`, `"ohm`), Damaged},
		"version 0":       {swap(`"v":1,"ohm`, `"v":0,"ohm`), Damaged},
		"version as text": {swap(`"v":1,"ohm`, `"v":"1","ohm`), Damaged},
		"newer":           {`{"ohmwright":"job","v":2,"whatever":[[{"x":null}]]}`, Newer},
		"newer form":      {swap(`{"winding":{"v":1`, `{"winding":{"v":2`), Newer},
		"nested":          {strings.Repeat("[", 1<<20), Damaged},
		"nested newer":    {`{"ohmwright":"job","v":2,"x":` + strings.Repeat("[", 9) + strings.Repeat("]", 9) + "}", Damaged},
		"10 MiB":          {strings.Repeat(" ", 10<<20), Large},
		"many values":     {"[" + strings.Repeat("1,", 170000) + "1]", Large},
	})
}

func TestReadRefusesWhatIsWrongInside(t *testing.T) {
	refuse(t, map[string]refused{
		"unknown key":          {swap(`"archived":true`, `"archived":true,"colour":"red"`), Damaged},
		"unknown fact key":     {swap(`"facts":{`, `"facts":{"more":{},`), Damaged},
		"unknown form key":     {swap(`{"winding":{`, `{"winding":{"more":1,`), Damaged},
		"unknown entry key":    {swap(`"n":1,`, `"n":1,"colour":"red",`), Damaged},
		"unknown photo key":    {swap(`"note":"plate"`, `"note":"plate","colour":"red"`), Damaged},
		"a key twice":          {swap(`"archived":true`, `"archived":true,"archived":true`), Damaged},
		"no ID":                {swap(`"id":"tarn24000001",`, ``), Damaged},
		"a short ID":           {swap(`tarn24000001`, `tarn`), Damaged},
		"an ID in capitals":    {swap(`tarn24000001`, `TARN24000001`), Damaged},
		"no time":              {swap(`"made":"2026-11-23T07:10:00Z",`, ``), Damaged},
		"a local time":         {swap(`2026-11-23T07:10:00Z`, `2026-11-23T07:10:00+01:00`), Damaged},
		"month 13":             {swap(`2026-11-23T07:10:00Z`, `2026-13-23T07:10:00Z`), Damaged},
		"a fact of no text":    {swap(`"Tarn 24"`, `24`), Damaged},
		"__proto__":            {swap(`"vehicle":`, `"__proto__":`), Damaged},
		"constructor":          {swap(`"vehicle":`, `"constructor":`), Damaged},
		"a.__proto__":          {swap(`"vehicle":`, `"a.__proto__.b":`), Damaged},
		"prototype":            {swap(`"specs":2`, `"prototype":2`), Damaged},
		"a form __proto__":     {swap(`{"winding":{`, `{"__proto__":{`), Damaged},
		"a key in capitals":    {swap(`"vehicle":`, `"Vehicle":`), Damaged},
		"a deep key":           {swap(`"vehicle":`, `"a.b.c.d.e.f.g":`), Damaged},
		"rows below none":      {swap(`"specs":2`, `"specs":-1`), Damaged},
		"too many rows":        {swap(`"specs":2`, `"specs":201`), Damaged},
		"half a row":           {swap(`"specs":2`, `"specs":1.5`), Damaged},
		"from no tool":         {swap(`"supply":"winding"`, `"supply":"Winding!"`), Damaged},
		"a gap in the numbers": {swap(`"n":5`, `"n":6`), Damaged},
		"a number twice":       {swap(`"n":2`, `"n":1`), Damaged},
		"corrects itself":      {swap(`"corrects":1`, `"corrects":2`), Damaged},
		"corrects a later one": {swap(`"corrects":1`, `"corrects":3`), Damaged},
		"corrects none":        {swap(`"corrects":1`, `"corrects":0`), Damaged},
		"corrects an answer":   {swap(`"what":"codes_cleared"`, `"what":"codes_cleared","corrects":3`), Damaged},
		"withdraws nothing":    {swap(`"kind":"withdrawn","corrects":2`, `"kind":"withdrawn"`), Damaged},
		"a reading of nothing": {swap(`"value":"5.3 ohm",`, ``), Damaged},
		"an answer that reads": {swap(`"verdict":"component"`, `"verdict":"component","value":"5 ohm"`), Damaged},
		"an unknown kind":      {swap(`"kind":"step"`, `"kind":"stop"`), Damaged},
		"a link elsewhere":     {swap(`#/circuit?v=1`, `https://elsewhere.example/`), Damaged},
		"a script as link":     {swap(`#/circuit?v=1`, `javascript:alert(1)`), Damaged},
		"a photo as page":      {swap(`image/jpeg`, `text/html`), Damaged},
		"a drawing as photo":   {swap(`image/jpeg`, `image/svg+xml`), Damaged},
		"no base64":            {swap(`aGk=`, `a"k=`), Damaged},
		"base64 cut":           {swap(`aGk=`, `aGk`), Damaged},
	})
}

func TestLimits(t *testing.T) {
	j := read(t, small)
	at := func(change func(j *Job)) error {
		j := read(t, small)
		change(j)
		_, err := Read(Write(j))
		return err
	}
	entry := j.Entries[0]
	assert.NoError(t, at(func(j *Job) {
		for len(j.Entries) < MostEntries {
			j.Append(entry)
		}
	}))
	assert.Equal(t, Large, at(func(j *Job) {
		for len(j.Entries) <= MostEntries {
			j.Append(entry)
		}
	}))
	assert.Equal(t, Large, at(func(j *Job) {
		for i := range MostKeys + 1 {
			j.Facts.Given[fmt.Sprint("specs.", i)] = "x"
		}
	}))
	assert.Equal(t, Large, at(func(j *Job) {
		for i := range 20 {
			j.Facts.Given[fmt.Sprint("specs.", i)] = strings.Repeat("x", mostText)
		}
	}), "more than 1 MiB without photographs")
	photo := j.Photos[0]
	photos := func(n, bytes int) func(j *Job) {
		return func(j *Job) {
			for i := range n - 1 {
				photo.ID, photo.Data = fmt.Sprint("more", i), strings.Repeat("A", bytes)
				j.Photos = append(j.Photos, photo)
			}
		}
	}
	assert.NoError(t, at(photos(MostPhotos, 600<<10)))
	assert.Equal(t, Large, at(photos(MostPhotos+1, 4)))
	assert.Equal(t, Large, at(photos(MostPhotos, 800<<10)))
	assert.Equal(t, Damaged, at(func(j *Job) { j.Photos = append(j.Photos, j.Photos[0]) }), "one ID twice")
}

func TestCorrectAndWithdraw(t *testing.T) {
	j := New("tarn24000001", monday)
	first := j.Append(Entry{Kind: Reading, Tool: "winding", What: "reading", Value: "5.3 ohm", When: monday})
	done := j.Append(Entry{Kind: Step, What: "codes_cleared", When: monday})
	second := j.Correct(first, Entry{Kind: Reading, Tool: "winding", What: "reading", Value: "5.4 ohm", When: monday})
	assert.Equal(t, []int{1, 2, 3}, []int{first, done, second})
	assert.Equal(t, []bool{false, true, true}, j.Standing())
	assert.Equal(t, "5.3 ohm", j.Entries[0].Value, "what was noted stays")
	gone := j.Withdraw(second, tuesday, "LM")
	assert.Equal(t, []bool{false, true, false, false}, j.Standing())
	for what, n := range map[string]int{
		"no such entry":  j.Correct(9, Entry{Kind: Reading, Tool: "winding", What: "reading", Value: "5 ohm", When: monday}),
		"another kind":   j.Correct(done, Entry{Kind: Reading, Tool: "winding", What: "reading", Value: "5 ohm", When: monday}),
		"a withdrawal":   j.Withdraw(gone, tuesday, ""),
		"entry 0":        j.Withdraw(0, tuesday, ""),
		"a negative one": j.Withdraw(-1, tuesday, ""),
	} {
		assert.Zero(t, n, what)
	}
	assert.Len(t, j.Entries, 4)
	assert.Equal(t, j, read(t, Write(j)))
	last, ok := j.Last(func(e Entry) bool { return true })
	assert.True(t, ok)
	assert.Equal(t, Step, last.Kind)
}

func TestNamesOfTimesAndKeys(t *testing.T) {
	for _, s := range []string{monday, "2026-11-23T07:10:00.123Z", "2028-02-29T23:59:60Z"} {
		assert.True(t, IsTime(s), s)
	}
	for _, s := range []string{"", "Z", "2026-11-23", "2026-11-23 07:10:00Z",
		"2026-11-23T07:10:00", "2026-11-23T07:10:00.Z", "2026-00-23T07:10:00Z",
		"2026-11-32T07:10:00Z", "2026-11-23T24:10:00Z", "2026-11-23T07:60:00Z", "2026-11-23T07:10:0xZ", "2026-11-23T07:10:00,5Z"} {
		assert.False(t, IsTime(s), s)
	}
	for _, s := range []string{"specs.0.min", "costs.wrong.unit_power", "minutes.voltage_unit_test_load", "a"} {
		assert.True(t, IsKey(s), s)
	}
	for _, s := range []string{"", ".", "a.", ".a", "a..b", "0.a", "a1", "_a", "__proto__", "a.constructor", "constructor", "a b", "ä"} {
		assert.False(t, IsKey(s), s)
	}
}

func TestMissing(t *testing.T) {
	assert.Equal(t, Needs, Missing(func(Need) bool { return false }))
	assert.Equal(t, []Need{NeedOdometer}, Missing(func(n Need) bool { return n != NeedOdometer }))
	assert.Empty(t, Missing(func(Need) bool { return true }))
}
