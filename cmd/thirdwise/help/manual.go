package help

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

// Manual writes the help of the program and of all its commands as a page for man
// (the macros of man(7), from memory). The lines stay as they are.
func Manual(w io.Writer, app *kong.Application, software string) error {
	var page, text bytes.Buffer
	fmt.Fprintf(&page, ".TH THIRDWISE 1 \"\" \"%s\"\n", software)
	fmt.Fprintf(&page, ".SH NAME\nthirdwise \\- %s\n", roff(strings.TrimSuffix(strings.ToLower(app.Help[:1])+app.Help[1:], ".")))
	fmt.Fprintf(&page, ".SH SYNOPSIS\n.nf\n")
	for _, command := range app.Leaves(true) {
		fmt.Fprintf(&page, "thirdwise %s\n", roff(usage(command)))
	}
	fmt.Fprintf(&page, ".fi\n.SH DESCRIPTION\n.nf\n")
	Program(&text, app)
	page.WriteString(roff(text.String()))
	fmt.Fprintf(&page, ".fi\n.SH COMMANDS\n")
	for _, command := range app.Leaves(true) {
		text.Reset()
		Command(&text, command)
		first, rest, _ := strings.Cut(text.String(), "\n\n")
		fmt.Fprintf(&page, ".SS %s\n.nf\n%s.fi\n", roff(first), roff(rest))
	}
	_, err := page.WriteTo(w)
	return err
}

// roff returns text in which nothing is a request or an escape.
func roff(text string) string {
	escaped := strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "~", `\(ti`, "^", `\(ha`).Replace(text)
	lines := strings.Split(escaped, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, ".") {
			lines[i] = `\&` + line
		}
	}
	return strings.Join(lines, "\n")
}
