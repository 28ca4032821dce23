package neck

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestGripsThatNoHandHoldsAreRefused(t *testing.T) {
	for _, c := range []struct {
		grip Grip
		why  string // "" where a hand holds it
	}{
		{Grip{5, 7, 7, 6, 5, 5}, ""},
		{Grip{0, 0, 0, 0, 0, 0}, ""},
		{Grip{-1, -1, -1, -1, -1, -1}, ""},
		{Grip{-1, 1, 2, 2, 0, 2}, ""},
		{Grip{1, 0, 2, 2, 2, 2}, ""},
		{Grip{1, -1, -1, -1, -1, 4}, ""},
		{Grip{7, -1, -1, -1, -1, 11}, ""},
		{Grip{1, 3, 3, 2, 1, 0}, "an open string under the barre"},
		{Grip{-1, 3, 1, 3, 1, 2}, "a barre that neither begins nor ends the grip"},
		{Grip{1, -1, -1, -1, -1, 5}, "five frets low on the neck"},
		{Grip{6, -1, -1, -1, -1, 10}, "five frets low on the neck"},
		{Grip{7, -1, -1, -1, -1, 12}, "six frets"},
		{Grip{1, 2, 3, 4, 3, 2}, "five fingers"},
		{Grip{-1, 2, 3, 4, 2, 0}, ""},
		{Grip{-1, 1, 2, 3, 4, 4}, ""},
		{Grip{2, 4, 4, 2, 2, 3}, ""},
		{Grip{1, 3, 4, 3, 2, 1}, "a barre and four fingers"},
		{Grip{1, 3, 4, 3, 2, 1, 1}, "a barre and four fingers"},
		{Grip{1, 2, 3, 4, 2, 2}, "four fingers and a barre"},
		{Grip{1, 2, 3, 4, 2, 0, 0}, "five fingers and open strings"},
		{Grip{1, 2, 3, 4, 2, 0}, "five fingers and an open string"},
	} {
		_, ok := c.grip.Fingers()
		assert.Equal(t, c.why == "", ok, "%s: %s", c.grip, c.why)
	}
}

// Common practice: the fingers that beginners' books print.
func TestFingersAreThoseOfBeginnersBooks(t *testing.T) {
	for _, c := range []struct {
		grip    Grip
		fingers []int
		barres  []Barre
	}{
		{Grip{-1, 3, 2, 0, 1, 0}, []int{0, 3, 2, 0, 1, 0}, nil},
		{Grip{-1, 0, 2, 2, 1, 0}, []int{0, 0, 2, 3, 1, 0}, nil},
		{Grip{-1, 0, 2, 2, 2, 0}, []int{0, 0, 1, 2, 3, 0}, nil},
		{Grip{-1, -1, 0, 2, 3, 2}, []int{0, 0, 0, 1, 3, 2}, nil},
		{Grip{-1, -1, 0, 2, 3, 1}, []int{0, 0, 0, 2, 3, 1}, nil},
		{Grip{0, 2, 2, 1, 0, 0}, []int{0, 2, 3, 1, 0, 0}, nil},
		{Grip{0, 2, 2, 0, 0, 0}, []int{0, 2, 3, 0, 0, 0}, nil},
		{Grip{3, 2, 0, 0, 0, 3}, []int{2, 1, 0, 0, 0, 3}, nil},
		{Grip{-1, 3, 2, 3, 1, 0}, []int{0, 3, 2, 4, 1, 0}, nil},
		{Grip{-1, 2, 1, 2, 0, 2}, []int{0, 2, 1, 3, 0, 4}, nil},
		{Grip{-1, -1, 0, 2, 1, 2}, []int{0, 0, 0, 2, 1, 3}, nil},
		{Grip{1, 3, 3, 2, 1, 1}, []int{1, 3, 4, 2, 1, 1}, []Barre{{1, 1, 6, 1}}},
		{Grip{2, 4, 4, 2, 2, 2}, []int{1, 3, 4, 1, 1, 1}, []Barre{{1, 2, 6, 1}}},
		{Grip{-1, 2, 4, 4, 3, 2}, []int{0, 1, 3, 4, 2, 1}, []Barre{{1, 2, 5, 1}}},
		{Grip{-1, 2, 4, 4, 4, 2}, []int{0, 1, 2, 3, 4, 1}, []Barre{{1, 2, 5, 1}}},
		{Grip{-1, -1, 3, 2, 1, 1}, []int{0, 0, 3, 2, 1, 1}, []Barre{{1, 1, 2, 1}}},
		{Grip{-1, -1, 0, 2, 1, 1}, []int{0, 0, 0, 2, 1, 1}, []Barre{{1, 1, 2, 1}}},
		{Grip{-1, 1, 3, 3, 3, 3}, []int{0, 1, 3, 3, 3, 3}, []Barre{{3, 3, 4, 1}}},
		{Grip{1, 1, 3, 3, 3, 3}, []int{1, 1, 3, 3, 3, 3}, []Barre{{1, 1, 6, 5}, {3, 3, 4, 1}}},
		{Grip{1, 3, 3, 3, 3, 3}, []int{1, 3, 4, 4, 4, 4}, []Barre{{4, 3, 4, 1}}},
		{Grip{1, 3, 3, 3, 3}, []int{1, 3, 3, 3, 3}, []Barre{{3, 3, 4, 1}}},
		{Grip{-1, 3, 4, 3, 4, -1}, []int{0, 1, 3, 2, 4, 0}, nil},
		{Grip{-1, -1, 0, 2, 2, 2}, []int{0, 0, 0, 1, 2, 3}, nil},
		{Grip{-1, 0, 2, 2, 2, 2}, []int{0, 0, 1, 1, 1, 1}, []Barre{{1, 2, 4, 1}}},
		{Grip{-1, 3, 2, 0, 0, 0}, []int{0, 3, 2, 0, 0, 0}, nil},
		{Grip{0, 2, 0, 0, 0, 0}, []int{0, 2, 0, 0, 0, 0}, nil},
		{Grip{-1, 0, 2, 4, 0, 0}, []int{0, 0, 1, 3, 0, 0}, nil},
		{Grip{-1, 0, 7, 6, 0, 0}, []int{0, 0, 2, 1, 0, 0}, nil},
	} {
		f, ok := c.grip.Fingers()
		require.True(t, ok)
		assert.Equal(t, Fingers{c.fingers, c.barres}, f, c.grip.String())
	}
}

func ExampleGrip_Fingers() {
	f, _ := Grip{1, 3, 3, 2, 1, 1}.Fingers()
	fmt.Println(f.Of)
	for _, b := range f.Barres {
		fmt.Printf("finger %d lies from string %d to string %d at fret %d\n", b.Finger, b.From, b.To, b.Fret)
	}
	// Output:
	// [1 3 4 2 1 1]
	// finger 1 lies from string 6 to string 1 at fret 1
}
