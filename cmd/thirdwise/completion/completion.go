// Package completion finishes what is being typed at a shell: commands, options and
// their values, exercises. The shell asks the program itself, so that what is offered
// is the command line's own description.
package completion

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"

	"github.com/alecthomas/kong"
	kongcompletion "github.com/jotaen/kong-completion"
	"github.com/posener/complete"

	"thirdwise/arrange/paper/drawing"
	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
	"thirdwise/theory"
)

// asks is the environment variable in which a shell hands over the line that is being
// typed (bash, Programmable Completion, from memory; zsh and fish are made to do so).
const asks = "COMP_LINE"

// Asked reports whether a shell asks what could stand next, instead of wanting the
// program to run.
func Asked() bool { return os.Getenv(asks) != "" }

// Answer writes what could stand next in the line that the shell hands over, a word a
// line.
func Answer(w io.Writer, app *kong.Kong) error {
	command, err := kongcompletion.Command(app, kongcompletion.WithPredictors(values(app)))
	if err != nil {
		return err
	}
	answer := complete.New(app.Model.Name, command)
	answer.Out = w
	answer.Complete()
	return nil
}

// values are what can stand in the places that the command line's description names
// with the tag "predictor".
func values(app *kong.Kong) map[string]complete.Predictor {
	commands := complete.PredictSet()
	for _, command := range app.Model.Leaves(true) {
		commands = complete.PredictOr(commands, complete.PredictSet(command.Name))
	}
	return map[string]complete.Predictor{
		"command":  commands,
		"exercise": complete.PredictOr(complete.PredictFiles("*.yaml"), complete.PredictFiles("*.yml"), complete.PredictDirs("*")),
		"folder":   complete.PredictDirs("*"),
		"key":      keys(),
		"place":    complete.PredictSet(positions()...),
		"position": complete.PredictSet(append(positions(), "all")...),
		"mix":      complete.PredictSet(append(names(score.Mixes()...), "none")...),
		"format":   complete.PredictSet(names(audiofile.WAV, audiofile.FLAC)...),
		"rate":     numbers(audiofile.Rates()),
		"depth":    numbers(audiofile.Depths()),
		"paper":    complete.PredictSet(drawing.A4.Name, drawing.Letter.Name),
		"chords":   complete.PredictSet("slashes", "written"),
		"staves":   complete.PredictSet("both", "tab", "notation"),
	}
}

func names[T fmt.Stringer](of ...T) []string {
	var list []string
	for _, v := range of {
		list = append(list, v.String())
	}
	return list
}

// keys are the tonics of the twelve major and the twelve minor keys, and all keys.
func keys() complete.Predictor {
	list := []string{"all"}
	for _, mode := range []theory.Mode{theory.Major, theory.Minor} {
		for _, key := range mode.Keys() {
			if tonic := key.Tonic.ASCII(); !slices.Contains(list, tonic) {
				list = append(list, tonic)
			}
		}
	}
	return complete.PredictSet(list...)
}

func positions() []string {
	list := []string{"open", "free"}
	for fret := 1; fret <= 12; fret++ {
		list = append(list, strconv.Itoa(fret))
	}
	return list
}

// numbers are those that an option takes.
func numbers(of []int) complete.Predictor {
	var list []string
	for _, n := range of {
		list = append(list, strconv.Itoa(n))
	}
	return complete.PredictSet(list...)
}

// scripts are what makes each shell ask the program. Names of files may have blanks in
// them, which bash escapes if it is told that they are such.
var scripts = map[string]string{
	"bash": "complete -o default -o bashdefault -o filenames -C thirdwise thirdwise\n",
	"zsh": `whence compdef >/dev/null || { autoload -Uz compinit && compinit }
_thirdwise() {
    local -a offered
    offered=(${(f)"$(COMP_LINE="${(j: :)words[1,CURRENT]}" thirdwise)"})
    (( $#offered )) || { _files; return }
    compadd -f -S '' -- ${(M)offered:#*/}
    compadd -f -- ${offered:#*/}
}
compdef _thirdwise thirdwise
`,
	"fish": `function __complete_thirdwise
    set -lx COMP_LINE (commandline -cp)
    test -z (commandline -ct)
    and set COMP_LINE "$COMP_LINE "
    thirdwise
end
complete -f -c thirdwise -a "(__complete_thirdwise)"
`,
}

// Script returns the lines by which a shell (bash, zsh or fish) asks the program.
func Script(shell string) string { return scripts[shell] }
