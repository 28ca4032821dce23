package theory_test

import (
	"fmt"

	"thirdwise/theory"
)

// Thirds of the interval names that a harmony handbook gives (from memory).
func ExampleThird_Quality() {
	for _, notes := range [][2]string{{"C4", "E4"}, {"D4", "F4"}, {"C#4", "Eb4"}, {"F4", "A#4"}} {
		lower, _ := theory.ParsePitch(notes[0])
		upper, _ := theory.ParsePitch(notes[1])
		fmt.Println(theory.Third{Lower: lower, Upper: upper}.Quality())
	}
	// Output:
	// major
	// minor
	// d3
	// A3
}
