// Package web makes the two pages that run in a browser without anything
// around them: the practice page of a kit, and the workbench, which is the whole
// program in one file.
//
// Each is one HTML file. It holds its scripts and styles, the engine (package
// engine below it: thirdwise, compiled to WebAssembly and compressed) and, a
// practice page, its piece. Its Content-Security-Policy lets it run what it
// holds, by their hashes, and ask for nothing from anywhere.
//
// The scripts lie in js; generate bundles them and builds the engine.
package web
