package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"thirdwise/cmd/thirdwise/vary"
)

// What check tells that a kit takes, as a part of what it takes: disk, memory and time.
// Of disk and memory it is not less, and seldom more than half as much again. Take
// -benchtime 1x.
func BenchmarkEstimates(b *testing.B) {
	const head = "title: Any\nkey: C\n"
	bars := func(n int) string { return "chart: |\n" + strings.Repeat("  | C | Am | Dm | G |\n", n/4) }
	for name, row := range map[string]struct{ text, mixes string }{
		"4 bars":       {head + bars(4), ""},
		"4 bars paper": {head + bars(4), "none"},
		"32 bars":      {head + "bass: walking\ngroove: shaker\nclimb: 10\n" + bars(32), ""},
		"2 hours":      {head + "tempos: [60]\npasses: 50\n" + bars(36), ""},
		"4096 bars":    {head + "tempos: [120]\npasses: 1\nline: {density: 0%}\nstrum: D - - -\n" + bars(4096), ""},
		"dense strum":  {head + "tempos: [200]\npasses: 1\nstrum: " + strings.Repeat("D U ", 8) + "\n" + bars(400), ""},
	} {
		b.Run(name, func(b *testing.B) {
			path := filepath.Join(b.TempDir(), "any.yaml")
			require.NoError(b, os.WriteFile(path, []byte(row.text), 0o666))
			con := &console{ctx: b.Context(), stderr: os.Stderr}
			arranged, _, err := con.arrange(path, vary.AsWritten)
			require.NoError(b, err)
			require.Len(b, arranged, 1)
			k := arranged[0].kit()
			k.NoAudio = row.mixes == "none"
			size, err := k.Size()
			require.NoError(b, err)
			for b.Loop() {
				folder := b.TempDir()
				args := []string{"render", "-o", folder, path}
				if row.mixes != "" {
					args = append(args, "--mix", row.mixes)
				}
				program := exec.Command(os.Args[0], args...)
				program.Env = append(os.Environ(), asProgram+"=1")
				require.NoError(b, program.Run())
				var bytes int64
				for _, content := range entries(b, filepath.Join(folder, "any")) {
					file, err := os.Stat(filepath.Join(folder, "any", content))
					require.NoError(b, err)
					bytes += file.Size()
				}
				b.ReportMetric(float64(size.Bytes)/float64(bytes), "of-disk")
				b.ReportMetric(float64(size.Alone)/float64(program.ProcessState.SysUsage().(*syscall.Rusage).Maxrss<<10), "of-memory")
			}
			b.ReportMetric(size.Time()/(b.Elapsed().Seconds()/float64(b.N)), "of-time")
		})
	}
}
