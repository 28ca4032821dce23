package main

import (
	"fmt"
	"slices"

	"thirdwise/arrange/exercise"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// every stands for all keys or all positions on the command line.
const every = "all"

// A keyOption asks for another key: a tonic, which keeps the exercise's mode, a
// key of that mode, or every key.
type keyOption string

// UnmarshalText sets k to what a text asks for. Whether the exercise can be moved
// there shows when its own key is known.
func (k *keyOption) UnmarshalText(text []byte) error {
	*k = keyOption(text)
	if string(text) == every {
		return nil
	}
	_, err := theory.ParseKey(string(text))
	if _, minor := theory.ParseKey(string(text) + " minor"); minor == nil {
		return nil // G# alone is the tonic of a minor key, if not of a major one
	}
	return err
}

// A positionOption asks for a position, or for every one that suits the key. The
// zero value asks for none.
type positionOption struct {
	every bool
	neck.Position
}

// UnmarshalText sets p to what a text asks for.
func (p *positionOption) UnmarshalText(text []byte) error {
	*p = positionOption{every: string(text) == every}
	if p.every {
		return nil
	}
	return p.Position.UnmarshalText(text)
}

func (c *renderCommand) validateDensities() error {
	for i, density := range c.Densities {
		if density < 0 || density > 100 {
			return fmt.Errorf("--density %d is outside 0 to 100", density)
		}
		if slices.Contains(c.Densities[:i], density) {
			return fmt.Errorf("--density %d is given twice", density)
		}
	}
	return nil
}

// vary makes of an exercise what the options ask for: its variants in every key and
// density, each a group of the positions in that key.
func (c *renderCommand) vary(e *exercise.Exercise) ([][]variant, error) {
	if len(c.Tempos) > 0 {
		var err error
		if e, err = e.WithTempos(c.Tempos); err != nil {
			return nil, fmt.Errorf("--tempo: %w", err)
		}
	}
	transposed, err := c.varyKey(variant{Exercise: e})
	if err != nil {
		return nil, fmt.Errorf("--key: %w", err)
	}
	var groups [][]variant
	thinned, err := c.varyDensity(transposed)
	if err != nil {
		return nil, fmt.Errorf("--density: %w", err)
	}
	for _, v := range thinned {
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
		key, err := v.TargetKey(string(c.Key))
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

// varyDensity makes of each variant one in each of the densities asked for.
func (c *renderCommand) varyDensity(variants []variant) ([]variant, error) {
	if len(c.Densities) == 0 {
		return variants, nil
	}
	var all []variant
	for _, v := range variants {
		if v.Ladder.Along != exercise.NoLadder {
			return nil, fmt.Errorf("%q is a ladder, which has none", v.Title)
		}
		for _, density := range c.Densities {
			all = append(all, variant{Exercise: v.WithDensity(density), suffix: v.suffix + kit.DensitySuffix(density)})
		}
	}
	return all, nil
}

// varyPosition puts a variant into the position asked for, or into each in which
// its key lies well.
func (c *renderCommand) varyPosition(v variant) ([]variant, error) {
	switch p := c.Position; {
	case p == positionOption{}:
		return []variant{v}, nil
	case !p.every:
		if err := v.Neck.CheckPosition(p.Position); err != nil {
			return nil, err
		}
		return []variant{v.at(p.Position)}, nil
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
