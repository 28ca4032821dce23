package sheet_test

import (
	"bytes"
	"fmt"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/paper/sheet"
)

func ExampleLay() {
	exercise, err := exercise.Parse("steps.yaml", []byte("title: Steps\nkey: C major\nchart: |\n  | C | F | G | C |\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	score, _, err := arrange.Arrange(exercise)
	if err != nil {
		fmt.Println(err)
		return
	}
	laid, err := sheet.Lay(paper.Notate(score), sheet.Options{Paper: drawing.A4})
	if err != nil {
		fmt.Println(err)
		return
	}
	var pdf bytes.Buffer
	if err := drawing.WritePDF(&pdf, laid); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %d page, begins %q\n", laid.Title, len(laid.Pages), pdf.Bytes()[:5])
	// Output: Steps: 1 page, begins "%PDF-"
}
