package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"thirdwise/cmd/thirdwise/course"
	"thirdwise/cmd/thirdwise/index"
	"thirdwise/cmd/thirdwise/kit"
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
	jobs, of, err := c.plan(con, paths, t)
	if interrupted(err) {
		return errors.New("interrupted")
	}
	if err != nil {
		return err
	}
	for _, j := range jobs {
		t.Kits = append(t.Kits, c.told(j.of, j.Variant))
	}
	clips, most := synth.NewClips(), course.AtOnce(min(course.Most, kit.AtOnce(sizesOf(jobs))))
	var backings *synth.Backings
	if len(jobs) > 1 {
		backings = synth.NewBackings(kit.InCommon(sizesOf(jobs), most))
	}
	err = course.InOrder(con.ctx, len(jobs), most, func(i int) course.Made { return c.make(con, jobs[i], clips, backings, t.Progress(i)) }, t.Tell)
	if err != nil {
		return fmt.Errorf("interrupted; %s of %d were made", course.Counted(t.MadeCount(), "kit", "kits"), len(jobs))
	}
	if len(jobs) > 0 && (of > 1 || index.IsIn(c.Output)) {
		if err := index.Write(con.drafts, c.Output); err != nil {
			con.warn("the index of %s was not written: %v", c.Output, cause(err))
		}
	}
	return t.End()
}

// make makes a kit, unless it is there already and unchanged.
func (c *renderCommand) make(con *console, j job, clips *synth.Clips, backings *synth.Backings, progress func(complete, all int)) course.Made {
	arranged, err := j.Score()
	if err != nil {
		return course.Made{Err: err}
	}
	a := j.of
	a.Variant, a.score = j.Variant, arranged
	k := c.kit(&a)
	k.Clips, k.Backings = clips, backings
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
