// Package page makes what the pages of a browser hold: a piece, its music in
// rows for screens, and the practice page around them. The engine in the
// workbench makes practice pages too, so nothing is embedded here.
package page
