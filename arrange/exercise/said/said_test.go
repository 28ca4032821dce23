package said_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"thirdwise/arrange/exercise/said"
)

func TestAllNamesThatAreAsNearAreMeant(t *testing.T) {
	names := []string{"chart", "by", "bass", "pass", "sixteenths"}
	for name, want := range map[string][]string{
		"chat":                  {"chart"},
		"CHART":                 {"chart"},
		"ass":                   {"bass", "pass"},
		"bx":                    {"by"},
		"sixtents":              {"sixteenths"},
		"sixteen":               {"sixteenths"},
		"sixtee":                nil,
		"xx":                    nil,
		strings.Repeat("b", 41): nil,
	} {
		assert.Equal(t, want, said.Nearest(name, names), name)
	}
}
