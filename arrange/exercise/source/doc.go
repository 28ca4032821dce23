// Package source knows the text of an exercise: what its YAML says, where each
// character of it stands, and what has been found in it.
//
//	bytes ──[Read]──▶ File ──[File.Settings]──▶ Setting, Setting, …
//	                   ▲                           │ Value: a text, a list or a group
//	                   │                           ▼
//	                Findings ◀──[Text.Mistake]── Text: characters, each with its place
//
// Whoever reads a [Text] and finds something wrong says so to the text itself; the
// finding is marked in the file where the text stands, and gathers in
// [File.Findings]. The package knows YAML and nothing of music. It is the only
// one that does.
package source
