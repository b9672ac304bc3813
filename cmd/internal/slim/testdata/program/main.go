// Command program does what the function table is read for while a program runs, and prints what comes of it. With an argument it ends
// in a panic.
package main

import (
	"errors"
	"fmt"
	"os"
	"reflect"
	"runtime"
	"strings"
)

type named struct{ text string }

func (n named) Name() string               { return n.text }
func (n *named) Joined(a, b string) string { return n.text + a + b }

type namer interface{ Name() string }

// namers are not known to the compiler where they are called, so that it calls its wrapper of the method.
var namers = map[string]namer{"nobody": (*named)(nil)}

// recovered returns the text of the panic of a function.
func recovered(f func()) (text string) {
	defer func() { text = fmt.Sprint(recover()) }()
	f()
	return "no panic"
}

// deep grows the stack, with pointers in every frame, and collects garbage at the bottom.
func deep(n int, below *int) int {
	own := [20]*int{0: below, 19: new(int)}
	*own[19] = n
	if n == 0 {
		runtime.GC()
		return *below
	}
	return deep(n-1, own[19]) + *own[19] + *own[0]
}

func garbage() string {
	var b strings.Builder
	for i := range 2000 {
		b.WriteString(strings.Repeat("x", i%7))
		if i%500 == 0 {
			runtime.GC()
		}
	}
	return fmt.Sprint(b.Len())
}

func catch() { _ = recover() }

// through catches nothing where it is deferred, as a function that it calls does, even if it is inlined in a wrapper of the compiler.
type through struct{}

func (through) end() { catch() }

type around struct{ through }

func besides() (text string) {
	defer func() { text = fmt.Sprint("outer ", recover()) }()
	for _, one := range []interface{ end() }{&around{}, &through{}} {
		defer one.end()
	}
	panic("not recovered besides")
}

// nested recovers only where Go says so: not in a function that the deferred one calls.
func nested() (text string) {
	defer func() { text = fmt.Sprint("outer ", recover()) }()
	defer func() { func() { _ = recover() }() }()
	panic("not recovered inside")
}

func main() {
	if len(os.Args) > 1 {
		panic(errors.New("ends here"))
	}
	printAll()
	<-make(chan int) // no goroutine is left to wake this one
}

func printAll() {
	fmt.Println(deep(3000, new(int)), garbage(), nested())

	fmt.Println(recovered(func() { fmt.Println(namers["nobody"].Name()) }))
	fmt.Println(recovered(func() { fmt.Println(reflect.ValueOf("text").NumField()) }))
	fmt.Println(recovered(func() { fmt.Println([]int{1, 2}[len(os.Args)+1]) }))
	fmt.Println(recovered(func() { var m map[string]int; m["a"] = 1 }))
	fmt.Println(recovered(func() { fmt.Println(namers["missing"].Name()) }))
	fmt.Println(besides())
	fmt.Println(switched())
	fmt.Println(recovered(func() { panic(fmt.Errorf("wrapped: %w", errors.New("cause"))) }))

	made := reflect.MakeFunc(reflect.TypeFor[func(*int, string) string](), func(in []reflect.Value) []reflect.Value {
		return []reflect.Value{reflect.ValueOf(fmt.Sprint(deep(500, in[0].Interface().(*int)), garbage(), in[1]))}
	}).Interface().(func(*int, string) string)
	fmt.Println(made(new(int), "made"))
	method := reflect.ValueOf(&named{"method"}).MethodByName("Joined").Interface().(func(a, b string) string)
	fmt.Println(method(garbage(), fmt.Sprint(deep(500, new(int)))))

	sum, done := 0, make(chan int)
	for i := range 20 {
		go func() {
			defer func() { done <- i }()
			deep(200, &i)
		}()
	}
	for range 20 {
		sum += <-done
	}
	for range 1000 {
		runtime.Gosched() // until they have ended
	}
	fmt.Println(sum, runtime.NumGoroutine())
	fmt.Println(busy())
}
