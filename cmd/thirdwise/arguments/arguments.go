// Package arguments reads what is typed on the command line as texts and numbers. Its
// messages are for those who do not program.
package arguments

import (
	"fmt"
	"reflect"
	"strconv"

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
