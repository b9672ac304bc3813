//go:build !page

package tools

import (
	"sync"

	"ohmwright/core/tools/bank"
	"ohmwright/core/tools/circuit"
	"ohmwright/core/tools/code"
	"ohmwright/core/tools/drive"
	"ohmwright/core/tools/exercise"
	"ohmwright/core/tools/handover"
	"ohmwright/core/tools/loop"
	"ohmwright/core/tools/torque"
	"ohmwright/core/tools/trace"
	"ohmwright/core/tools/winding"
	"ohmwright/core/tools/worksheet"
	"ohmwright/core/wording"
)

// Rooms returns the words of every tool, under the tool's name, in the order of the menu. To add a tool, add a line here too: the page's
// module is built without this file, and so without the words.
func Rooms() []wording.Room {
	return []wording.Room{
		{Name: winding.Tool.Name, Words: winding.Words()},
		{Name: bank.Tool.Name, Words: bank.Words()},
		{Name: loop.Tool.Name, Words: loop.Words()},
		{Name: circuit.Tool.Name, Words: circuit.Words()},
		{Name: torque.Tool.Name, Words: torque.Words()},
		{Name: handover.Tool.Name, Words: handover.Words()},
		{Name: code.Tool.Name, Words: code.Words()},
		{Name: drive.Tool.Name, Words: drive.Words()},
		{Name: trace.Tool.Name, Words: trace.Words()},
		{Name: exercise.Tool.Name, Words: exercise.Words()},
		{Name: worksheet.Tool.Name, Words: worksheet.Words()},
	}
}

// Book returns the words of all tools.
var Book = sync.OnceValue(func() *wording.Book { return wording.NewBook(Rooms()...) })

// Speaker returns a speaker for a reader. It uses English if there are no words in the language; locale decides how
// numbers are written.
func Speaker(lang, locale string) *wording.Speaker { return Book().Speaker(lang, locale) }

// English returns the speaker for the command line, the edge, and any reader about whom nothing is known.
var English = sync.OnceValue(func() *wording.Speaker { return Speaker("en", "en") })
