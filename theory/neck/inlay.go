package neck

// Inlays returns how many dots usually mark a fret of the neck, counted from the
// nut: one, two at the octaves, or none (common practice).
func Inlays(fret int) int {
	switch fret {
	case 3, 5, 7, 9, 15, 17, 19, 21:
		return 1
	case 12, 24:
		return 2
	}
	return 0
}
