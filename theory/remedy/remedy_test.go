package remedy_test

import (
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/theory/remedy"
)

func ExampleMeant() {
	r := remedy.Meant("Am7")
	fmt.Println(r)
	fmt.Printf("%q\n", r.Texts())
	// Output:
	// did you mean Am7?
	// ["Am7"]
}

func TestWordsNameTheTextsThatAreWritten(t *testing.T) {
	for _, c := range []struct {
		r     remedy.Remedy
		words string
		texts []string
	}{
		{remedy.Remedy{}, "", nil},
		{remedy.Say("use 0% to 100%, or %s"), "use 0% to 100%, or %s", nil},
		{remedy.Write("write %s", "C/E", "C"), "write C/E or C", []string{"C/E", "C"}},
		{remedy.Meant("Cm", "Cm6", "Cm7"), "did you mean Cm, Cm6 or Cm7?", []string{"Cm", "Cm6", "Cm7"}},
		{remedy.Write("write %s for the chord, or %s for a section's name", "A", "[A]"), "write A for the chord, or [A] for a section's name", []string{"A", "[A]"}},
		{remedy.Write("leave it out", ""), "leave it out", []string{""}},
		{remedy.Write("write %s", "50%s"), "write 50%s", []string{"50%s"}},
	} {
		assert.Equal(t, c.words, c.r.String())
		assert.Equal(t, c.texts, c.r.Texts())
	}
}

func TestTextsAreListedAsAChoice(t *testing.T) {
	assert.Empty(t, remedy.AnyOf(nil))
	assert.Equal(t, "low", remedy.AnyOf([]string{"low"}))
	assert.Equal(t, "low or high", remedy.AnyOf([]string{"low", "high"}))
	assert.Equal(t, "grid, low or high", remedy.AnyOf([]string{"grid", "low", "high"}))
}

func TestAnErrorIsWhatWasFoundAndItsRemedy(t *testing.T) {
	assert.EqualError(t, remedy.Errorf(remedy.Meant("C"), "%q is not a chord", "c"), `"c" is not a chord; did you mean C?`)
	assert.EqualError(t, remedy.Errorf(remedy.Remedy{}, "%q is not a chord", "c"), `"c" is not a chord`)
}

func TestAnErrorOfAnotherKindHasNoRemedy(t *testing.T) {
	found, r := remedy.Of(fmt.Errorf("read: %w", remedy.Errorf(remedy.Meant("C"), "c is not a chord")))
	assert.Equal(t, "c is not a chord", found)
	assert.Equal(t, remedy.Meant("C"), r)
	found, r = remedy.Of(errors.New("out of reach; press on"))
	assert.Equal(t, "out of reach; press on", found)
	assert.Equal(t, remedy.Remedy{}, r)
}

func TestOfAPartThatIsWrongNothingIsWrittenInThePlaceOfTheWhole(t *testing.T) {
	err := remedy.In("the bass", remedy.Errorf(remedy.Meant("B"), "H is called B here"))
	assert.EqualError(t, err, "the bass: H is called B here; did you mean B?")
	_, r := remedy.Of(err)
	assert.Empty(t, r.Texts())
}

func TestAPartIsWrittenWithWhatStandsAroundIt(t *testing.T) {
	err := remedy.Around("V7/", remedy.Errorf(remedy.Meant("ii", "ii7"), "iix is not a chord"), "/E")
	assert.EqualError(t, err, "iix is not a chord; did you mean V7/ii/E or V7/ii7/E?")
	_, r := remedy.Of(err)
	assert.Equal(t, []string{"V7/ii/E", "V7/ii7/E"}, r.Texts())
}
