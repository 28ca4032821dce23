package kit

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"thirdwise/arrange/score"
	"thirdwise/synth"
	"thirdwise/synth/audiofile"
	"thirdwise/theory"
	"thirdwise/theory/meter"
)

// writeAudio writes the kit's audio files, all at one gain in dB, of which it tells as
// soon as it is known, and fills in what was measured of them. Where there are none the
// gain is not a number. Each file that is complete is counted.
func (k Kit) writeAudio(ctx context.Context, into Store, outputs []output, leveled func(gain float64), count func()) (err error) {
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
			return err
		}
		o.track.Out = file.out()
		tracks, files, audio = append(tracks, *o.track), append(files, file), append(audio, &o.File)
	}
	if len(tracks) == 0 {
		leveled(math.NaN())
		return nil
	}
	results, err := synth.Render(ctx, tracks, synth.Options{
		Format:    k.Format,
		Loudness:  k.Loudness,
		Reference: k.reference(outputs),
		Dry:       k.Dry,
		Clips:     k.Clips,
		Backings:  k.Backings,
		Leveled:   leveled,
		Done:      func(int, synth.Result) { count() },
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

// reference returns the performance that sets the kit's gain: that at the last tempo. It
// looks at no output but the tracks, for others may be in the writing.
func (k Kit) reference(outputs []output) *score.Performance {
	for i := range outputs {
		if o := &outputs[i]; o.track != nil && o.Tempo == k.Score.Tempo() && o.Mix != score.Loop.String() && o.Mix != score.Turns.String() {
			return o.track.Performance
		}
	}
	return k.Score.Perform(k.Score.Tempo())
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
		Artist:   k.Score.Handout.By,
		Album:    k.Score.Title,
		Key:      k.Score.Key.ASCII(),
		KeySign:  keySign(k.Score.Key),
		Software: Software,
		Markers:  k.markers(t.Performance),
	}
	if !f.Climb {
		in := k.Score.Meter
		t.Tags.Tempo = 60e6 / float64(in.QuarterMicros(f.Tempo))
		t.Tags.Beats = t.Performance.Length / meter.Quarter
		t.Tags.Meter = [2]int{in.Beats, in.Unit}
	}
	f.Name += "." + k.Format.Container.String()
	f.Kind, f.Mix = KindAudio, t.Mix.String()
	return output{File: f, track: &t}
}

// keySign returns a key as players of records show it: its tonic, and m where its third
// is a minor one.
func keySign(k theory.Key) string {
	if k.MinorThird() {
		return k.Tonic.ASCII() + "m"
	}
	return k.Tonic.ASCII()
}

// number numbers the tracks of the kit, as an album does.
func number(outputs []output) {
	var tracks []*synth.Track
	for _, o := range outputs {
		if o.track != nil {
			tracks = append(tracks, o.track)
		}
	}
	for i, t := range tracks {
		t.Tags.Track, t.Tags.Tracks = i+1, len(tracks)
	}
}

// markers returns where the count-ins and the bars of a performance begin.
func (k Kit) markers(p *score.Performance) []audiofile.Marker {
	mark := func(tick int, label string) audiofile.Marker {
		return audiofile.Marker{Frame: p.Sample(tick, k.Format.Rate), Label: label}
	}
	var markers []audiofile.Marker
	for _, tick := range p.CountIns {
		markers = append(markers, mark(tick, "count-in"))
	}
	for _, bar := range p.Bars {
		markers = append(markers, mark(bar.Tick, k.Score.Mark(bar)))
	}
	slices.SortStableFunc(markers, func(a, b audiofile.Marker) int { return a.Frame - b.Frame })
	return markers
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
