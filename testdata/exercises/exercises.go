// Package exercises holds the exercises that the workbench offers to start from.
package exercises

import "embed"

// Files are the exercises; each teaches one thing, and its first lines say what.
//
//go:embed *.yaml
var Files embed.FS
