package musicxml

import (
	"encoding/xml"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest/goldentest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// attributes returns those of a part's first measure.
func (p xmlPart) attributes(t require.TestingT) xmlContent {
	i := slices.IndexFunc(p.Measures[0].Content, func(c xmlContent) bool { return c.XMLName.Local == "attributes" })
	require.GreaterOrEqual(t, i, 0)
	return p.Measures[0].Content[i]
}

// words returns what stands above a part, each with its staff and, where it stands
// behind the beginning of a note, the ticks from there.
func (p xmlPart) words() (all []string) {
	for _, m := range p.Measures {
		for _, c := range m.Content {
			if c.Words != "" {
				all = append(all, strings.TrimSuffix(fmt.Sprintf("%s: staff %d+%d", c.Words, c.Staff, c.Offset), "+0"))
			}
		}
	}
	return all
}

// Music for the guitar stands an octave higher than it sounds, under a G clef with an 8
// below, and so does that of a bass under an F clef (common practice). Slashes have no
// octave.
func TestClefsAreThoseOfGuitarAndBass(t *testing.T) {
	treble, guitar, tab, bass := xmlClef{"G", 2, 0}, xmlClef{"G", 2, -1}, xmlClef{"TAB", 0, 0}, xmlClef{"F", 4, -1}
	for text, chords := range map[string]xmlClef{
		"title: Strummed\nkey: C major\nchart: '| C | F |'\n":                     treble,
		"title: Plucked\nkey: C major\nchart: '| C | F |'\npick: 'R - 2 3'\n":     guitar,
		"title: Begins plucked\nkey: A minor\nchart: '| Am |'\npick: 'R 3 2 3'\n": guitar,
	} {
		s := scoreOf(t, text)
		doc := read(t, s, Slashes)
		assert.Equal(t, []xmlClef{guitar, tab}, doc.part(t, "Guide").attributes(t).Clefs, text)
		assert.Equal(t, []xmlClef{chords}, doc.part(t, "Chords").attributes(t).Clefs, text)
		assert.Equal(t, []xmlClef{bass}, doc.part(t, "Bass").attributes(t).Clefs, text)
		assert.Equal(t, []xmlClef{guitar}, read(t, s, Written).part(t, "Chords").attributes(t).Clefs, text)
	}
}

// A ukulele is read as it sounds, a bass that plays the line in its own clef (common practice).
func TestTheLineStandsInItsInstrumentsClef(t *testing.T) {
	for tuning, want := range map[string]xmlClef{"G4 C4 E4 A4": {"G", 2, 0}, "E1 A1 D2 G2": {"F", 4, -1}} {
		doc := read(t, scoreOf(t, "title: Clef\nkey: C major\nchart: '| C | F |'\npick: 'R - 2 3'\nguitar: {tuning: "+tuning+"}\n"), Slashes)
		assert.Equal(t, []xmlClef{want, {"TAB", 0, 0}}, doc.part(t, "Guide").attributes(t).Clefs, tuning)
		assert.Equal(t, []xmlClef{want}, doc.part(t, "Chords").attributes(t).Clefs, tuning)
	}
}

func TestTheBassHasAPartWhereItPlays(t *testing.T) {
	s := scoreOf(t, twoDoors)
	for _, notes := range []int{len(s.Bass), 1} {
		s.Bass = s.Bass[:notes]
		doc := read(t, s, Slashes)
		assert.Equal(t, []string{"Guide", "Chords", "Bass"}, doc.Names)
		assert.Len(t, doc.Parts, 3)
	}
	s.Bass = nil
	doc := read(t, s, Slashes)
	assert.Equal(t, []string{"Guide", "Chords"}, doc.Names)
	assert.Len(t, doc.Parts, 2)
}

// Whoever reads a repeat plays all of it alike: what is played otherwise the second time
// is written out, whatever differs.
func TestARepeatIsKeptOnlyWhereAllIsPlayedAlike(t *testing.T) {
	for what, change := range map[string]func(*score.Strum, *score.BassNote){
		"a strum begins later":    func(s *score.Strum, _ *score.BassNote) { s.Tick += 60 },
		"a strum is shorter":      func(s *score.Strum, _ *score.BassNote) { s.Length -= 60 },
		"a strum goes up":         func(s *score.Strum, _ *score.BassNote) { s.Up = !s.Up },
		"a strum has an accent":   func(s *score.Strum, _ *score.BassNote) { s.Accent = !s.Accent },
		"a strum is damped":       func(s *score.Strum, _ *score.BassNote) { s.Damped = !s.Damped },
		"a strum is plucked":      func(s *score.Strum, _ *score.BassNote) { s.Picked = !s.Picked },
		"a bass note is later":    func(_ *score.Strum, n *score.BassNote) { n.Tick += 60 },
		"a bass note is shorter":  func(_ *score.Strum, n *score.BassNote) { n.Length -= 60 },
		"a bass note is another":  func(_ *score.Strum, n *score.BassNote) { n.Pitch.Octave++ },
		"a bass note lies higher": func(_ *score.Strum, n *score.BassNote) { n.Place.Fret += 5; n.Place.String++ },
	} {
		s := scoreOf(t, twoDoors)
		require.Len(t, read(t, s, Slashes).Parts[0].Measures, 3)
		strum := slices.IndexFunc(s.Strums, func(x score.Strum) bool { return x.Tick >= s.Bars[3].Tick })
		bass := slices.IndexFunc(s.Bass, func(x score.BassNote) bool { return x.Tick >= s.Bars[3].Tick })
		change(&s.Strums[strum], &s.Bass[bass])
		assert.Len(t, repeating(paper.Notate(s), Slashes).Measures, 6, what)
	}
}

// MusicXML 4.0, start-stop-discontinue: an ending that is closed stops, as before a
// repeat and at the end of the piece; the last one is left open where the piece goes on.
func TestEndingsAreOpenWhereThePieceGoesOn(t *testing.T) {
	for chart, want := range map[string][]string{
		"|: C |1. F :|2. G | C |": {"1 stop", "2 discontinue"},
		"|: C |1. F :|2. G |":     {"1 stop", "2 stop"},
	} {
		var got []string
		s := scoreOf(t, "title: Ends\nkey: C major\nchart: '"+chart+"'\nline: {density: 0%}\n")
		s.Bass = nil // it would not play the repeat alike
		for _, m := range read(t, s, Slashes).part(t, "Guide").Measures {
			for _, b := range m.Barlines {
				if b.Ending != nil && b.Ending.Type != "start" {
					got = append(got, b.Ending.Number+" "+b.Ending.Type)
				}
			}
		}
		assert.Equal(t, want, got, chart)
	}
}

func TestWaysToWriteChordsGoByName(t *testing.T) {
	for name, want := range map[string]Chords{"slashes": Slashes, "written": Written} {
		c := Chords(-1)
		require.NoError(t, c.UnmarshalText([]byte(name)))
		assert.Equal(t, want, c)
	}
	var c Chords
	assert.EqualError(t, c.UnmarshalText([]byte("notes")), `"notes" is no way to write chords; it must be slashes or written`)
}

// A repeat without a word is played twice (common practice).
func TestWordsStandAboveTheNotesThatTheyAreAbout(t *testing.T) {
	assert.Equal(t, []string{"Capo 1: staff 2", "as E: staff 1", "3 times: staff 1", "as A: staff 1"},
		read(t, scoreOf(t, "title: Thrice\nkey: F major\npasses: 1\nchart: '|: F | B♭ :| x3'\nline: {density: 0%}\nguitar: {capo: 1}\n"), Slashes).part(t, "Guide").words())
	assert.Empty(t, read(t, scoreOf(t, "title: Twice\nkey: C major\npasses: 1\nchart: '|: C | F :|'\nline: {density: 0%}\n"), Slashes).part(t, "Guide").words())
	round := read(t, scoreOf(t, "title: Round\nkey: C major\npasses: 2\nchart: '| C | F | G | C |'\n"), Slashes).part(t, "Guide").words()
	assert.Equal(t, []string{"last time: hold: staff 1"}, round)
}

// MusicXML 4.0, mode and capo.
func TestKeyAndCapoAreTold(t *testing.T) {
	for key, want := range map[string]string{
		"C major": "major", "A minor": "minor", "A harmonic minor": "minor", "A melodic minor": "minor", "D dorian": "dorian", "G mixolydian": "mixolydian",
	} {
		for capo := range 3 {
			doc := read(t, scoreOf(t, fmt.Sprintf("title: Mode\nkey: %s\nchart: '| 1 |'\nguitar: {capo: %d}\n", key, capo)), Slashes)
			told := doc.part(t, "Guide").attributes(t)
			assert.Equal(t, want, told.Mode, key)
			if assert.Equal(t, capo > 0, told.Capo != nil); capo > 0 {
				assert.Equal(t, capo, *told.Capo)
			}
			capos := slices.DeleteFunc(doc.part(t, "Guide").words(), func(w string) bool { return !strings.HasPrefix(w, "Capo") })
			assert.Len(t, capos, min(capo, 1))
		}
	}
}

// A whole note has no stem (common practice).
func TestTablatureHasStemsBelowAllButWholeNotes(t *testing.T) {
	stems := map[string]string{}
	for _, m := range read(t, scoreOf(t, "title: Stems\nkey: C major\nchart: '| C | C F |'\nline: {density: 0%}\n"), Slashes).part(t, "Guide").Measures {
		for _, n := range m.notes() {
			if n.Staff == int(tabStaff) {
				stems[n.Type] = n.Stem
			}
		}
	}
	assert.Equal(t, map[string]string{"whole": "", "half": "down"}, stems)
}

// MusicXML 4.0, note-type-value and accidental-value.
func TestNotesAndAccidentalsHaveTheStandardsNames(t *testing.T) {
	names := []string{"whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th"}
	for i, name := range names {
		assert.Equal(t, name, typeNames[paper.Value(1<<i)])
	}
	assert.Len(t, typeNames, len(names))
	names = []string{"triple-flat", "flat-flat", "flat", "natural", "sharp", "double-sharp", "triple-sharp"}
	for i, name := range names {
		assert.Equal(t, name, accidentalNames[i-3])
	}
}

// A score has the lowest note of a chord first (MusicXML 4.0, chord: from the bottom up
// by the standard's own examples), also where the strings do not rise in order.
func TestNotesOfAChordRise(t *testing.T) {
	s := scoreOf(t, "title: Small\nkey: C major\nchart: '| C | F | G7 |'\nguitar: {tuning: ukulele}\n")
	last := -1
	for _, m := range read(t, s, Written).part(t, "Chords").Measures {
		for _, n := range m.notes() {
			if n.Pitch == nil {
				continue
			}
			key := n.pitch(t).MIDI()
			if n.Chord != nil {
				assert.Greater(t, key, last)
			}
			last = key
		}
	}
}

// A diagram begins at the nut where the grip lies in the first four frets, and shows
// four frets or as many as the grip needs (common practice).
func TestFramesShowAsManyFretsAsTheGripNeeds(t *testing.T) {
	for _, c := range []struct {
		grip        neck.Grip
		first, many int
	}{
		{neck.Grip{-1, 3, 2, 0, 1, 0}, 0, 4},
		{neck.Grip{-1, 2, 4, 2, 4, 2}, 0, 4},
		{neck.Grip{-1, 2, 4, 2, 5, 2}, 2, 4},
		{neck.Grip{-1, 3, 5, 5, 5, 3}, 3, 4},
		{neck.Grip{7, -1, -1, -1, -1, 11}, 7, 5},
	} {
		var d document
		d.frame(c.grip)
		var frame xmlFrame
		require.NoError(t, xml.Unmarshal(d.Bytes(), &frame))
		assert.Equal(t, [2]int{c.first, c.many}, [2]int{frame.First, frame.Frets}, c.grip.String())
	}
}

// The golden file holds how each chord is told to an editor: as the kind whose name a
// musician gives it (a thirteenth without its eleventh), and
// what it has otherwise.
func TestKindsAreThoseThatAMusicianNames(t *testing.T) {
	var told strings.Builder
	for _, q := range theory.Qualities() {
		kind, degrees := kindOf(q)
		fmt.Fprintf(&told, "%-10s %s", theory.Chord{Quality: q}, kind)
		for _, d := range degrees {
			fmt.Fprintf(&told, ", %s %d by %+d", d.how, d.value, d.alter)
		}
		told.WriteString("\n")
	}
	goldentest.Equal(t, filepath.Join("testdata", "kinds.txt"), told.String())
}
