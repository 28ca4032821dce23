package kit

import (
	"context"
	"errors"
	"fmt"
	"math"

	"thirdwise/arrange"
	"thirdwise/synth"
)

// writeAudio writes the kit's audio files, all at one gain, and fills in what
// was measured of them. Each file that is complete is counted.
func (k Kit) writeAudio(ctx context.Context, d *draft, outputs []output, count func()) (err error) {
	var (
		tracks []synth.Track
		files  []*measuredFile
		audio  []*File
	)
	defer func() {
		for _, f := range files {
			err = errors.Join(err, f.Close())
		}
	}()
	for i := range outputs {
		o := &outputs[i]
		if o.write != nil {
			continue
		}
		file, err := d.create(o.Name)
		if err != nil {
			return err
		}
		track := synth.Track{Performance: o.performance, Mix: o.mix, Tags: k.tags(o), Out: file}
		tracks, files, audio = append(tracks, track), append(files, file), append(audio, &o.File)
	}
	results, err := synth.Render(ctx, tracks, synth.Options{
		Format: k.Format,
		Done:   func(int, synth.Result) { count() },
	})
	if err != nil {
		return err
	}
	for i, r := range results {
		audio[i].Sound = k.sound(r)
		audio[i].Seconds = float64(r.Frames) / float64(k.Format.Rate)
		if err := files[i].measure(audio[i]); err != nil {
			return err
		}
	}
	return nil
}

// tags returns what an audio file says about itself: what it is, and where its
// bars and sections begin.
func (k Kit) tags(o *output) synth.Tags {
	t := synth.Tags{
		Title:    fmt.Sprintf("%s, %d beats a minute, %s", k.Score.Title, o.Tempo, o.Mix),
		Software: Software,
	}
	for _, bar := range o.performance.Bars {
		t.Markers = append(t.Markers, synth.Marker{
			Frame: o.performance.Sample(bar.Tick, k.Format.Rate),
			Label: markerLabel(bar.Index, k.Score.Bars[bar.Index]),
		})
	}
	return t
}

func markerLabel(index int, bar arrange.Bar) string {
	label := fmt.Sprintf("bar %d", index+1)
	if bar.Section != "" {
		label = bar.Section + ", " + label
	}
	return label
}

// sound describes the samples of a track.
func (k Kit) sound(r synth.Result) *Sound {
	s := &Sound{Rate: k.Format.Rate, Depth: k.Format.Depth}
	if !math.IsInf(r.Loudness, 0) && !math.IsInf(r.TruePeak, 0) {
		s.Loudness, s.TruePeak = hundredths(r.Loudness), hundredths(r.TruePeak)
	}
	return s
}

// hundredths rounds a level to what a meter can tell apart.
func hundredths(level float64) *float64 {
	rounded := math.Round(level*100) / 100
	return &rounded
}
