package exercise

import (
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
		name := strings.ToLower(s.Name.String())
		line, twice := first[name]
		switch {
		case twice:
			s.Name.Mistake(fmt.Sprintf("%s is set twice, first on line %d", s.Name.Quoted(), line), "keep one of the two")
			continue
		case slices.Contains(names, name):
			all[name] = setting{name, s.Value}
		default:
			s.Name.Mistake("unknown setting "+s.Name.Quoted(), rightName(name, names))
		}
		first[name] = s.Name.Span().Line
	}
	return all
}

// require notes which of the names are missing. One that was probably misspelt has
// been noted as unknown.
func (s settings) require(written []source.Setting, names []string) {
	for _, name := range names {
		misspelt := slices.ContainsFunc(written, func(w source.Setting) bool {
			return nearest(w.Name.String(), exerciseSettings) == name
		})
		if _, ok := s[name]; !ok && !misspelt {
			written[0].Name.Beginning().Mistake("the exercise has no "+name, "add a line that begins with "+name+":")
		}
	}
}

// rightName says what to write in place of an unknown name: a known one that means
// the same, or that is spelt much the same, or else all that are known.
func rightName(name string, names []string) string {
	if best := nearest(name, names); best != "" {
		return "did you mean " + best + "?"
	}
	for group, inside := range map[string][]string{"line": lineSettings, "guitar": guitarSettings} {
		if slices.Contains(inside, name) && slices.Contains(names, group) {
			return fmt.Sprintf("%s belongs under %s: write it there, indented", name, group)
		}
	}
	return "the settings here are " + strings.Join(names, ", ")
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
	case written.Kind == source.One && written.String() == "":
		written.Mistake(name+" has no settings", fmt.Sprintf("write %s indented below it, or leave the line out", anyOf(names)))
	default:
		written.Mistake(name+" is a group of settings and has no value of its own", fmt.Sprintf("write %s indented below it", anyOf(names)))
	}
	return nil
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
