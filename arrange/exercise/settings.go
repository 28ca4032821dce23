package exercise

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/exercise/source"
	"thirdwise/theory"
)

// settings are those of a group that an exercise knows, by name.
type settings map[string]setting

// A setting is one that an exercise knows, with its name as this package has it.
type setting struct {
	name string
	source.Value
}

// known returns the settings of a group that are among the names, and notes those
// that are not, or come twice.
func known(written []source.Setting, names []string) settings {
	all := settings{}
	first := map[string]int{} // the line of each name
	for _, s := range written {
		name := plainName(s.Name.String())
		line, twice := first[name]
		switch {
		case twice:
			s.Name.Mistake(fmt.Sprintf("%s is set twice, first on line %d", s.Name.Quoted(), line), "keep one of the two")
			continue
		case slices.Contains(names, name):
			all[name] = setting{name, s.Value}
		default:
			unknown(s.Name, name, names)
		}
		first[name] = s.Name.Span().Line
	}
	return all
}

// plainName returns a setting's name as this package has it, whatever its capitals
// and however its words are joined.
func plainName(name string) string {
	return strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(name))
}

// alsoCalled is what teachers call settings before they know their names.
var alsoCalled = map[string]string{
	"name": "title", "song": "title", "tonality": "key", "scale": "key",
	"time": "meter", "time-signature": "meter", "metre": "meter", "signature": "meter",
	"chords": "chart", "progression": "chart", "changes": "chart",
	"repeats": "passes", "times": "passes", "loops": "passes", "choruses": "passes",
	"bpm": "tempos", "speed": "tempos", "speeds": "tempos",
	"countin": "count-in", "lead-in": "count-in",
	"style": "feel", "groove": "feel", "strumming": "strum", "pattern": "strum",
	"subdivision": "grid", "compass": "low", "range": "low",
	"strings": "tuning", "fret": "position",
}

// require notes which of the names are missing. One that was probably misspelt has
// been noted as unknown.
func (s settings) require(written []source.Setting, names []string) {
	for _, name := range names {
		misspelt := slices.ContainsFunc(written, func(w source.Setting) bool {
			called := plainName(w.Name.String())
			return alsoCalled[called] == name || nearest(called, exerciseSettings) == name
		})
		if _, ok := s[name]; !ok && !misspelt {
			written[0].Name.Beginning().Mistake("the exercise has no "+name, "add a line that begins with "+name+":")
		}
	}
}

// unknown notes a name that is not among those of its group, and says what to write
// in its place: one that means the same, or that is spelt much the same, or else all
// that are known.
func unknown(written source.Text, name string, names []string) {
	meant := cmp.Or(alsoCalled[name], name)
	home := homeOf(meant)
	switch {
	case slices.Contains(names, meant):
		written.Mistake("unknown setting "+written.Quoted(), "did you mean "+meant+"?")
	case home == top:
		written.Mistake(written.Quoted()+" is in the wrong place", fmt.Sprintf("%s belongs to no group: write it at the beginning of a line", meant))
	case home != "":
		written.Mistake(written.Quoted()+" is in the wrong place", fmt.Sprintf("%s belongs under %s:, indented", meant, home))
	default:
		remedy := "the settings here are " + strings.Join(names, ", ")
		if best := nearest(name, names); best != "" {
			remedy = "did you mean " + best + "?"
		}
		written.Mistake("unknown setting "+written.Quoted(), remedy)
	}
}

// top stands for the place of the settings that belong to no group.
const top = "top"

// homeOf returns the group that a setting belongs to, top for none, and "" for what
// is no setting.
func homeOf(name string) string {
	switch {
	case slices.Contains(exerciseSettings, name):
		return top
	case slices.Contains(lineSettings, name):
		return "line"
	case slices.Contains(guitarSettings, name):
		return "guitar"
	}
	return ""
}

// read hands the text of a setting to a reader, if it is there, and stores what
// comes back.
func read[T any](s settings, name string, into *T, reader func(source.Text) T) {
	written, ok := s[name]
	switch {
	case !ok:
	case written.Kind == source.List:
		written.Mistake(name+" is one value, not a list", "write the value after the colon")
	case written.Kind == source.Group:
		written.Mistake(name+" is one value and has no settings of its own", "write the value after the colon")
	case written.String() == "":
		written.noValue()
	default:
		*into = reader(written.Text)
	}
}

// noValue notes a setting with nothing after its colon.
func (s setting) noValue() {
	remedy := "write the value after the colon"
	if !slices.Contains(requiredSettings, s.name) {
		remedy += ", or leave the line out for the default"
	}
	s.Mistake(s.name+" has no value", remedy)
}

// items returns the texts of a list, or the one text that stands in its place.
func (s setting) items() []source.Text {
	switch {
	case s.Kind == source.Group:
		s.Mistake(s.name+" is a list of values and has no settings of its own", "write the values in [ ] with commas between them")
		return nil
	case s.Kind == source.One && s.String() == "":
		s.noValue()
		return nil
	case s.Kind == source.One:
		return []source.Text{s.Text}
	case len(s.List) == 0:
		s.Mistake("the list of "+s.name+" is empty", "list at least one value, or leave the line out for the default")
		return nil
	}
	var items []source.Text
	for _, item := range s.List {
		switch {
		case item.Kind != source.One:
			item.Mistake(s.name+" is a list of single values", "take out the list or the settings within it")
		case item.String() == "":
			item.Mistake("the list of "+s.name+" has an empty item", "write a value or take the item out")
		default:
			items = append(items, item.Text)
		}
	}
	return items
}

// group returns the settings of a group, none where it is left out.
func (s settings) group(name string, names []string) settings {
	written, ok := s[name]
	switch {
	case !ok:
		return nil
	case written.Kind == source.Group:
		return known(written.Group, names)
	case written.Kind == source.One && slices.Contains(names, plainName(firstWord(written.Text))):
		first := firstWord(written.Text)
		written.Mistake("no colon follows "+first, fmt.Sprintf("write %s:%s", first, strings.TrimPrefix(written.String(), first)))
	case written.Kind == source.One && written.String() == "":
		written.Mistake(name+" has no settings", fmt.Sprintf("write %s indented below it, or leave the line out", anyOf(names)))
	default:
		written.Mistake(name+" is a group of settings and has no value of its own", fmt.Sprintf("write %s indented below it", anyOf(names)))
	}
	return nil
}

// firstWord returns the first word of a text.
func firstWord(t source.Text) string {
	for _, word := range t.Words() {
		return word.String()
	}
	return ""
}

// anyOf lists names as a choice: "density, grid, low or high".
func anyOf(names []string) string {
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// nearest returns the known name with the smallest edit distance, or "" where
// more than a third of the longer of the two would have to change, and not just
// one letter.
func nearest(name string, names []string) string {
	const longest = 40
	if len(name) > longest {
		return ""
	}
	best, least := "", longest
	for _, n := range names {
		if d := theory.Edits(strings.ToLower(name), n); d < least {
			best, least = n, d
		}
	}
	if least > max(1, max(len(name), len(best))/3) {
		return ""
	}
	return best
}
