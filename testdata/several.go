package testdata

import "runtime"

// Several returns how many of n drawn cases a test tries: all, or a quarter under js/wasm, where the code is the same and five times as
// slow.
func Several(n int) int {
	if runtime.GOOS == "js" {
		return max(1, n/4)
	}
	return n
}
