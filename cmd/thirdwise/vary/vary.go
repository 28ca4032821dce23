// Package vary makes of an exercise what a command line asks for: the exercise in
// other keys, positions, densities and at other tempos. What cannot be had shows
// when the exercise is known.
package vary

import (
	"fmt"

	"thirdwise/arrange/exercise"
	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

// A Variant is an exercise as the command line asks for it.
type Variant struct {
	*exercise.Exercise
	Suffix string // of its kit's name; "" for the exercise as it is written
	found  *found // nil where a [Keeper] has not kept it
}

// Asked makes of an exercise what the command line asks for: groups of one variant
// or more, of each of which at least one must be playable. Where that cannot be
// done, the command line is wrong.
type Asked func(*exercise.Exercise) ([][]Variant, error)

// AsWritten asks for nothing else.
func AsWritten(e *exercise.Exercise) ([][]Variant, error) { return [][]Variant{{{Exercise: e}}}, nil }

// Options are what is asked for. The zero value is the exercise as it is written.
type Options struct {
	Tempos    []int // beats per minute
	Key       Key
	Position  Position
	Densities []int // per cent
}

// every stands for all keys or all positions on the command line.
const every = "all"

// A Key asks for another key: a tonic, which keeps the exercise's mode, a
// key of that mode, or every key.
type Key string

// UnmarshalText sets k to what a text asks for. Whether the exercise can be moved
// there shows when its own key is known.
func (k *Key) UnmarshalText(text []byte) error {
	*k = Key(text)
	if string(text) == every {
		return nil
	}
	_, err := theory.ParseKey(string(text))
	if _, minor := theory.ParseKey(string(text) + " minor"); minor == nil {
		return nil // G# alone is the tonic of a minor key, if not of a major one
	}
	return err
}

// A Position asks for a position, or for every one that suits the key. The
// zero value asks for none.
type Position struct {
	every bool
	neck.Position
}

// UnmarshalText sets p to what a text asks for.
func (p *Position) UnmarshalText(text []byte) error {
	*p = Position{every: string(text) == every}
	if p.every {
		return nil
	}
	return p.Position.UnmarshalText(text)
}

// Of makes of an exercise what the options ask for: its variants in every key and
// density, each a group of the positions in that key.
func (o Options) Of(e *exercise.Exercise) ([][]Variant, error) {
	if len(o.Tempos) > 0 {
		var err error
		if e, err = e.WithTempos(o.Tempos); err != nil {
			return nil, fmt.Errorf("--tempo: %w", err)
		}
	}
	transposed, err := o.varyKey(Variant{Exercise: e})
	if err != nil {
		return nil, fmt.Errorf("--key: %w", err)
	}
	var groups [][]Variant
	thinned, err := o.varyDensity(transposed)
	if err != nil {
		return nil, fmt.Errorf("--density: %w", err)
	}
	for _, v := range thinned {
		placed, err := o.varyPosition(v)
		if err != nil {
			return nil, fmt.Errorf("--position: %w", err)
		}
		groups = append(groups, placed)
	}
	return groups, nil
}

func (o Options) varyKey(v Variant) ([]Variant, error) {
	if o.Key == "" {
		return []Variant{v}, nil
	}
	var keys []theory.Key
	if o.Key == every {
		twelve, own := v.Key.Mode.Keys(), v.Key.Tonic.Class()
		// Its own first: what is told of the first reads as it is written. Then by fifths:
		// neighbours share all tones but one, and notes that are kept serve both.
		for fifths := range twelve {
			keys = append(keys, twelve[(own+7*fifths)%len(twelve)])
		}
	} else {
		key, err := v.TargetKey(string(o.Key))
		if err != nil {
			return nil, err
		}
		keys = []theory.Key{key}
	}
	var all []Variant
	for _, key := range keys {
		all = append(all, Variant{Exercise: exercise.Transpose(v.Exercise, key), Suffix: v.Suffix + kit.KeySuffix(key)})
	}
	return all, nil
}

// varyDensity makes of each variant one in each of the densities asked for.
func (o Options) varyDensity(variants []Variant) ([]Variant, error) {
	if len(o.Densities) == 0 {
		return variants, nil
	}
	var all []Variant
	for _, v := range variants {
		if v.Ladder.Along != exercise.NoLadder {
			return nil, fmt.Errorf("%q is a ladder, which has none", v.Title)
		}
		for _, density := range o.Densities {
			all = append(all, Variant{Exercise: v.WithDensity(density), Suffix: v.Suffix + kit.DensitySuffix(density)})
		}
	}
	return all, nil
}

// varyPosition puts a variant into the position asked for, or into each in which
// its key lies well.
func (o Options) varyPosition(v Variant) ([]Variant, error) {
	switch p := o.Position; {
	case p == Position{}:
		return []Variant{v}, nil
	case !p.every:
		if err := v.Neck.CheckPosition(p.Position); err != nil {
			return nil, err
		}
		return []Variant{v.at(p.Position)}, nil
	}
	var all []Variant
	for _, lies := range v.Neck.Positions(v.Key) {
		all = append(all, v.at(lies.Position))
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("no position suits %s on %s", v.Key, v.Neck.Tuning)
	}
	return all, nil
}

// at returns the variant in a position.
func (v Variant) at(p neck.Position) Variant {
	placed := *v.Exercise
	placed.Position = p
	return Variant{Exercise: &placed, Suffix: v.Suffix + kit.PositionSuffix(p)}
}
