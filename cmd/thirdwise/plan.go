package main

import (
	"fmt"
	"path/filepath"

	"thirdwise/arrange/exercise/source"
	"thirdwise/cmd/thirdwise/course"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/cmd/thirdwise/vary"
)

// A job is a kit to be made. Its score is arranged anew when it is, from its line, so
// that a thousand jobs take little memory.
type job struct {
	vary.Variant
	of   arrangement // its file
	name string      // of the kit
	size kit.Size
}

func sizesOf(jobs []job) []kit.Size {
	sizes := make([]kit.Size, len(jobs))
	for i, j := range jobs {
		sizes[i] = j.size
	}
	return sizes
}

// A plan is what is to be made of one file.
type plan struct {
	file     arrangement
	groups   [][]vary.Variant
	jobs     []job
	missing  []missing
	findings source.Findings
	err      error
}

// A missing kit is one that a mistake keeps from being made, such as a line that cannot
// be played in its key.
type missing struct {
	kit course.Kit
	why string
}

// plan arranges everything once, prints what is found, and lists the kits to be
// made: those of the share asked for which no mistake keeps from it. Of tells how
// many all shares have. An error is one that keeps all from being made.
func (c *renderCommand) plan(con *console, paths []string, t *course.Teller) (jobs []job, of int, err error) {
	plans, err := c.planAll(con, paths)
	if err != nil {
		return nil, 0, err
	}
	var all []job
	for i, p := range plans {
		switch {
		case p.err != nil && len(paths) == 1:
			return nil, 0, p.err
		case p.err != nil:
			p.findings = source.Findings{{File: paths[i], Message: p.err.Error()}}
		}
		fmt.Fprint(con.stderr, p.findings.Report())
		if n := len(p.findings.Of(source.Mistake)); n > 0 && len(p.jobs) == 0 {
			t.Mistaken(paths[i], n)
		} else {
			for _, m := range p.missing {
				t.Missing(m.kit, m.why)
			}
		}
		all = append(all, p.jobs...)
	}
	if err := distinct(all); err != nil {
		return nil, 0, err
	}
	for i, j := range all {
		if c.Shard.Has(i) {
			jobs = append(jobs, j)
		}
	}
	return jobs, len(all), c.checkPlaces(jobs)
}

// planAll reads the files, and then arranges their variants, one group at a time on
// each processor.
func (c *renderCommand) planAll(con *console, paths []string) ([]*plan, error) {
	type piece struct {
		of    *plan
		group int
	}
	var plans []*plan
	var pieces []piece
	err := course.InOrder(con.ctx, len(paths), course.Most, func(i int) *plan {
		p := new(plan)
		p.file, p.groups, p.findings, p.err = con.parse(paths[i], c.asked().Of)
		return p
	}, func(_ int, p *plan) {
		plans = append(plans, p)
		for group := range p.groups {
			pieces = append(pieces, piece{p, group})
		}
	})
	if err != nil {
		return nil, err
	}
	var kept vary.Keeper
	err = course.InOrder(con.ctx, len(pieces), course.Most, func(i int) plan {
		return c.planGroup(pieces[i].of.file, pieces[i].of.groups[pieces[i].group], pieces[i].group == 0, &kept)
	}, func(i int, made plan) {
		p := pieces[i].of
		p.jobs, p.missing, p.findings = append(p.jobs, made.jobs...), append(p.missing, made.missing...), append(p.findings, made.findings...)
	})
	return plans, err
}

// planGroup arranges the variants of a group. What is worth acting on in the first
// is told of the exercise.
func (c *renderCommand) planGroup(file arrangement, group []vary.Variant, first bool, kept *vary.Keeper) (p plan) {
	playable, failed := file.arrangedGroup(group)
	if len(playable) == 0 {
		p.findings = failed
		for _, v := range group {
			p.missing = append(p.missing, missing{c.told(file, v), failed[0].Message})
		}
		return p
	}
	if first {
		p.findings = append(p.findings, playable[0].findings.Of(source.Warning)...)
		p.findings = append(p.findings, c.silent(playable[0])...)
		p.findings = append(p.findings, playable[0].unprintable()...)
	}
	for _, f := range failed {
		p.findings = append(p.findings, leftOut(f))
	}
	for _, a := range playable {
		k := c.kit(a)
		size, err := k.Size()
		if err != nil {
			large := tooLarge(a.name, err)
			p.missing, p.findings = append(p.missing, missing{c.told(file, a.Variant), large[0].Message}), append(p.findings, large...)
			continue
		}
		p.jobs = append(p.jobs, job{Variant: kept.Keep(a.Variant, a.score), of: file, name: k.Name, size: size})
	}
	return p
}

// told returns what is told of the kit of a variant.
func (c *renderCommand) told(file arrangement, v vary.Variant) course.Kit {
	return course.Kit{Folder: filepath.Join(c.Output, nameOf(file, v)), Exercise: file.name, Key: v.Key.ASCII()}
}

// nameOf returns the name of the kit of a variant.
func nameOf(file arrangement, v vary.Variant) string {
	return kit.Name(file.path, v.Title) + v.Suffix
}

// checkPlaces returns an error where kits cannot be put into their places, or find
// no room there.
func (c *renderCommand) checkPlaces(jobs []job) error {
	var names []string
	for _, j := range jobs {
		if err := (kit.Kit{Name: j.name, Exercise: j.of.path}).Check(c.Output); err != nil {
			return err
		}
		names = append(names, j.name)
	}
	return kit.Fit(c.Output, names, sizesOf(jobs))
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
