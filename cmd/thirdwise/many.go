package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise/source"
	"thirdwise/cmd/thirdwise/course"
	"thirdwise/cmd/thirdwise/index"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/vary"
	"thirdwise/synth"
)

// Run writes the kits.
func (c *renderCommand) Run(con *console) error {
	paths, err := course.Files(c.Files)
	if err != nil {
		return err
	}
	if err := kit.Recover(con.ctx, con.drafts, c.Output); err != nil && con.ctx.Err() == nil {
		con.warn("%s could not be cleared up: %v", c.Output, cause(err))
	}
	t := &course.Teller{Out: con.stdout, Complaints: con.stderr, Terminal: con.terminal, JSON: c.JSON}
	jobs, err := c.plan(con, paths, t)
	if interrupted(err) {
		return errors.New("interrupted")
	}
	if err != nil {
		return err
	}
	for _, j := range jobs {
		t.Kits = append(t.Kits, course.Kit{Folder: filepath.Join(c.Output, j.name), Exercise: j.of.name, Key: j.Key.ASCII()})
	}
	clips := synth.NewClips()
	err = course.InOrder(con.ctx, len(jobs), func(i int) course.Made { return c.make(con, jobs[i], clips, t.Progress(i)) }, t.Tell)
	if err != nil {
		return fmt.Errorf("interrupted; %s of %d were made", course.Counted(t.MadeCount(), "kit", "kits"), len(jobs))
	}
	if len(jobs) > 1 {
		if err := index.Write(c.Output); err != nil {
			con.warn("the index of %s was not written: %v", c.Output, cause(err))
		}
	}
	return t.End()
}

// A job is a kit to be made. Its score is arranged anew when it is, so that a
// thousand jobs take little memory.
type job struct {
	vary.Variant
	of   arrangement // its file
	name string      // of the kit
	size kit.Size
}

// plan arranges everything once, prints what is found, and lists the kits to be
// made: those of the share asked for, of exercises without mistakes. An error is
// one that keeps all from being made.
func (c *renderCommand) plan(con *console, paths []string, t *course.Teller) ([]job, error) {
	type planned struct {
		jobs     []job
		findings source.Findings
		err      error
	}
	var all []job
	var wrongLine error
	err := course.InOrder(con.ctx, len(paths), func(i int) (p planned) {
		arranged, mistaken, err := con.arrange(paths[i], c.asked().Of)
		if err != nil {
			return planned{err: err}
		}
		p.findings = mistaken
		for i, a := range arranged {
			if i == 0 {
				p.findings = append(p.findings, a.findings.Of(source.Warning)...)
				p.findings = append(p.findings, c.silent(a)...)
			}
			k := c.kit(a)
			size, err := k.Size()
			if err != nil {
				p.findings = append(p.findings, tooLarge(a.name, err)...)
				continue
			}
			p.jobs = append(p.jobs, job{Variant: a.Variant, of: arrangement{name: a.name, path: a.path}, name: k.Name, size: size})
		}
		return p
	}, func(i int, p planned) {
		if p.err != nil && len(paths) == 1 {
			wrongLine = p.err
			return
		}
		if p.err != nil {
			p.findings = source.Findings{{File: paths[i], Message: p.err.Error()}}
		}
		fmt.Fprint(con.stderr, p.findings.Report())
		if n := len(p.findings.Of(source.Mistake)); n > 0 {
			t.Mistaken(paths[i], n)
			return
		}
		all = append(all, p.jobs...)
	})
	if err := errors.Join(wrongLine, err); err != nil {
		return nil, err
	}
	if err := distinct(all); err != nil {
		return nil, err
	}
	var jobs []job
	for i, j := range all {
		if c.Shard.Has(i) {
			jobs = append(jobs, j)
		}
	}
	return jobs, c.checkPlaces(jobs)
}

// checkPlaces returns an error where kits cannot be put into their places, or find
// no room there.
func (c *renderCommand) checkPlaces(jobs []job) error {
	var names []string
	var sizes []kit.Size
	for _, j := range jobs {
		if err := (kit.Kit{Name: j.name, Exercise: j.of.file()}).Check(c.Output); err != nil {
			return err
		}
		names, sizes = append(names, j.name), append(sizes, j.size)
	}
	return kit.CheckRoom(c.Output, names, sizes)
}

// distinct returns an error where two kits would have the same name.
func distinct(jobs []job) error {
	first := map[string]string{}
	for _, j := range jobs {
		name := kit.Folded(j.name)
		if before, ok := first[name]; ok {
			return fmt.Errorf("%s and %s would both be written to the kit %s; rename one, or render them into different folders; nothing was written",
				before, j.of.name, j.name)
		}
		first[name] = j.of.name
	}
	return nil
}

// make makes a kit, unless it is there already and unchanged.
func (c *renderCommand) make(con *console, j job, clips *synth.Clips, progress func(complete, all int)) course.Made {
	arranged, _, err := arrange.Arrange(j.Exercise)
	if err != nil {
		return course.Made{Err: err}
	}
	a := j.of
	a.Variant, a.score = j.Variant, arranged
	k := c.kit(&a)
	k.Clips = clips
	if !c.Again {
		if files := k.Unchanged(con.ctx, c.Output, con.built); files != nil {
			return course.Made{Files: files, Unchanged: true}
		}
	}
	files, leftover, err := k.Publish(con.ctx, con.drafts, c.Output, progress)
	if err != nil {
		return course.Made{Err: fmt.Errorf("the kit %s was not written: %w", filepath.Join(c.Output, k.Name), cause(err))}
	}
	if leftover != nil {
		leftover = cause(leftover)
	}
	return course.Made{Files: files, Leftover: leftover}
}

// interrupted reports whether a kit was not made because the program is to end.
func interrupted(err error) bool { return errors.Is(err, context.Canceled) }
