package source_test

import (
	"fmt"

	"thirdwise/arrange/exercise/source"
)

// A reader of settings takes texts from them and says to each what is wrong with it.
func ExampleFile_Settings() {
	file := source.Read("song.yaml", []byte("title: Bent Nail\ntempos: [60, fast, 100]\n"))
	settings, _ := file.Settings()
	for _, s := range settings {
		fmt.Println(s.Name, s.Value.Kind == source.List)
		for _, tempo := range s.Value.List {
			if tempo.String() == "fast" {
				tempo.Mistake("fast is not a number", "write beats per minute")
			}
		}
	}
	fmt.Print(file.Findings().Report())
	// Output:
	// title false
	// tempos true
	// song.yaml:2:14: fast is not a number
	//     tempos: [60, fast, 100]
	//                  ^^^^
	//     write beats per minute
}

// Findings are an error where there is a mistake among them, and none otherwise.
func ExampleFindings_Err() {
	list := source.Findings{
		{File: "song.yaml", Span: source.Span{Pos: source.Pos{Line: 4, Column: 7}}, Severity: source.Note, Message: "E7 is outside A dorian"},
	}
	fmt.Println(list.Err())
	list = append(list, source.Finding{File: "song.yaml", Message: "the file cannot be read"})
	fmt.Println(list.Err())
	// Output:
	// <nil>
	// song.yaml: the file cannot be read
}
