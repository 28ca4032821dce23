package exercise

import (
	"thirdwise/arrange/exercise/chart"
	"thirdwise/arrange/exercise/source"
	"thirdwise/arrange/exercise/strum"
	"thirdwise/arrange/score"
	"thirdwise/theory/line/rhythm"
	"thirdwise/theory/meter"
	"thirdwise/theory/neck"
)

// The settings of an exercise, and of the groups in it, in the order in which they
// are listed to people.
var (
	requiredSettings = []string{"title", "key", "chart"}
	exerciseSettings = []string{"title", "subtitle", "by", "key", "meter", "chart", "chart-as", "ladder", "ladder-chords", "passes", "tempos", "count-in", "climb", "turns", "feel", "line", "guitar", "strum", "pick", "bass", "groove", "click", "note", "student", "numerals"}
	lineSettings     = []string{"density", "grid", "rhythm", "push", "own", "variant", "low", "high"}
	guitarSettings   = []string{"tuning", "capo", "position"}
)

// Limits of an exercise.
const (
	maxTitle   = 200 // characters
	maxNote    = 2000
	minTempo   = 20 // beats per minute
	maxTempo   = 400
	maxPasses  = 100
	maxCountIn = 8  // bars
	maxClimb   = 50 // beats per minute
	maxTurns   = 64 // bars
	maxStrum   = 64 // signs
	MaxVariant = 9
)

// Parse reads an exercise: the YAML text that a teacher writes. The name is the
// one that findings are reported under, usually the file's.
//
// Everything that is wrong comes back at once, as [source.Findings] in the order
// of the file. Settings that no exercise has, settings given twice, and what YAML
// has for programs (anchors, aliases, merge keys, tags, several documents) are
// mistakes.
func Parse(name string, src []byte) (*Exercise, error) {
	file := source.Read(name, src)
	var e *Exercise
	if written, ok := file.Settings(); ok {
		e = parse(written)
	}
	if err := file.Findings().Of(source.Mistake).Err(); err != nil {
		return nil, err
	}
	e.file = file
	return e, nil
}

// parse reads the settings of an exercise, those first on which others depend. A
// key that cannot be read becomes C major and a meter the zero Meter, so that the
// rest is still checked.
func parse(written []source.Setting) *Exercise {
	all := known(written, exerciseSettings)
	required := requiredSettings
	if _, ok := all["ladder"]; ok {
		required = []string{"title", "key"}
	}
	all.require(written, required)
	e := defaults()
	read(all, "title", &e.Title, lineOfText("title"))
	read(all, "subtitle", &e.Handout.Subtitle, lineOfText("subtitle"))
	read(all, "by", &e.Handout.By, lineOfText("by"))
	read(all, "note", &e.Handout.Note, readNote)
	read(all, "student", &e.Handout.Student, readYesOrNo)
	read(all, "numerals", &e.Handout.Numerals, readYesOrNo)
	read(all, "key", &e.Key, readKey)
	read(all, "meter", &e.Meter, readMeter)
	read(all, "chart", &e.Chart, func(t source.Text) []chart.Bar { return chart.Read(t, e.Key, e.Meter) })
	read(all, "passes", &e.Passes, between("passes", 1, maxPasses, "passes", "times", "x"))
	if tempos, ok := all["tempos"]; ok {
		e.Tempos, e.tempoSpans = readTempos(tempos)
	}
	read(all, "climb", &e.Climb, func(t source.Text) int { return readClimb(t, len(e.Tempos)) })
	read(all, "turns", &e.Turns, between("turns", 1, maxTurns, "bars", "bar"))
	read(all, "count-in", &e.CountIn, between("count-in", 1, maxCountIn, "bars", "bar"))
	read(all, "feel", &e.Feel, func(t source.Text) meter.Feel { return readFeel(t, e.Meter) })
	read(all, "strum", &e.Strum, func(t source.Text) []score.Pattern { return strum.Read(t, e.Meter) })
	read(all, "pick", &e.Strum, func(t source.Text) []score.Pattern {
		if _, both := all["strum"]; both {
			t.Mistake("a strum and a pick exclude each other", "keep one of them")
		}
		return strum.ReadPick(t, e.Meter)
	})
	read(all, "bass", &e.Bass, readBass)
	read(all, "groove", &e.Groove, readGroove)
	if read(all, "click", &e.ClickEnds, readClick); e.ClickEnds {
		noteTimekeepers(all["click"], e.Groove)
	}

	line := all.group("line", lineSettings)
	read(line, "density", &e.Line.Density, readDensity)
	read(line, "grid", &e.Line.Grid, func(t source.Text) meter.Grid { return readGrid(t, e.Meter) })
	read(line, "low", &e.Line.Low, readPitch)
	read(line, "high", &e.Line.High, readPitch)
	checkCompass(line, e.Line)
	read(line, "rhythm", &e.Line.Rhythm, func(t source.Text) [][]rhythm.Sign { return readRhythm(t, e.Meter) })
	read(line, "push", &e.Line.Push, readPush)
	if own, ok := line["own"]; ok {
		e.Line.Own = readOwn(own, e.Chart, e.Meter)
	}
	read(line, "variant", &e.Line.Variant, between("variant", 1, MaxVariant))

	guitar := all.group("guitar", guitarSettings)
	if tuning, ok := guitar["tuning"]; ok {
		e.Neck.Tuning = readTuning(tuning)
	}
	if pick, ok := all["pick"]; ok && len(e.Neck.Tuning) > 0 {
		strum.CheckPlucked(pick.Text, e.Strum, e.Neck.Strings())
	}
	read(guitar, "capo", &e.Neck.Capo, readCapo)
	shapes := false
	if read(all, "chart-as", &shapes, readChartAs); shapes {
		e.soundShapes()
	}
	read(all, "ladder", &e.Ladder, func(t source.Text) Ladder { return readLadder(t, e.Neck) })
	read(all, "ladder-chords", &e.Ladder.Triads, readLadderChords)
	_, e.Ladder.Grid = line["grid"]
	checkLadder(all, line)
	read(guitar, "position", &e.Position, func(t source.Text) neck.Position { return readPosition(t, e.Neck) })
	return &e
}

// defaults returns the exercise that is made of nothing but defaults: everything
// but title, key and chart.
func defaults() Exercise {
	return Exercise{
		Meter:   meter.Meter{Beats: 4, Unit: 4},
		Passes:  2,
		Tempos:  []int{60, 80, 100},
		CountIn: 1,
		Line:    LineSettings{Density: 50, Grid: meter.Eighths, Variant: 1},
		Neck:    neck.Neck{Tuning: neck.Standard()},
		Handout: score.Handout{Numerals: true},
	}
}
