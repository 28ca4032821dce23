package main

// switches is the file that a room gets beside its own, where all changes are made
// behind switches: the one whose number is in the environment is on. Where the
// environment names a file instead, the numbers of all switches that are passed are
// written there. Nothing but the room's name is missing from it.
const switches = `

import (
	mutantOrder "cmp"
	mutantFormat "strconv"
	mutantSystem "os"
	mutantGuard "sync/atomic"
)

var (
	mutantNow, _  = mutantFormat.Atoi(mutantSystem.Getenv("MUTANT"))
	mutantPath    = mutantSystem.Getenv("MUTANTS_PASSED")
	mutantPassed  [1 << 16]mutantGuard.Bool
)

func mutantOn(number int) bool {
	if mutantPath != "" && !mutantPassed[number].Load() {
		mutantPass(number)
	}
	return mutantNow == number
}

func mutantPass(number int) {
	if mutantPassed[number].Swap(true) {
		return
	}
	file, err := mutantSystem.OpenFile(mutantPath, mutantSystem.O_APPEND|mutantSystem.O_CREATE|mutantSystem.O_WRONLY, 0o666)
	if err != nil {
		panic(err)
	}
	defer file.Close()
	if _, err := file.WriteString(mutantFormat.Itoa(number) + "\n"); err != nil {
		panic(err)
	}
}

type mutantAmount interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~float32 | ~float64
}

func mutantNumber[T mutantAmount](number int, was, becomes T) T {
	if mutantOn(number) {
		return becomes
	}
	return was
}

func mutantLess[T mutantOrder.Ordered](number int, a, b T) bool    { return a < b || a == b && mutantOn(number) }
func mutantAtMost[T mutantOrder.Ordered](number int, a, b T) bool  { return a < b || a == b && !mutantOn(number) }
func mutantMore[T mutantOrder.Ordered](number int, a, b T) bool    { return a > b || a == b && mutantOn(number) }
func mutantAtLeast[T mutantOrder.Ordered](number int, a, b T) bool { return a > b || a == b && !mutantOn(number) }

func mutantSum[T mutantAmount](number int, a, b T) T {
	if mutantOn(number) {
		return a - b
	}
	return a + b
}

func mutantDifference[T mutantAmount](number int, a, b T) T {
	if mutantOn(number) {
		return a + b
	}
	return a - b
}

func mutantProduct[T mutantAmount](number int, a, b T) T {
	if mutantOn(number) {
		return a / b
	}
	return a * b
}

func mutantQuotient[T mutantAmount](number int, a, b T) T {
	if mutantOn(number) {
		return a * b
	}
	return a / b
}
`
