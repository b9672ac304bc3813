package tool

import "testing"

func FuzzRunCircuit(f *testing.F)  { fuzzRun(f, "circuit") }
func FuzzRunExercise(f *testing.F) { fuzzRun(f, "exercise") }
