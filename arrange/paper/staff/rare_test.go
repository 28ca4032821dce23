package staff

import (
	"testing"

	"thirdwise/arrange/paper"
)

// What few exercises ask for, looked at by a person: flags and beams of thirty-seconds,
// two dots, triple alterations, rests of every value, ties of single notes and of those
// that go on in another line, and tuplets whose stems point both ways.
func TestRareNotesLookAsTheyDid(t *testing.T) {
	p := &picture{TB: t, y: 8}
	row := func(clef paper.Clef, texts ...string) {
		var all []*Measure
		for _, text := range texts {
			all = append(all, byHand(t, text, clef))
		}
		p.lines(p.measures(4, all), 17)
	}
	row(paper.GuitarClef, "32:F4+A4 32:C5+E5 32:C4+E4 32:A5+C6 16:D4+F4 16:D5+F5 8:G4+B4 8:B4+D5 32:C3+E3 32:E6+G6", "[32:F4+A4 32:G4+B4 32:A4+C5 32:B4+D5] [32:A5+C6 16:G5+B5 32:F5+A5]")
	row(paper.GuitarClef, "4..:F4+A4 2..:G4+B4 4.:D5+F5 8..:A4+C5 4..:r 8.:r 16..:r", "1:r 2:r 4:r 8:r 16:r 32:r", "1:bar", "1..:E4+G4")
	row(paper.GuitarClef, "4:F###4+A###4 4:F##4+A##4 4:F#4+A#4 4:Bb4+Db5 4:Bbb4+Dbb5 4:Bbbb4+Dbbb5")
	row(paper.GuitarClef, "~2:G4+B4 4:F4~ 4:F4 4:D5~ 4:D5 1:G4+B4~", "~8:G4+B4~ 2:G4+B4 4:D5~", "~4:D5 2:F4~")
	row(paper.GuitarClef, "~4:D5 2:C4+E4~")
	row(paper.BassClef, "4:C3 [8:E3 8:G3] 4:E4 8:A3 2:C2~", "2:C2~")
	third := paper.Tuplet{Last: 2, Actual: 3, Normal: 2, Value: 8}
	for i, text := range []string{
		"4:F4+A4 4:D5+F5 4:E5+G5", "4:F4+A4 4:G4+B4 4:D5+F5", "4:C4+E4 4:r 4:D5+F5", "4:C5+E5 4:G5+B5 4:A5+C6", "4:A5+C6 4:C4+E4 4:E4+G4",
		"[8:F4+A4 8:G4+B4 8:A4+C5]", "[8:C3+E3 8:D3+F3 8:E3+G3]", "[8:C6+E6 8:B5+D6 8:D6+F6]", "[8:C5+E5 8:D5+F5 8:F5+A5]", "4:A2+C3 4:B2+D3 4:G2+B2", "4:E6+G6 4:F6+A6 4:E6+G6",
	} {
		p.measures(4+28*float64(i%6), []*Measure{byHand(t, text, paper.GuitarClef, third)})
		if i%6 == 5 || i == 10 {
			p.lines(170, 18)
		}
	}
	p.equal("rare.svg")
}
