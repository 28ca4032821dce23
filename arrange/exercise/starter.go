package exercise

import _ "embed" // for Starter

// Starter is the text of an exercise to begin with. It explains every
// setting.
//
//go:embed starter.yaml
var Starter string
