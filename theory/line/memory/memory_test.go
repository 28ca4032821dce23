package memory

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestWhatIsAskedForIsKnown(t *testing.T) {
	var m Memory[int]
	times := 0
	square := func(n int) int {
		var by Description
		by.Numbers(n)
		return m.Recall(by, func() int { times++; return n * n })
	}
	assert.Equal(t, 9, square(3))
	assert.Equal(t, 16, square(4))
	assert.Equal(t, 9, square(3))
	assert.Equal(t, 2, times)
	m.Age()
	assert.Equal(t, 9, square(3), "what is old is known, and is new again")
	m.Age()
	assert.Equal(t, 9, square(3))
	assert.Equal(t, 2, times)
	assert.Equal(t, 16, square(4), "what was not asked for is forgotten")
	assert.Equal(t, 3, times)
}

// Two lists are described alike if they are alike, and otherwise where one number or one
// fact differs, or one list is longer: each tells how long it is.
func TestDescriptionsTellListsApart(t *testing.T) {
	type thing struct {
		numbers []int
		facts   []bool
	}
	describe := func(all []thing) (d Description) {
		for _, it := range all {
			d.Numbers(len(it.numbers), len(it.facts))
			d.Numbers(it.numbers...)
			d.Facts(it.facts...)
		}
		return d
	}
	anything := rapid.Custom(func(t *rapid.T) thing {
		return thing{
			rapid.SliceOfN(rapid.IntRange(-200, 200), 0, 2).Draw(t, "numbers"),
			rapid.SliceOfN(rapid.Bool(), 0, 2).Draw(t, "facts"),
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SliceOfN(anything, 1, 3).Draw(t, "a")
		b := slices.Clone(a)
		if i := rapid.IntRange(0, len(b)).Draw(t, "differs"); i < len(b) {
			b[i] = anything.Draw(t, "instead")
		}
		assert.Equal(t, assert.ObjectsAreEqual(a, b), string(describe(a)) == string(describe(b)))
	})
}
