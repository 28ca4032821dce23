// Thirdwise makes practice material for joining the chords of a song with lines
// in thirds: from a page of text, a kit of play-along audio at several tempos,
// MIDI and notation files, tab and a printed sheet.
//
// This package is the program: a file for each command, with its options and
// messages. What is in a kit is the business of package kit; what sounds, that
// of package arrange and those below it.
package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/alecthomas/kong"
	"golang.org/x/term"

	"thirdwise/cmd/thirdwise/arguments"
	"thirdwise/cmd/thirdwise/build"
	"thirdwise/cmd/thirdwise/completion"
	"thirdwise/cmd/thirdwise/course"
	"thirdwise/cmd/thirdwise/help"
	"thirdwise/cmd/thirdwise/kit/place"
)

// Exit statuses.
const (
	done         = 0
	wrong        = 1 // something is wrong with the exercise or the output place
	wrongCommand = 2 // the command line is wrong
)

func main() {
	boundMemory()
	os.Exit(program(os.Args[1:], &place.Drafts{}))
}

// boundMemory has garbage collected early: most of the memory holds notes that are kept
// for as long as kits are made. Half as much again is room enough for what comes and goes,
// and where they are many, less.
func boundMemory() {
	debug.SetGCPercent(40)
	debug.SetMemoryLimit(254 << 20)
}

// grace is how long the program has to clear up of its own accord after it was
// interrupted.
const grace = 30 * time.Millisecond

// program runs until it is done or interrupted, and returns the exit status: of an
// interrupted program, as shells have it, 128 and the number of the signal. A
// second interrupt ends it at once. That nobody reads its output any more is an
// interrupt, too, but comes with each line that is written: no second one.
func program(args []string, drafts *place.Drafts) int {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	signals, closed := make(chan os.Signal, 2), make(chan os.Signal, 1)
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if !signal.Ignored(s) {
			signal.Notify(signals, s)
		}
	}
	if !signal.Ignored(syscall.SIGPIPE) {
		signal.Notify(closed, syscall.SIGPIPE)
	}
	ended := make(chan int, 1)
	go func() { ended <- run(ctx, args, os.Stdin, os.Stdout, os.Stderr, drafts) }()
	var interrupt os.Signal
	select {
	case status := <-ended:
		return status
	case interrupt = <-signals:
	case interrupt = <-closed:
	}
	cancel()
	select {
	case status := <-ended:
		if status == done {
			return done // it came too late
		}
	case <-signals:
	case <-time.After(grace):
		drafts.Abandon()
		fmt.Fprintln(os.Stderr, "thirdwise: interrupted")
	}
	if s, ok := interrupt.(syscall.Signal); ok {
		return 128 + int(s)
	}
	return wrong
}

// commands is the command line.
type commands struct {
	New    newCommand        `cmd:"" help:"Write a starter exercise."`
	Check  checkCommand      `cmd:"" help:"Look for mistakes in exercises."`
	Show   showCommand       `cmd:"" help:"Print the exercise as you would write it on a board."`
	Neck   neckCommand       `cmd:"" help:"Print where the thirds of a key lie on the neck."`
	Render renderCommand     `cmd:"" help:"Write the kits of exercises: audio, MIDI, tab, sheet."`
	Bench  workbenchCommand  `cmd:"" name:"workbench" help:"Write the whole program as one page for a browser."`
	Shell  completionCommand `cmd:"" name:"completion" help:"Print what makes a shell finish what you type."`
	Manual manCommand        `cmd:"" name:"man" help:"Print all help as a page for man."`
	Tell   helpCommand       `cmd:"" name:"help" help:"Print the help of a command."`

	Help    helpFlag    `short:"h" help:"Show this help; after a command, that command's."`
	Version versionFlag `help:"Print the version."`
}

// A console is what a command works at: where it reads and writes, and the context
// that an interrupt ends.
type console struct {
	ctx      context.Context
	stdin    io.Reader
	stdout   *output
	stderr   io.Writer
	terminal bool // whether stdout is one
	drafts   *place.Drafts
	built    time.Time // when the program's file was written; zero where that is not known
}

// An output is standard output, which remembers that it could not be written.
type output struct {
	io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.Writer.Write(p)
	o.err = cmp.Or(o.err, err)
	return n, err
}

// run is the whole program but for interrupts. It returns the exit status.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer, drafts *place.Drafts) int {
	file, ok := stdout.(*os.File)
	con := &console{
		ctx: ctx, stdin: stdin, stdout: &output{Writer: stdout}, stderr: stderr,
		terminal: ok && term.IsTerminal(int(file.Fd())), drafts: drafts, built: build.Time(),
	}
	status := con.run(args)
	switch err := con.stdout.err; {
	case unread(err):
		return 128 + int(syscall.SIGPIPE)
	case err != nil && status == done:
		fmt.Fprintf(stderr, "thirdwise: the output cannot be written: %v\n", cause(err))
		return wrong
	}
	return status
}

// unread reports whether who read the output has closed it, as head does.
func unread(err error) bool { return errors.Is(err, syscall.EPIPE) }

// run runs a command line.
func (con *console) run(args []string) int {
	answered := false // by a flag that stands for a command, such as --help
	line, err := kong.New(&commands{},
		kong.Name("thirdwise"),
		kong.Description("Practice material for joining chords with lines in thirds."),
		kong.NoDefaultHelp(),
		audioFormats(),
		kong.WithHyphenPrefixedParameters(true), // a loudness is below zero
		arguments.Readers(),
		kong.Writers(con.stdout, con.stderr),
		kong.Exit(func(int) { answered = true }),
	)
	if err != nil {
		panic(err) // the struct tags above are wrong
	}
	if completion.Asked() {
		if err := completion.Answer(con.stdout, line); err != nil {
			panic(err) // as above
		}
		return done
	}
	if len(args) == 0 {
		help.Program(con.stdout, line.Model)
		return done
	}
	if err := arguments.CheckLast(line.Model, args); err != nil {
		return con.refuse(err.Error(), "thirdwise "+args[0])
	}
	command, err := line.Parse(args)
	switch {
	case answered:
		return done
	case err != nil && course.IsExercise(args[0]):
		fmt.Fprintf(con.stderr, "thirdwise: to make the kit of %s, write: thirdwise render %s\n", args[0], args[0])
		return wrongCommand
	case err != nil:
		return con.refuse(arguments.Explain(err, args), arguments.Command(err))
	}
	err = command.Run(line.Model, con)
	if err == nil || unread(err) {
		return done
	}
	fmt.Fprintf(con.stderr, "thirdwise: %v\n", err)
	var wrongLine *lineError
	if errors.As(err, &wrongLine) {
		return wrongCommand
	}
	return wrong
}

// refuse tells what is wrong with a command line, and which command's help tells more.
func (con *console) refuse(why, command string) int {
	fmt.Fprintf(con.stderr, "thirdwise: %s\n%s --help tells more\n", why, command)
	return wrongCommand
}

// A lineError is something wrong with the command line that only showed when
// the exercise was read.
type lineError struct{ error }

// Unwrap returns what is wrong.
func (e *lineError) Unwrap() error { return e.error }

// A versionFlag prints the version and leaves it at that.
type versionFlag bool

// BeforeReset makes kong act on the flag before it looks for a command.
func (versionFlag) BeforeReset(app *kong.Kong) error {
	fmt.Fprintln(app.Stdout, build.Version())
	app.Exit(done)
	return nil
}
