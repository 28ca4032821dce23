package kit

import (
	"context"
	"errors"
	"fmt"
	"math"

	"thirdwise/synth"
	"thirdwise/synth/audiofile"
)

// writeAudio writes the kit's audio files, all at one gain in dB, which it
// returns, and fills in what was measured of them. Each file that is complete is
// counted.
func (k Kit) writeAudio(ctx context.Context, into Store, outputs []output, count func()) (gain float64, err error) {
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
		if o.track == nil {
			continue
		}
		file, err := create(into, o.Name)
		if err != nil {
			return 0, err
		}
		o.track.Out = file.out()
		tracks, files, audio = append(tracks, *o.track), append(files, file), append(audio, &o.File)
	}
	if len(tracks) == 0 {
		return math.NaN(), nil
	}
	results, err := synth.Render(ctx, tracks, synth.Options{
		Format:    k.Format,
		Loudness:  k.Loudness,
		Reference: k.Score.Perform(k.Score.Tempo()),
		Dry:       k.Dry,
		Done:      func(int, synth.Result) { count() },
	})
	if err != nil {
		return 0, err
	}
	gain = math.NaN()
	for i, r := range results {
		gain = r.Gain
		audio[i].Sound = k.sound(r)
		audio[i].Seconds = float64(r.Frames) / float64(k.Format.Rate)
		if err := files[i].measure(audio[i]); err != nil {
			return 0, err
		}
	}
	return gain, nil
}

// audio completes an audio file, whose name lacks its ending, and its track: it
// says what it is, and where its bars and sections begin.
func (k Kit) audio(f File, t synth.Track) output {
	at := fmt.Sprintf("%d beats per minute", f.Tempo)
	if f.Climb {
		at = "climb"
	}
	t.Tags = audiofile.Tags{
		Title:    fmt.Sprintf("%s, %s, %s", k.Score.Title, at, t.Mix),
		Software: Software,
	}
	for _, bar := range t.Performance.Bars {
		t.Tags.Markers = append(t.Tags.Markers, audiofile.Marker{
			Frame: t.Performance.Sample(bar.Tick, k.Format.Rate),
			Label: markerLabel(bar.Label, k.Score.Bars[bar.Index].Section),
		})
	}
	f.Name += "." + k.Format.Container.String()
	f.Kind, f.Mix = KindAudio, t.Mix.String()
	return output{File: f, track: &t}
}

func markerLabel(bar, section string) string {
	label := "bar " + bar
	if section != "" {
		label = section + ", " + label
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
