package main

import (
	"errors"
	"fmt"
	"os"
	"reflect"
	"strings"
)

// Types for switches: cases of any and of an interface with methods, and types that are no case anywhere.
type (
	one        struct{ a, b int }
	two        [3]string
	three      map[one]two
	four       func(one) two
	none       struct{ a, b int }
	other      [4]string
	box[T any] struct{ of T }
)

func (one) Name() string      { return "one" }
func (*two) Name() string     { return "two" }
func (box[T]) Name() string   { return fmt.Sprintf("box of %T", *new(T)) }
func (none) Name() string     { return "none" }
func (*other) String() string { return "a stringer" }

// kindOf has enough cases that hashes are searched for.
func kindOf(v any) string {
	switch v := v.(type) {
	case nil:
		return "nil"
	case one, *one:
		return "one"
	case two:
		return "two"
	case three:
		return fmt.Sprint("three ", len(v))
	case four:
		return "four"
	case []one:
		return "ones"
	case map[string]*two:
		return "twos"
	case box[int]:
		return "box of int"
	case box[string]:
		return "box of string"
	case struct{ a, b int }:
		return "no name"
	case chan<- *one:
		return "channel"
	case error:
		return "error"
	case fmt.Stringer:
		return v.String()
	}
	return "no case"
}

func nameOf(v namer) string {
	switch v := v.(type) {
	case one:
		return "case one"
	case *two:
		return "case two"
	case box[int]:
		return "case box"
	case *named:
		return "case named " + v.text
	default:
		return "default " + v.Name()
	}
}

func is[T any](v any) bool {
	switch v.(type) {
	case box[T]:
		return true
	case []T:
		return len(os.Args) > 0
	}
	return false
}

// many has methods of which one is called by an interface and one by its name; the linker cuts the others.
type many struct{ text string }

func (m *many) Above() string             { return "above" + m.text }
func (m *many) Joined(a, b string) string { return m.text + a + b }
func (m *many) Lower() string             { return strings.ToLower(m.text) }
func (m *many) Name() string              { return "many" }
func (m *many) Upper(by func(none)) int   { return len(m.text) }

// switched asks type switches, assertions, maps of any type, and types that reflect makes or finds.
func switched() string {
	var all []string
	keys := map[any]int{}
	for i, v := range []any{nil, one{}, &one{}, two{}, three{}, four(nil), []one{}, map[string]*two{}, box[int]{}, box[string]{}, box[bool]{},
		struct{ a, b int }{}, make(chan<- *one), errors.New("x"), &other{}, none{}, &none{}, other{}, []none{}, 1, "text", map[none]other{}} {
		all = append(all, kindOf(v))
		if v == nil || reflect.TypeOf(v).Comparable() {
			keys[v] = i
		}
		_, isStringer := v.(fmt.Stringer)
		_, isNone := v.(none)
		all = append(all, fmt.Sprintf("%T %t %t %t %t", v, isStringer, isNone, is[int](v), is[none](v)))
	}
	for _, v := range []namer{one{}, &two{}, box[int]{}, box[string]{}, none{}, &named{"n"}, named{"m"}} {
		all = append(all, nameOf(v))
	}
	v := any(&many{"text"})
	byName := reflect.ValueOf(v).MethodByName("Joined").Interface().(func(a, b string) string)
	all = append(all, nameOf(v.(namer)), byName("a", "b"))
	slice := reflect.SliceOf(reflect.TypeFor[one]())
	all = append(all, kindOf(reflect.MakeSlice(slice, 1, 1).Interface()), kindOf(reflect.New(reflect.TypeFor[one]()).Interface()),
		kindOf(reflect.MakeMap(reflect.MapOf(reflect.TypeFor[string](), reflect.TypeFor[*two]())).Interface()),
		fmt.Sprint(reflect.MakeMap(reflect.MapOf(reflect.TypeFor[none](), slice)).Type(), keys[one{}], keys[none{}], keys["text"], len(keys)))
	return "switched " + strings.Join(all, "; ")
}
