package theory

// AddMode adds a mode to the table as one row more would, for as long as the test
// that asks for it runs; undo takes it out again.
func AddMode(name string, degrees [7]int, fifths int, minor bool) (added Mode, undo func()) {
	before := modes
	modes = append(modes[:len(modes):len(modes)], modeRow{name: name, degrees: degrees, fifths: fifths, minor: minor})
	return Mode(len(before)), func() { modes = before }
}
