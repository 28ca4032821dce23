// Package arguments reads what is typed on the command line as texts and numbers, and
// says what is wrong with it. Its messages are for those who do not program.
package arguments

import (
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"
)

// Readers has kong read arguments and options this way.
func Readers() kong.Option {
	return kong.OptionFunc(func(k *kong.Kong) error {
		for kind, read := range map[reflect.Kind]kong.MapperFunc{reflect.String: plainText, reflect.Int: wholeNumber, reflect.Float64: number} {
			if err := kong.KindMapper(kind, read).Apply(k); err != nil {
				return err
			}
		}
		return nil
	})
}

// plainText reads an option's text byte by byte, as it was given: kong's own way
// changes file names that are not UTF-8.
func plainText(ctx *kong.DecodeContext, target reflect.Value) error {
	given, err := ctx.Scan.PopValue("text")
	if err != nil {
		return err
	}
	target.SetString(fmt.Sprint(given.Value))
	return nil
}

// wholeNumber reads an option's whole number. Kong's own message tells of bits.
func wholeNumber(ctx *kong.DecodeContext, target reflect.Value) error {
	var text string
	if err := ctx.Scan.PopValueInto("number", &text); err != nil {
		return err
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return fmt.Errorf("%q is not a whole number", text)
	}
	target.SetInt(int64(n))
	return nil
}

// number reads an option's number, as wholeNumber does.
func number(ctx *kong.DecodeContext, target reflect.Value) error {
	var text string
	if err := ctx.Scan.PopValueInto("number", &text); err != nil {
		return err
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return fmt.Errorf("%q is not a number", text)
	}
	target.SetFloat(n)
	return nil
}

// CheckLast returns an error where the last argument is an option that lacks its value,
// which kong takes for an empty one.
func CheckLast(app *kong.Application, args []string) error {
	last := args[len(args)-1]
	for _, command := range app.Leaves(true) {
		lacks := func(f *kong.Flag) bool {
			return !f.IsBool() && (last == "--"+f.Name || f.Short != 0 && last == "-"+string(f.Short))
		}
		if command.Name == args[0] && slices.ContainsFunc(command.Flags, lacks) {
			return fmt.Errorf("%s: %s: the value is missing", command.Name, last)
		}
	}
	return nil
}

// What kong calls what is missing, and what must be one of several: <FILE> ...
var (
	expected = regexp.MustCompile(`^expected "<(\w+)>(?: \.\.\.)?"$`)
	choice   = regexp.MustCompile(`^<(\w+)> must`)
)

// Command returns the command of which kong says that it is wrongly called, and the
// program where there is none.
func Command(err error) string {
	var parse *kong.ParseError
	if errors.As(err, &parse) && parse.Context != nil {
		if node := parse.Context.Selected(); node != nil {
			return node.FullPath()
		}
	}
	return "thirdwise"
}

// Explain returns what kong says of a command line in the words of the help.
func Explain(err error, args []string) string {
	text := err.Error()
	if rest, unexpected := strings.CutPrefix(text, "unexpected argument "+args[0]); unexpected {
		return fmt.Sprintf("%q is not a command%s", args[0], rest)
	}
	if rest, unknown := strings.CutPrefix(text, "unknown flag "); unknown {
		return "unknown option " + rest
	}
	if strings.HasPrefix(text, "unexpected argument ") {
		return text + "; a name with blanks in it stands in quotation marks"
	}
	text = expected.ReplaceAllString(text, "$1 is missing")
	return choice.ReplaceAllString(text, "$1 must")
}
