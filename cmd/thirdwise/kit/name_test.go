package kit_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"thirdwise/cmd/thirdwise/kit"
	"thirdwise/theory"
	"thirdwise/theory/neck"
)

func ExampleName() {
	fmt.Println(kit.Name("lessons/Porch Light.yaml", "Porch Light in C"))
	fmt.Println(kit.Name("", "Früh am Morgen (langsam)"))
	fmt.Println(kit.Name("Lesson C#.yaml", ""))
	fmt.Println(kit.Name("", "…"))
	// Output:
	// porch-light
	// früh-am-morgen-langsam
	// lesson-c-sharp
	// exercise
}

func ExampleKeySuffix() {
	flat, _ := theory.ParseKey("Bb harmonic minor")
	fmt.Println(kit.Name("porch-light.yaml", "") + kit.KeySuffix(flat))
	// Output: porch-light-b-flat-harmonic-minor
}

func ExamplePositionSuffix() {
	fmt.Println(kit.PositionSuffix(neck.At(5)), kit.PositionSuffix(neck.Open))
	// Output: -position-5 -open
}

func TestNameIsSafeInAnyFolder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path, title := rapid.String().Draw(t, "path"), rapid.String().Draw(t, "title")
		name := kit.Name(path, title)
		assert.NotEmpty(t, name)
		assert.LessOrEqual(t, len(name), 120)
		assert.True(t, utf8.ValidString(name))
		assert.False(t, strings.ContainsAny(name, `/\.:*?"<>| `+"\x00"), name)
		assert.False(t, strings.HasPrefix(name, "-") || strings.HasSuffix(name, "-"), name)
		assert.Equal(t, strings.ToLower(name), name)
	})
}

func TestNameOfAPathThatLeadsElsewhereStaysInTheFolder(t *testing.T) {
	for _, path := range []string{"../../etc/passwd.yaml", "..", ".", "/", "/..", "a/../..", ".yaml", "..\\..\\x.yaml"} {
		name := kit.Name(path, "")
		assert.NotContains(t, name, ".", path)
		assert.NotContains(t, name, "/", path)
		assert.NotEmpty(t, name, path)
	}
}

// The names of devices are those of Windows (Naming Files, Paths, and Namespaces,
// Microsoft, from memory).
func TestNameIsNeverThatOfADevice(t *testing.T) {
	for _, name := range []string{"con", "PRN", "Aux", "nul", "COM1", "com9", "lpt1", "LPT9"} {
		assert.Equal(t, strings.ToLower(name)+"-kit", kit.Name(name+".yaml", ""))
	}
	assert.Equal(t, "contra", kit.Name("contra.yaml", ""))
	assert.Equal(t, "com10", kit.Name("com10.yaml", ""))
}

// The two forms of é are those of Unicode Standard Annex 15.
func TestNamesThatAFileSystemMayTakeForOneAreOne(t *testing.T) {
	assert.Equal(t, kit.Name("caf\u00e9.yaml", ""), kit.Name("cafe\u0301.yaml", ""))
	assert.Equal(t, kit.Folded("stra\u00dfe"), kit.Folded("strasse"))
	assert.Equal(t, kit.Folded("\ufb01nger"), kit.Folded("finger"))
}

func TestNamesOfDistinctScriptsStayDistinct(t *testing.T) {
	assert.NotEqual(t, kit.Name("練習.yaml", ""), kit.Name("упражнение.yaml", ""))
}
