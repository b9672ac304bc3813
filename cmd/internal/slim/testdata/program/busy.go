package main

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"
	"time"
)

// busy keeps the runtime busy with all that a page asks of it: what it prints would be other, or the program would stop, if a function were
// empty that is reached.
func busy() string {
	return strings.Join([]string{finalized(), mapped(), timed(), waited(), hidden(), keys(), grown()}, " ")
}

// finalized counts finalizers and cleanups that have run.
func finalized() string {
	var mutex sync.Mutex
	finished, cleaned := 0, 0
	count := func(n *int) {
		mutex.Lock()
		defer mutex.Unlock()
		*n++
	}
	for range 100 {
		one := &[10]*int{new(int)}
		runtime.SetFinalizer(one, func(*[10]*int) { count(&finished) })
		two := &[12]*int{new(int)}
		runtime.AddCleanup(two, func(n *int) { count(n) }, &cleaned)
	}
	for i := 0; i < 100; i++ {
		runtime.GC()
		time.Sleep(time.Millisecond)
		mutex.Lock()
		done := finished > 90 && cleaned > 90
		mutex.Unlock()
		if done {
			return "finalized"
		}
	}
	return "not finalized"
}

// mapped fills and empties maps of several kinds of keys.
func mapped() string {
	numbers, texts, others := map[int]string{}, map[string][]int{}, map[any]int{}
	type pair struct {
		a string
		b any
	}
	for i := range 5000 {
		text := fmt.Sprint(i)
		numbers[i] = text
		texts[text] = append(texts[text], i, i)
		others[i], others[text], others[pair{text, i}], others[float32(i)] = i, i, i, i
		if i%3 == 0 {
			delete(numbers, i)
			delete(others, any(text))
		}
	}
	sum := 0
	for _, n := range others {
		sum += n
	}
	copied := map[any]int{}
	for key, n := range others {
		copied[key] = n
	}
	clear(texts)
	return fmt.Sprint(len(numbers), len(texts), len(copied), sum, others[pair{"77", 77}])
}

// timed uses timers in goroutines, and ends some before their time.
func timed() string {
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Millisecond)
	defer cancel()
	ticker := time.NewTicker(time.Millisecond)
	defer ticker.Stop()
	ticks := 0
	for ctx.Err() == nil {
		select {
		case <-ticker.C:
			ticks++
		case <-ctx.Done():
		case <-time.After(time.Second):
		}
	}
	late := time.AfterFunc(time.Hour, func() { panic("not in an hour") })
	return fmt.Sprint(ticks > 0, late.Stop(), ctx.Err())
}

// waited has goroutines wait for each other in many ways.
func waited() string {
	var group sync.WaitGroup
	var mutex sync.RWMutex
	var once sync.Once
	ready := sync.NewCond(&sync.Mutex{})
	begun, sum := false, 0
	work, done := make(chan int, 3), make(chan struct{})
	for range 50 {
		group.Go(func() {
			ready.L.Lock()
			for !begun {
				ready.Wait()
			}
			ready.L.Unlock()
			once.Do(func() { sum += 1000 })
			for n := range work {
				mutex.Lock()
				sum += n
				mutex.Unlock()
				runtime.Gosched()
				mutex.RLock()
				_ = sum
				mutex.RUnlock()
			}
		})
	}
	ready.L.Lock()
	begun = true
	ready.L.Unlock()
	ready.Broadcast()
	for i := range 2000 {
		select {
		case work <- i:
		case <-done:
		}
		if i%200 == 0 {
			runtime.GC()
		}
	}
	close(work)
	group.Wait()
	return fmt.Sprint(sum)
}

// hidden panics in several ways behind each other, and goes on.
func hidden() (text string) {
	defer func() { text = fmt.Sprint(recover()) }()
	defer func() {
		defer func() { panic(fmt.Sprint(recover(), " behind")) }()
		panic(fmt.Sprint(recover(), " second"))
	}()
	ended := make(chan bool)
	go func() {
		defer close(ended)
		defer func() { _ = recover() }()
		for range 3 {
			defer func() { recover() }()
		}
		runtime.Goexit()
	}()
	<-ended
	var none *[4]int
	return fmt.Sprint(none[len(text)])
}

// keys does a page's work some thousand times: short strings, sorted and joined.
func keys() string {
	var all []string
	for i := range 20000 {
		all = append(all, strings.Repeat(string(rune('a'+i%26)), i%17))
		if len(all) > 300 {
			slices.Sort(all)
			sort.SliceStable(all, func(a, b int) bool { return len(all[a]) < len(all[b]) })
			all = slices.Clip(slices.Compact(all))[:len(all)/3]
		}
	}
	return fmt.Sprint(len(all), " ", len(strings.Join(all, "")), fmt.Sprintf(" %5.2f|%-4s|%x|%v|%+d", 3.14159, "a", []byte("z"), all[:2], 7))
}

// grown grows stacks of many goroutines at once, and large pieces of memory.
func grown() string {
	var group sync.WaitGroup
	results := make([]int, 30)
	for i := range results {
		group.Go(func() { results[i] = deep(300+10*i, &i) })
	}
	group.Wait()
	var kept [][]byte
	for i := range 40 {
		kept = append(kept, make([]byte, 1<<(10+i%11)))
		if i%5 == 0 {
			kept = kept[len(kept)/2:]
		}
	}
	return fmt.Sprint(results[3] > 0, len(kept))
}
