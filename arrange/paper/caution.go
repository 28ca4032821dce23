package paper

// Caution is what every handout says of what can hurt: the hand and the ears.
// The listening level is that of the safe-listening guidance of the World Health
// Organization and ITU-T H.870, about 80 dB for 40 hours a week.
const Caution = "Warm up, rest often, and stop when something hurts; if it goes on hurting, see a " +
	"doctor or a physiotherapist. Keep headphones at a moderate level (about 80 dB for 40 hours a week at most)."
