// Package exercise reads the page of text that a teacher writes.
//
// In goes a YAML file; out comes an [Exercise], checked and with its defaults
// filled in, or [source.Findings] with every mistake, its place in the file and
// what would be right.
//
//	bytes ──source──▶ settings ──[Parse]──▶ Exercise
//	                     └── chart: ──chart.Read──▶ bars
//
// Package source knows the text and YAML, package chart the language of the chart.
// Here, parse.go tells which settings there are and in which order they are read,
// settings.go finds a setting and says what is wrong with its name, and values.go
// turns the text of each into what it means.
//
// What is made of an exercise is decided by package arrange.
package exercise
