package source

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"thirdwise/theory/remedy"
)

// diagnose says what is probably wrong with a text that is not YAML, given where
// the parser stumbled and what it said. It reports false where nothing usual is.
func (f *File) diagnose(at Span, parser string) bool {
	for _, n := range f.outsideBlocks() {
		if n <= at.Line && (f.unclosedQuote(n) || f.behindQuote(n)) {
			return true
		}
	}
	if f.indentedByTab(at.Line) {
		return true
	}
	if strings.Contains(parser, "escape") || strings.Contains(parser, "surrogate") || strings.Contains(parser, "UTF-16") {
		line := []rune(f.lines[at.Line-1])
		before := string(line[:min(at.Column, len(line))])
		at = Span{Pos{at.Line, utf8.RuneCountInString(before[:max(0, strings.LastIndex(before, `\`))]) + 1}, 2}
		f.mistake(at, "a backslash within quotation marks begins a sign of its own, and this is none", `leave it out, or write \\ for a backslash`)
		return true
	}
	if strings.Contains(parser, "must be specified") || strings.Contains(parser, "flow map content") || strings.Contains(parser, "end token") {
		if f.unclosedBracket(at.Line) {
			return true
		}
	}
	for _, n := range f.outsideBlocks() {
		if n >= at.Line && f.wrongLine(n) {
			return true
		}
	}
	return false
}

// wrongLine notes what is wrong with a line that stands by itself, if anything is.
func (f *File) wrongLine(n int) bool {
	text := withoutComment(f.lines[n-1])
	name, value, colon := strings.Cut(text, ":")
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	switch {
	case f.indentedByTab(n):
	case strings.HasPrefix(text, "//"), strings.HasPrefix(text, ";"):
		f.rewrite(n, f.lineSpan(n), "this line has no colon", "begin what is not to be read with #: %s", "# "+strings.TrimLeft(text, "/; "))
	case strings.HasPrefix(text, "|") || strings.HasPrefix(text, "["):
		f.chartLine(n)
	case strings.HasPrefix(text, "-"):
		if next := strings.TrimLeft(text, "-"); len(next) != len(text)-1 || next == "" || next[0] == ' ' {
			return false
		}
		f.rewrite(n, f.lineSpan(n), "no space follows the dash", "write %s", "- "+text[1:])
	case !colon && f.fallenOut(n):
	case !colon:
		f.withoutColon(n, text)
	case strings.HasPrefix(value, "|") && len(value) > 1 && name != "chart":
		f.rewrite(n, f.valueSpan(n), "this begins with |, which sets off the lines below it", "put it in quotation marks: %s", name+": "+inQuotes(value))
	case strings.HasPrefix(value, "|") && len(value) > 1:
		f.mistake(f.valueSpan(n), "a chart cannot begin on this line",
			fmt.Sprintf("write %s: | with nothing after it, and the chart on the lines below, indented", name))
	case startsReserved(value):
		f.rewrite(n, f.valueSpan(n), fmt.Sprintf("this begins with %c, a character that YAML reserves", value[0]),
			"put it in quotation marks: %s", name+": "+inQuotes(value))
	case strings.ContainsAny(value[:min(1, len(value))], "[{\"'"):
		return false
	case (name == "line" || name == "guitar") && strings.Contains(value, ": "):
		f.mistake(f.valueSpan(n), "the settings of "+name+" begin in its line", fmt.Sprintf("write %s: with nothing after it, and %s on a line of its own below, indented", name, value))
	case settingsInOneLine.MatchString(value):
		f.mistake(f.valueSpan(n), "a second setting begins in this line", "write each setting on a line of its own")
	case strings.Contains(value, ": ") || strings.HasSuffix(value, ":"):
		f.rewrite(n, f.valueSpan(n), "there is a second colon in this line", "put the value in quotation marks: %s", name+": "+inQuotes(value))
	case value != "" && !strings.Contains(text, ": "):
		f.rewrite(n, f.lineSpan(n), "no space follows the colon", "write %s", name+": "+value)
	case f.misindented(n):
		f.mistake(f.lineSpan(n), "this line is indented differently from the settings around it", "begin all settings of a group in the same column")
	default:
		return false
	}
	return true
}

// settingsInOneLine matches a value behind which, after a comma, another setting
// begins.
var settingsInOneLine = regexp.MustCompile(`[^,;]*[,;] *[a-z-]+: `)

// indentedByTab notes the tab that stands before the words of a line, if one does.
func (f *File) indentedByTab(n int) bool {
	line := f.lines[n-1]
	if !strings.HasPrefix(strings.TrimLeft(line, " "), "\t") {
		return false
	}
	f.mistake(Span{Pos{n, 1 + strings.IndexByte(line, '\t')}, 1}, "a tab stands where YAML wants spaces", "indent with spaces")
	return true
}

// fallenOut notes that a line begins further left than the text that is set off above it,
// if it does.
func (f *File) fallenOut(n int) bool {
	for above := n - 1; above > 0; above-- {
		text := strings.TrimSpace(f.lines[above-1])
		if text == "" || indent(f.lines[above-1]) > indent(f.lines[n-1]) {
			continue
		}
		if !strings.HasSuffix(text, ": |") && !strings.HasSuffix(text, ": >") {
			return false
		}
		f.mistake(f.lineSpan(n), "this line begins further left than the text that it belongs to", "begin each line below "+strings.TrimRight(text, ":|> ")+": with two spaces")
		return true
	}
	return false
}

// withoutColon notes that a line has none: it belongs behind the first word, in the place
// of any other sign that stands there.
func (f *File) withoutColon(n int, text string) {
	const others = "=;：-–—>"
	first, rest, _ := strings.Cut(text, " ")
	first, rest = strings.TrimRight(first, others), strings.TrimLeft(rest, others+" ")
	if rest == "" {
		f.mistake(f.lineSpan(n), "this line has no colon", "write "+first+": and the value")
		return
	}
	f.rewrite(n, f.lineSpan(n), "this line has no colon", "write %s", first+": "+rest)
}

// rewrite notes a mistake whose remedy writes a line anew, but for its comment.
func (f *File) rewrite(n int, at Span, message, words, text string) {
	place := f.lineSpan(n)
	place.Length = utf8.RuneCountInString(withoutComment(f.lines[n-1]))
	f.slip(at, message, place, remedy.Write(words, text))
}

// withoutComment returns what YAML reads of a line, without white space around it.
func withoutComment(line string) string {
	text := strings.ReplaceAll(otherSpaces.Replace(line), "\t", " ")
	if at := strings.Index(text, " #"); at >= 0 {
		text = text[:at]
	}
	return strings.TrimSpace(text)
}

// startsReserved reports whether a value begins with a character that has YAML
// take it for something other than text.
func startsReserved(value string) bool {
	switch {
	case len(value) < 2:
		return false
	case strings.ContainsRune(">%@`&*!,]}", rune(value[0])):
		return true
	case strings.HasPrefix(value, "- "), strings.HasPrefix(value, "? "):
		return true
	}
	return value[0] == '[' && !strings.HasSuffix(value, "]") || value[0] == '{' && !strings.HasSuffix(value, "}")
}

// chartLine notes what keeps a line that looks like one of a chart from being one.
func (f *File) chartLine(n int) {
	for above := n - 1; above > 0; above-- {
		line := strings.TrimSpace(f.lines[above-1])
		name, value, colon := strings.Cut(line, ":")
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
			continue
		case colon && strings.TrimSpace(value) == "":
			f.mistake(f.lineSpan(n), fmt.Sprintf("the chart is not set off by a | after %s:", name), fmt.Sprintf("write %s: | with nothing after it, and leave the chart below, indented", name))
			return
		case colon && strings.TrimSpace(value) != "|" && indent(f.lines[n-1]) == 0:
			f.mistake(f.lineSpan(n), "this line belongs to no setting", "write chart: | above it, and begin it with two spaces")
			return
		case colon && strings.TrimSpace(value) == "|" && indent(f.lines[n-1]) <= indent(f.lines[above-1]):
			f.mistake(f.lineSpan(n), "the lines of the chart are not indented", "begin them with two spaces")
			return
		}
		break
	}
	f.mistake(f.lineSpan(n), "this line of the chart begins further left than the first", "begin all lines of the chart in the same column")
}

// misindented reports whether a line begins in a column in which, after the lines
// above it, no setting can begin.
func (f *File) misindented(n int) bool {
	columns := []int{0} // of the groups that are open
	opens := false      // the line above opens a group
	for _, line := range f.outsideBlocks() {
		here := indent(f.lines[line-1])
		for len(columns) > 1 && here < columns[len(columns)-1] {
			columns = columns[:len(columns)-1]
		}
		deepest := columns[len(columns)-1]
		if line == n {
			return here != deepest && !opens
		}
		if here > deepest {
			columns = append(columns, here)
		}
		opens = strings.HasSuffix(withoutComment(f.lines[line-1]), ":")
	}
	return false
}

// unclosedQuote notes the quotation mark with which the value of a line begins, if
// the line does not close it.
func (f *File) unclosedQuote(n int) bool {
	_, value, _ := strings.Cut(f.lines[n-1], ":")
	value = strings.TrimSpace(value)
	if value == "" || value[0] != '"' && value[0] != '\'' || strings.Count(value, value[:1]) > 1 {
		return false
	}
	closed := value[:1] + strings.TrimRight(value[1:], curlyQuotes+`"' `) + value[:1]
	f.add(Mistake, f.valueSpan(n), "this quotation mark is not closed", remedy.Write("end the text with another: %s", closed))
	return true
}

// quoted matches a text in quotation marks with more behind it; listed matches several
// with commas between them.
var (
	quoted = regexp.MustCompile(`^("(?:[^"\\]|\\.)*"|'(?:[^']|'')*')\s*[^\s#]`)
	listed = regexp.MustCompile(`^(?:"[^"]*"|'[^']*')(?:\s*,\s*(?:"[^"]*"|'[^']*'))+$`)
)

// behindQuote notes what stands behind the quotation mark that closes the value of a
// line.
func (f *File) behindQuote(n int) bool {
	name, value, _ := strings.Cut(f.lines[n-1], ":")
	value = strings.TrimSpace(value)
	switch {
	case !quoted.MatchString(value), strings.ContainsAny(name, "{["):
		return false
	case listed.MatchString(value):
		f.slip(f.valueSpan(n), "these texts in quotation marks are not set off as a list", f.lineSpan(n), remedy.Write("put brackets around them: %s", fmt.Sprintf("%s: [%s]", strings.TrimSpace(name), value)))
		return true
	}
	within := value
	if value[0] == value[len(value)-1] {
		within = value[1 : len(value)-1]
	}
	f.slip(f.valueSpan(n), "this text ends at its second quotation mark, and more stands behind it", f.lineSpan(n), remedy.Write("put other quotation marks around it: %s", strings.TrimSpace(name)+": "+inQuotes(within)))
	return true
}

// unclosedBracket notes the last bracket before a line's end that nothing closes.
func (f *File) unclosedBracket(n int) bool {
	closing := map[rune]rune{'[': ']', '{': '}'}
	for ; n > 0; n-- {
		var open []int // columns of those that are open
		var want []rune
		for i, r := range []rune(f.lines[n-1]) {
			switch r {
			case '[', '{':
				open, want = append(open, i+1), append(want, closing[r])
			case ']', '}':
				if len(open) > 0 {
					open, want = open[:len(open)-1], want[:len(want)-1]
				}
			}
		}
		if len(open) > 0 {
			last := len(open) - 1
			behind := f.lineSpan(n)
			behind.Column, behind.Length = behind.Column+utf8.RuneCountInString(withoutComment(f.lines[n-1])), 0
			f.slip(Span{Pos{n, open[last]}, 1}, "this bracket is not closed", behind, remedy.Write("end the list with %s", string(want[last])))
			return true
		}
	}
	return false
}

// outsideBlocks returns the numbers of the lines that do not belong to a block of
// text set off by | or >, of which each line is as good as the other.
func (f *File) outsideBlocks() []int {
	var outside []int
	holder, inside := -1, -1 // indentation of the setting that holds a block and of its lines; -1 where there is none
	for i, line := range f.lines {
		text := strings.TrimSpace(line)
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		if holder >= 0 && indent(line) > holder && indent(line) >= inside {
			if inside < 0 {
				inside = indent(line)
			}
			continue
		}
		holder, inside = -1, -1
		outside = append(outside, i+1)
		if value := strings.TrimSpace(text[strings.Index(text, ":")+1:]); value == "|" || value == ">" {
			holder = indent(line)
		}
	}
	return outside
}

// indent returns how many blanks a line begins with.
func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " \t")) }

// inQuotes puts a value into the quotation marks that need no change within.
func inQuotes(value string) string {
	value = strings.Trim(value, curlyQuotes)
	if strings.ContainsAny(value, `"\`) {
		return "'" + strings.ReplaceAll(value, "'", "''") + "'"
	}
	return `"` + value + `"`
}

// valueSpan returns the span of a line's value, after the colon.
func (f *File) valueSpan(line int) Span {
	name, value, _ := strings.Cut(f.lines[line-1], ":")
	trimmed := strings.TrimSpace(value)
	lead := value[:strings.Index(value, trimmed)]
	column := utf8.RuneCountInString(name) + 1 + utf8.RuneCountInString(lead) + 1
	return Span{Pos{line, column}, utf8.RuneCountInString(trimmed)}
}

// lineSpan returns the span of a line without white space around it.
func (f *File) lineSpan(line int) Span {
	text := f.lines[line-1]
	trimmed := strings.TrimSpace(text)
	lead := text[:strings.Index(text, trimmed)]
	return Span{Pos{line, utf8.RuneCountInString(lead) + 1}, utf8.RuneCountInString(trimmed)}
}
