package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// every stands for all keys or all positions on the command line.
const every = "all"

// validateKey looks at what can be known of the key before the exercise's own
// is. A tonic alone keeps the exercise's mode.
func (c *renderCommand) validateKey() error {
	read := func(s string) error { _, err := theory.ParseKey(s); return err }
	switch words := strings.Fields(c.Key); {
	case len(words) == 0 || c.Key == every:
		return nil
	case len(words) == 1:
		read = func(s string) error { _, err := theory.ParseTone(s); return err }
	}
	if err := read(c.Key); err != nil {
		return fmt.Errorf("--key: %w", err)
	}
	return nil
}

func (c *renderCommand) validatePosition() error {
	if c.Position == "" || c.Position == every {
		return nil
	}
	if _, err := neck.ParsePosition(c.Position); err != nil {
		return fmt.Errorf("--position: %w", err)
	}
	return nil
}

// vary makes of an exercise what the options ask for: its variants in every key,
// each a group of the positions in that key.
func (c *renderCommand) vary(e *exercise.Exercise) ([][]variant, error) {
	if len(c.Tempos) > 0 {
		var err error
		if e, err = e.WithTempos(c.Tempos); err != nil {
			return nil, fmt.Errorf("--tempo: %w", err)
		}
	}
	if slices.Contains(c.Mixes, score.BassAlone) && e.Bass == exercise.NoBass {
		return nil, fmt.Errorf("--mix bass: %q has no bass part", e.Title)
	}
	transposed, err := c.varyKey(variant{Exercise: e})
	if err != nil {
		return nil, fmt.Errorf("--key: %w", err)
	}
	var groups [][]variant
	for _, v := range transposed {
		placed, err := c.varyPosition(v)
		if err != nil {
			return nil, fmt.Errorf("--position: %w", err)
		}
		groups = append(groups, placed)
	}
	return groups, nil
}

func (c *renderCommand) varyKey(v variant) ([]variant, error) {
	if c.Key == "" {
		return []variant{v}, nil
	}
	var keys []theory.Key
	if c.Key == every {
		twelve, own := v.Key.Mode.Keys(), v.Key.Tonic.Class()
		keys = slices.Concat(twelve[own:], twelve[:own]) // its own first: what is told of the first reads as it is written
	} else {
		key, err := v.TargetKey(c.Key)
		if err != nil {
			return nil, err
		}
		keys = []theory.Key{key}
	}
	var all []variant
	for _, key := range keys {
		all = append(all, variant{Exercise: exercise.Transpose(v.Exercise, key), suffix: v.suffix + kit.KeySuffix(key)})
	}
	return all, nil
}

// varyPosition puts a variant into the position asked for, or into each in which
// its key lies well.
func (c *renderCommand) varyPosition(v variant) ([]variant, error) {
	if c.Position == "" {
		return []variant{v}, nil
	}
	if c.Position != every {
		p, err := neck.ParsePosition(c.Position)
		if err = errors.Join(err, v.Neck.CheckPosition(p)); err != nil {
			return nil, err
		}
		return []variant{v.at(p)}, nil
	}
	var all []variant
	for _, lies := range v.Neck.Positions(v.Key) {
		all = append(all, v.at(lies.Position))
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("no position suits %s on %s", v.Key, v.Neck.Tuning)
	}
	return all, nil
}

// at returns the variant in a position.
func (v variant) at(p neck.Position) variant {
	placed := *v.Exercise
	placed.Position = p
	return variant{Exercise: &placed, suffix: v.suffix + kit.PositionSuffix(p)}
}
