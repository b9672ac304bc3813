//go:build !page

package tools_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/tools"
)

// TestCountsReadRight compares sentences that count with ones written by hand, for none, one, two and many, in each language; French counts
// none as one. Words of the module say the same.
func TestCountsReadRight(t *testing.T) {
	for _, c := range []struct {
		language, key string
		counts        []int
		want          []string
	}{
		{"en", "torque.step.all", []int{0, 1, 2, 40}, []string{"0 bolts", "1 bolt", "2 bolts", "40 bolts"}},
		{"de", "torque.step.all", []int{0, 1, 2, 40}, []string{"0 Schrauben", "1 Schraube", "2 Schrauben", "40 Schrauben"}},
		{"es", "torque.step.all", []int{0, 1, 2, 40}, []string{"0 tornillos", "1 tornillo", "2 tornillos", "40 tornillos"}},
		{"fr", "torque.step.all", []int{0, 1, 2, 40}, []string{"0 vis", "1 vis", "2 vis", "40 vis"}},
		{"en", "trace.warn.coarse", []int{1, 2}, []string{"Only 1 sample in a period: ripple and duty are rough.",
			"Only 2 samples in a period: ripple and duty are rough."}},
		{"de", "trace.warn.coarse", []int{1}, []string{"Nur 1 Abtastwert je Periode: Welligkeit und Tastgrad sind grob."}},
		{"es", "trace.warn.coarse", []int{1}, []string{"Solo 1 muestra en un período: el rizado y el ciclo son aproximados."}},
		{"fr", "trace.warn.coarse", []int{0, 1}, []string{
			"Seulement 0 point par période\u00a0: ondulation et rapport cyclique sont approximatifs.",
			"Seulement 1 point par période\u00a0: ondulation et rapport cyclique sont approximatifs."}},
	} {
		book, module := tools.Speaker(c.language, c.language), compiled(t, c.language).Speaker(c.language)
		for i, count := range c.counts {
			assert.Equal(t, c.want[i], book.Say(book.Form(c.key, count), strconv.Itoa(count)), c.language)
			assert.Equal(t, c.want[i], module.Say(module.Form(c.key, count), strconv.Itoa(count)), c.language)
		}
	}
}
