// Package exercise reads the page of text that a teacher writes.
//
// In goes a YAML file; out comes an [Exercise], checked and with its defaults
// filled in, or an [ErrorList] with every mistake, its place in the file and
// what would be right. [Parse] takes three steps, each of which knows places: the
// bytes become a YAML tree (parse.go), its fields become values
// (parse_exercise.go), and the chart, a language of its own, becomes bars
// (chart.go).
//
// What is made of an exercise is decided by package arrange.
package exercise
