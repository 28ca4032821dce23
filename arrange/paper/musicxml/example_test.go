package musicxml_test

import (
	"bytes"
	"fmt"
	"strings"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/musicxml"
)

func ExampleWrite() {
	e, err := exercise.Parse("two-doors.yaml", []byte("title: Two Doors\nkey: G major\nchart: '| G | Em |'\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	s, _, err := arrange.Arrange(e)
	if err != nil {
		fmt.Println(err)
		return
	}
	var file bytes.Buffer
	if err := musicxml.Write(&file, paper.Notate(s), musicxml.Slashes); err != nil {
		fmt.Println(err)
		return
	}
	for line := range strings.Lines(file.String()) {
		if strings.Contains(line, "<work-title>") || strings.Contains(line, "<measure ") || strings.Contains(line, "<kind ") {
			fmt.Print(line)
		}
	}
	// Output:
	//     <work-title>Two Doors</work-title>
	//     <measure number="1">
	//         <kind text="">major</kind>
	//     <measure number="2">
	//         <kind text="m">minor</kind>
	//     <measure number="1">
	//         <kind text="">major</kind>
	//     <measure number="2">
	//         <kind text="m">minor</kind>
}
