package exercise

import _ "embed" // for Starter

// Starter is the text of an exercise to begin with. It explains every field.
//
//go:embed starter.yaml
var Starter string
