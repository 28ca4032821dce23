package kit

import (
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/kit/machine"
)

// As many files as the system allows may be open, and not one more; the message says how
// many are missing, and the limit that would do.
func TestAsManyFilesAreOpenAsTheSystemAllows(t *testing.T) {
	limit, known := machine.OpenFiles()
	if !known {
		t.Skip("the system has no limit")
	}
	assert.NoError(t, Size{Tracks: limit - filesShared}.fit("wide"))
	err := Size{Tracks: limit - filesShared + 2}.fit("wide")
	assert.ErrorContains(t, err, ": 2 are missing")
	assert.ErrorContains(t, err, "(ulimit -n "+strconv.Itoa(limit+2)+")")

	assert.Equal(t, 1, AtOnce(slices.Repeat([]Size{{Tracks: limit / 2}}, 5)), "two of them and what else is open are too many")
	assert.Equal(t, 2, AtOnce(slices.Repeat([]Size{{Tracks: (limit - filesShared) / 2}}, 5)))
	if limit < 1<<20 { // a limit that is none is no number of kits
		assert.Equal(t, limit+5, AtOnce(make([]Size, limit+5)), "nothing is open")
		assert.Equal(t, limit-filesShared, AtOnce(slices.Repeat([]Size{{Tracks: 1}}, limit+5)))
	}
}

// What is missing is what is taken, less what is free.
func TestMissingMemoryIsToldToTheTenth(t *testing.T) {
	if _, known := machine.FreeMemory(); !known {
		t.Skip("the system does not tell what is free")
	}
	err := Size{Alone: 4e12}.fit("vast")
	require.Error(t, err)
	var gigabytes []float64
	for _, number := range regexp.MustCompile(`[0-9.]+ [MG]B`).FindAllString(err.Error(), -1) {
		n, unit, _ := strings.Cut(number, " ")
		value, err := strconv.ParseFloat(n, 64)
		require.NoError(t, err)
		if unit == "MB" {
			value /= 1000
		}
		gigabytes = append(gigabytes, value)
	}
	require.Len(t, gigabytes, 3, err)
	assert.InDelta(t, 4000, gigabytes[0], 0.06)
	assert.InDelta(t, gigabytes[0]-gigabytes[1], gigabytes[2], 0.2)
}

// The work is shared among the processors.
func TestTimeIsTheWorkOnAllProcessors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	for range 2 { // asking changes nothing
		assert.Equal(t, 2.5, Size{Work: 10}.Time())
		assert.Equal(t, 7.0, Size{Work: 10, Longest: 7}.Time(), "one thing after another")
	}
}

// A name leaves room for the endings of files: letters of one byte, of two and of three.
func TestLongNamesEndAtTheLimit(t *testing.T) {
	for letter, want := range map[string]int{"a": 119, "ä": 118, "あ": 117} {
		assert.Len(t, Name("", strings.Repeat(letter, 200)), want, letter)
	}
	assert.Equal(t, strings.Repeat("a", 117)+"-b", Name("", strings.Repeat("a", 117)+" bc"))
	assert.Equal(t, strings.Repeat("a", 118)+"-b", Name("", strings.Repeat("a", 118)+" bc"))
}

// JSON is UTF-8: a name that is, stays as it is, and of another the stray bytes are
// written out.
func TestNamesAreRecordedAsTextCanHaveThem(t *testing.T) {
	assert.Equal(t, `Übung "A".yaml`, (Kit{Exercise: `Übung "A".yaml`}).file())
	assert.Equal(t, `Lektion \xe4.yaml`, (Kit{Exercise: "Lektion \xe4.yaml"}).file())
}
