package exercise

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/exercise/said"
	"thirdwise/arrange/exercise/source"
	"thirdwise/theory/remedy"
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
		name := said.Plain(s.Name.String())
		line, twice := first[name]
		switch {
		case twice:
			s.Name.Mistake(fmt.Sprintf("%s is set twice, first on line %d", s.Name.Quoted(), line), "keep one of the two")
			continue
		case slices.Contains(names, name):
			all[name] = setting{name, s.Value}
		default:
			unknown(s.Name, name, names, written)
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
			called := said.Plain(w.Name.String())
			return said.Setting(called) == name || slices.Contains(said.Nearest(called, exerciseSettings), name)
		})
		if _, ok := s[name]; !ok && !misspelt {
			written[0].Name.Beginning().Mistake("the exercise has no "+name, "add a line that begins with "+name+":")
		}
	}
}

// unknown notes a name that is not among those of its group, and says what to write
// in its place: one that means the same, or that is spelt much the same, or else all
// that are known. Where the group has the name already, a person has to choose.
func unknown(written source.Text, name string, names []string, group []source.Setting) {
	meant := cmp.Or(said.Setting(name), name)
	home := homeOf(meant)
	didYouMean := func(names ...string) {
		why := remedy.Meant(names...)
		if slices.ContainsFunc(group, func(other source.Setting) bool { return slices.Contains(names, said.Plain(other.Name.String())) }) {
			why = remedy.Say(why.String())
		}
		written.Slip("unknown setting "+written.Quoted(), why)
	}
	switch {
	case slices.Contains(names, meant):
		didYouMean(meant)
	case home != "" && meant != name:
		written.Mistake("unknown setting "+written.Quoted(), fmt.Sprintf("did you mean %s? It %s", meant, placeOf(home)))
	case home != "":
		written.Mistake(written.Quoted()+" is in the wrong place", fmt.Sprintf("%s %s", meant, placeOf(home)))
	default:
		if best := said.Nearest(name, names); best != nil {
			didYouMean(best...)
			return
		}
		written.Mistake("unknown setting "+written.Quoted(), "the settings here are "+strings.Join(names, ", "))
	}
}

// placeOf says where the settings of a group belong.
func placeOf(home string) string {
	if home == top {
		return "belongs to no group: write it at the beginning of a line"
	}
	return "belongs under " + home + ":, indented"
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
		written.Mistake(name+" is one value, not a list", written.asOne())
	case written.Kind == source.Group:
		written.Mistake(name+" is one value and has no settings of its own", written.asOne())
	case written.String() == "":
		written.noValue()
	default:
		*into = reader(written.Text)
	}
}

// asOne says how a value is written that was taken apart.
func (s setting) asOne() string {
	switch s.name {
	case "chart", "note":
		return fmt.Sprintf("write %s: | with nothing after it, and the %s on the lines below, indented", s.name, s.name)
	case "strum", "pick", "rhythm":
		return "write the signs one after the other behind the colon, without brackets, commas or dashes below one another"
	}
	return "write one value behind the colon, without brackets or dashes around it"
}

// noValue notes a setting with nothing after its colon.
func (s setting) noValue() {
	words := "write the value after the colon"
	switch {
	case s.Commented():
		words = "YAML does not read what follows #: put the value in quotation marks"
	case s.name == "chart":
		words = s.asOne()
	}
	if !slices.Contains(requiredSettings, s.name) {
		words += ", or leave the line out for the default"
	}
	s.Mistake(s.name+" has no value", words)
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
	case written.Kind == source.One && slices.Contains(names, said.Plain(firstWord(written.Text))):
		first := firstWord(written.Text)
		written.Mistake("no colon follows "+first, fmt.Sprintf("write %s:%s", first, strings.TrimPrefix(written.String(), first)))
	case written.Kind == source.One && written.String() == "":
		written.Mistake(name+" has no settings", fmt.Sprintf("write %s indented below it, or leave the line out", remedy.AnyOf(names)))
	case written.Kind == source.List:
		written.Mistake(name+" is a group of settings and no list", fmt.Sprintf("write %s indented below it, without brackets or dashes", remedy.AnyOf(names)))
	default:
		written.Mistake(name+" is a group of settings and has no value of its own", fmt.Sprintf("write %s indented below it", remedy.AnyOf(names)))
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
