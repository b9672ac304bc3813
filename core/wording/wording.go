// Package wording says sentences in the reader's language, with numbers in the reader's notation. Each sentence is worded
// in one place: in the folder of the tool that says it, in site for the frame of the page, or here if several rooms share
// it. This package names no tool.
//
// Languages are message catalogues of golang.org/x/text (book.go); the English one is complete. The page's module has no words and no
// catalogues: it is built with the tag "page" and reads what a book has compiled for one language (phrases.go). Tests hold that both
// say the same.
package wording

import (
	"sync"

	"ohmwright/core/quantity"
)

// An Entry is a sentence: its key, and its words with verbs of package fmt.
type Entry [2]string

// Words are the sentences of one room in one language, given by its BCP 47 tag.
type Words struct {
	Language string
	Entries  []Entry
}

// A Room is a part of the program with its own words. Inside the room their keys have no prefix; elsewhere a key is ROOM.KEY.
type Room struct {
	Name  string
	Words []Words
}

// SharedRoom returns the room of the shared words, which belong to no room.
func SharedRoom() Room {
	return Room{Words: []Words{{"en", english}, {"de", de}, {"es", es}, {"fr", fr}}}
}

// Key returns an entry's key as it is used outside its room.
func (r Room) Key(e Entry) string {
	if r.Name == "" {
		return e[0]
	}
	return r.Name + "." + e[0]
}

// A source has the sentences of one language.
type source interface {
	// has reports whether there are words for a key as it is used outside its room.
	has(key string) bool
	// say returns the words of such a key with its arguments; false if there are none.
	say(key string, args []any) (string, bool)
	// form returns the name of the form that the language has for a count; "" for "other".
	form(count int) string
}

// A Speaker words things for one reader. Several goroutines may use it at once.
type Speaker struct {
	words source
	mark  quantity.Mark
	room  string   // prefix of the keys of the room's own words; "" for none
	rooms sync.Map // speakers for rooms, by name
	said  sync.Map // what was said without arguments, since labels are said again at every keystroke
}

// Within returns a speaker for the same reader that looks a key up among a room's own words first.
func (s *Speaker) Within(room string) *Speaker {
	if s.room == room+"." {
		return s
	}
	if own, ok := s.rooms.Load(room); ok {
		return own.(*Speaker)
	}
	own, _ := s.rooms.LoadOrStore(room, &Speaker{words: s.words, mark: s.mark, room: room + "."})
	return own.(*Speaker)
}

// Mark returns the reader's decimal mark.
func (s *Speaker) Mark() quantity.Mark { return s.mark }

// Has reports whether there are words for a key.
func (s *Speaker) Has(key string) bool {
	return s.room != "" && s.words.has(s.room+key) || s.words.has(key)
}

// Say returns the words of a key with its arguments. It panics if the key has no words, which is a fault of the program.
func (s *Speaker) Say(key string, args ...any) string {
	if len(args) == 0 {
		if text, ok := s.said.Load(key); ok {
			return text.(string)
		}
	}
	text, ok := "", false
	if s.room != "" {
		text, ok = s.words.say(s.room+key, args)
	}
	if !ok {
		text, ok = s.words.say(key, args)
	}
	if !ok {
		if other, formed := plain(key); formed {
			return s.Say(other, args...)
		}
		panic("wording: no words for " + s.room + key)
	}
	if len(args) == 0 {
		s.said.Store(key, text)
	}
	return text
}
