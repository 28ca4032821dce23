// Package arrangetest makes scores for the tests of the rooms that read them: of
// an exercise in the test itself, or of those under testdata, which a person has
// looked at and listened to. What goes wrong on the way fails the test.
package arrangetest

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/stretchr/testify/require"

	"thirdwise/arrange"
	"thirdwise/arrange/exercise"
	"thirdwise/arrange/score"
)

// Parse reads the exercise in a text.
func Parse(t require.TestingT, text string) *exercise.Exercise {
	e, err := exercise.Parse("exercise.yaml", []byte(text))
	require.NoError(t, err)
	return e
}

// Score arranges the exercise in a text.
func Score(t require.TestingT, text string) *score.Score { return Arrange(t, Parse(t, text)) }

// Arrange arranges an exercise.
func Arrange(t require.TestingT, e *exercise.Exercise) *score.Score {
	s, _, err := arrange.Arrange(e)
	require.NoError(t, err)
	return s
}

// Exercises returns the exercises under testdata by name: "porch-light".
func Exercises(t require.TestingT) map[string]*exercise.Exercise {
	folder := filepath.Join("testdata", "exercises")
	for range 5 { // tests run in their package's folder
		if _, err := os.Stat(folder); err == nil {
			break
		}
		folder = filepath.Join("..", folder)
	}
	files, err := filepath.Glob(filepath.Join(folder, "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	all := map[string]*exercise.Exercise{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		all[strings.TrimSuffix(filepath.Base(file), ".yaml")] = Parse(t, string(text))
	}
	return all
}

// Scores returns the scores of the exercises under testdata by name.
func Scores(t require.TestingT) map[string]*score.Score {
	scores := map[string]*score.Score{}
	for name, e := range Exercises(t) {
		scores[name] = Arrange(t, e)
	}
	return scores
}

// Named returns the score of one of the exercises under testdata.
func Named(t require.TestingT, name string) *score.Score {
	e := Exercises(t)[name]
	require.NotNil(t, e, name)
	return Arrange(t, e)
}
