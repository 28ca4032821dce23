package kit

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"thirdwise/arrange/arrangetest"
	"thirdwise/arrange/paper"
	"thirdwise/arrange/score"
	"thirdwise/synth/audiofile"
)

// A cue point stands at the very frame on which its bar begins: ticks times
// microseconds a tick times frames a second, reckoned without rounding on the way.
func TestCuePointsAreExact(t *testing.T) {
	k := Kit{
		Name: "odd", Score: arrangetest.Named(t, "odd-socks"), Mixes: []score.Mix{score.Full},
		Format: audiofile.Format{Rate: 44100, Depth: 16},
	}
	k.Score.Tempos = []int{83}
	for _, o := range k.outputs(paper.Notate(k.Score)) {
		if o.track == nil {
			continue
		}
		p := o.track.Performance
		require.Len(t, p.Tempos, 2, "half a second of silence, and then the tempo")
		require.Len(t, o.track.Tags.Markers, 1+len(p.Bars))
		silence := p.Tempos[1].Tick
		assert.Equal(t, audiofile.Marker{Frame: 22050, Label: "count-in"}, o.track.Tags.Markers[0])
		for i, bar := range p.Bars {
			ticks := int64(silence)*int64(p.Tempos[0].QuarterMicros) + int64(bar.Tick-silence)*int64(p.Tempos[1].QuarterMicros)
			exact := new(big.Rat).SetFrac64(ticks*44100, 480*1_000_000)
			frame, _ := exact.Float64()
			assert.InDelta(t, frame, o.track.Tags.Markers[i+1].Frame, 0.5, "bar %s", bar.Label)
		}
	}
}
